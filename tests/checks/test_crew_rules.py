"""People: enough of them, trained and fit, each place with one who can take it."""

from datetime import date
from typing import Any

import pytest
from broken_crew import (
    VALVE_CHAMBER,
    certificate,
    crew_of,
    entry_first,
    in_space,
    person,
    step_of,
)
from broken_haul import both, nothing
from broken_sites import Break, entry, found, plan_with, rules_of, way, worst

from planbuilder.checks.people import crew, training
from planbuilder.findings import Compared, Finding, Stated, Verdict

CREW = (
    ("mirela", "leader"),
    ("dagny", "entry-rescuer"),
    ("bode", "entry-rescuer"),
    ("kester", "back-up"),
    ("junia", "caller"),
    ("ines", "medic"),
)
OLD = {"issued": date(2024, 1, 20), "expires": date(2025, 1, 20)}


def without(*people: str) -> Break:
    return crew_of("fallback", VALVE_CHAMBER, *(one for one in CREW if one[0] not in people))


# rule: what makes it fire, what leaves it unknown.
CASES: dict[str, tuple[Break, Break | None]] = {
    "response/too-few-people": (without("bode"), None),
    "response/roles-not-matched": (
        person("kester", duties=[{"what": "crane operator", "can_leave": False}]),
        certificate("kester", "fit-test"),
    ),
    "response/not-trained-for-role": (
        certificate("dagny", "rescuer", **OLD),
        certificate("dagny", "rescuer"),
    ),
    "response/fit-test-missing": (
        certificate("kester", "fit-test", issued=date(2025, 11, 29)),
        certificate("kester", "medical"),
    ),
}


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def outcome_of(rule: str, about: str, *breaks: Break, where: str = "valve-chamber") -> Any:
    return next(
        one.outcome for one in asked(rule, *breaks) if one.space == where and one.about == about
    )


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(crew, training)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(asked(rule, nothing)) is Verdict.MEETS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_and_keeps_the_plan_from_being_ready(rule: str) -> None:
    plan = plan_with(CASES[rule][0])

    assert worst(found(plan, rule)) is Verdict.FAILS
    assert plan.status == "NOT READY"


@pytest.mark.parametrize("rule", [one for one, (_, missing) in CASES.items() if missing])
def test_what_is_not_on_record_is_unknown(rule: str) -> None:
    _, missing = CASES[rule]
    assert missing is not None

    findings = [one for one in asked(rule, missing) if one.verdict is Verdict.UNKNOWN]

    assert findings
    assert all(one.settle_by and one.keys and one.blocks for one in findings)


def test_an_entry_rescue_wants_seven_people_and_one_more_where_the_air_can_kill() -> None:
    bad_air = in_space(
        VALVE_CHAMBER, hazard=[{"kind": "oxygen-deficiency", "level": "12 %", "control": "-"}]
    )

    plain = outcome_of("response/too-few-people", "fallback")
    worse = outcome_of("response/too-few-people", "fallback", bad_air)

    assert (plain.result.value, plain.limit.value) == (7, 7)
    assert (worse.result.value, worse.limit.value) == (7, 8)
    assert worse.verdict is Verdict.FAILS


def test_two_named_for_a_place_each_but_one_person_short_are_told() -> None:
    """Three wear sets for four places: a head count of all would say enough."""
    bad_air = in_space(
        VALVE_CHAMBER, hazard=[{"kind": "oxygen-deficiency", "level": "12 %", "control": "-"}]
    )
    names = crew_of("fallback", VALVE_CHAMBER, *CREW, ("bode", "back-up"), ("dagny", "back-up"))

    outcome = outcome_of("response/roles-not-matched", "fallback", bad_air, names)

    assert isinstance(outcome, Stated)
    assert "back-up x 2" in outcome.because
    assert "entry rescuer x 2" in outcome.because
    assert "contend for 3" in outcome.because


def twice() -> Break:
    """Junia calls, and is medic in place of Ines."""
    names = [one for one in CREW if one[0] != "ines"]
    return crew_of("fallback", VALVE_CHAMBER, *names, ("junia", "medic"))


AID = both(
    certificate("junia", "cpr"),
    lambda data: entry(data, "person", "junia")["certificate"].append(
        {"kind": "cpr", "issued": date(2026, 1, 20), "expires": date(2028, 1, 20)}
    ),
)


def calls_then_treats(data: dict[str, Any]) -> None:
    """Two more steps in the fallback: a call at once, and care once the casualty is out."""
    steps = way(data, "fallback", VALVE_CHAMBER)["step"]
    times = {"usual": "20 s", "one_in_ten": "30 s", "by": ["junia"]}
    steps.append({"id": "call", "what": "call", "after": ["recognise"], "role": "caller", **times})
    steps.append({"id": "care", "what": "care", "after": ["lift-out"], "role": "medic", **times})


@pytest.mark.parametrize(
    ("steps", "verdict"),
    [
        (nothing, Verdict.UNKNOWN),
        (calls_then_treats, Verdict.MEETS),
    ],
)
def test_two_parts_one_after_the_other_need_a_step_for_each(steps: Break, verdict: Verdict) -> None:
    outcome = outcome_of("response/roles-not-matched", "fallback", twice(), AID, steps)

    assert outcome.verdict is verdict


def test_steps_that_do_not_say_for_which_part_count_for_both() -> None:
    unsaid = [
        step_of("fallback", VALVE_CHAMBER, name, role=None, by=["junia"])
        for name in ("reach", "lift-out")
    ]

    outcome = outcome_of("response/roles-not-matched", "fallback", twice(), AID, *unsaid)

    assert outcome.verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    "change",
    [
        in_space(VALVE_CHAMBER, entrants=["sunniva", "bode"]),
        person("bode", shift_starts="13:30"),
        person("bode", shift_ends="14:00"),
        person("bode", duties=[{"what": "drives the crane", "can_leave": False}]),
        certificate("bode", "rescuer", **OLD),
        certificate("bode", "medical", **OLD),
    ],
)
def test_who_is_inside_away_tied_or_not_fit_fills_no_place(change: Break) -> None:
    outcome = outcome_of("response/roles-not-matched", "fallback", change)

    assert outcome.verdict is Verdict.FAILS


def test_who_can_leave_another_duty_is_free() -> None:
    free = person("bode", duties=[{"what": "checks tools", "can_leave": True}])

    assert outcome_of("response/roles-not-matched", "fallback", free).verdict is Verdict.MEETS


def test_an_attendant_who_hauls_leaves_the_opening_alone() -> None:
    hauls = crew_of("primary", VALVE_CHAMBER, ("mirela", "leader"), ("tobiah", "haul"))
    relief = in_space(VALVE_CHAMBER, relief_attendant="kester")
    trained = both(relief, certificate("kester", "rescuer", kind="attendant"))

    alone = outcome_of("response/too-few-people", "primary", hauls)
    relieved = outcome_of("response/too-few-people", "primary", hauls, trained)

    assert alone.verdict is Verdict.FAILS
    assert relieved.verdict is Verdict.MEETS


def test_numbers_that_a_named_person_changed_are_used() -> None:
    def changed(data: dict[str, Any]) -> None:
        data["override"] = [
            {
                "what": "entry-rescuers",
                "value": "1",
                "reason": "room for one",
                "by": "O. V.",
                "on": date(2026, 11, 2),
            }
        ]

    outcome = outcome_of("response/too-few-people", "fallback", without("bode"), changed)

    assert isinstance(outcome, Compared)
    assert (outcome.result.value, outcome.limit.value) == (6, 6)


@pytest.mark.parametrize("who", [one for one, _ in CREW])
def test_nobody_can_be_spared(who: str) -> None:
    outcome = outcome_of("response/too-few-people", "fallback", without(who))

    assert outcome.verdict is Verdict.FAILS


def test_entry_first_asks_the_same() -> None:
    plan = plan_with(entry_first)

    assert worst(found(plan, "response/too-few-people")) is Verdict.MEETS
    assert worst(found(plan, "response/roles-not-matched")) is Verdict.MEETS


@pytest.mark.parametrize(
    ("who", "kind"),
    [("tobiah", "attendant"), ("sunniva", "entrant"), ("dagny", "first-aid"), ("dagny", "cpr")],
)
def test_each_part_asks_for_its_own_training(who: str, kind: str) -> None:
    findings = asked("response/not-trained-for-role", certificate(who, kind))

    assert worst(findings) is Verdict.UNKNOWN
