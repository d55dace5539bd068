"""Nobody is counted on twice, and a fallback outlives what the primary method fails by."""

from datetime import date
from typing import Any

import pytest
from broken_crew import DAY, crew_of, person, put
from broken_haul import both, nothing, rig
from broken_sites import Break, found, plan_with, rules_of, space, way, worst

from planbuilder.checks.people import duties
from planbuilder.findings import Compared, Finding, Verdict

TANK = "storage_tank"
LATER = date(2028, 1, 20)


def asked(rule: str, *breaks: Break, sample: str = TANK) -> list[Finding]:
    return found(plan_with(*breaks, sample=sample), rule)


def because(one: Finding) -> str:
    assert not isinstance(one.outcome, Compared)
    return one.outcome.because


def step_by(step_id: str, *people: str, **values: Any) -> Break:
    """Who is kept busy by a step of the primary method."""

    def change(data: dict[str, Any]) -> None:
        one = next(one for one in way(data)["step"] if one["id"] == step_id)
        put(one, by=list(people), **values)

    return change


def crew_without(*people: str) -> Break:
    def change(data: dict[str, Any]) -> None:
        for name in ("primary", "fallback"):
            crew = way(data, name)["crew"]
            way(data, name)["crew"] = [one for one in crew if one["person"] not in people]

    return change


def also(who: str, role: str, name: str = "primary") -> Break:
    return lambda data: way(data, name)["crew"].append({"person": who, "role": role})


def escort(who: str | None) -> Break:
    return lambda data: put(data["site"], escort=who)


def inside(count: int | None, said: str | None = None) -> Break:
    def change(data: dict[str, Any]) -> None:
        put(space(data)["task"], inside_at_once=count)
        put(space(data)["rescue"], second_casualty=said)

    return change


# rule: what makes it fire, with its verdict, and what lets it rest.
CASES: dict[str, tuple[Break, Verdict, Break]] = {
    "plan/escort-counted-twice": (escort("hesper"), Verdict.FAILS, nothing),
    "plan/busy-without-part": (crew_without("wilda"), Verdict.UNKNOWN, nothing),
    "plan/second-casualty": (
        inside(2),
        Verdict.UNKNOWN,
        inside(2, "the nearer one first; the other gets the second air kit"),
    ),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(duties)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_and_rests(rule: str) -> None:
    fires, verdict, rests = CASES[rule]

    assert worst(asked(rule, fires)) is verdict
    assert {one.verdict for one in asked(rule, rests)} == {Verdict.MEETS}


@pytest.mark.parametrize(
    ("who", "duty"),
    [
        ("hesper", "crew, primary"),
        ("tobiah", "attendant"),
        ("bode", "entrant"),
    ],
)
def test_the_escort_cannot_be_at_the_opening_too(who: str, duty: str) -> None:
    (one,) = asked("plan/escort-counted-twice", escort(who))

    assert one.verdict is Verdict.FAILS
    assert duty in because(one)


def test_an_attendant_does_not_walk_to_the_gate_unless_relieved() -> None:
    relieved = both(escort("tobiah"), lambda data: put(space(data), relief_attendant="oswin"))
    rule = "plan/attendant-counted-twice"

    assert [one.blocks for one in asked(rule, escort("tobiah"))] == [True]
    assert worst(asked(rule, relieved)) is Verdict.MEETS
    back = both(relieved, escort("oswin"), lambda data: space(data).update(attendant=["hesper"]))
    assert worst(asked(rule, back)) is Verdict.FAILS


def test_where_nobody_meets_the_ambulance_nobody_knows() -> None:
    assert worst(asked("plan/escort-counted-twice", escort(None))) is Verdict.UNKNOWN
    assert worst(asked("response/site-hard-to-find", escort(None))) is Verdict.UNKNOWN


def test_entrants_who_leave_by_themselves_are_no_strangers() -> None:
    alone = both(
        step_by("reach", "sunniva"),
        lambda data: way(data).update(method="self"),
    )
    asked_of = [
        one
        for one in asked("plan/busy-without-part", step_by("reach", "sunniva"))
        if one.about == "primary"
    ]

    assert worst(asked_of) is Verdict.UNKNOWN
    meets = [one for one in asked("plan/busy-without-part", alone) if one.about == "primary"]
    assert worst(meets) is Verdict.MEETS


def test_one_inside_at_a_time_asks_nothing_of_a_second_casualty() -> None:
    assert asked("plan/second-casualty", inside(1)) == []
    assert worst(asked("plan/second-casualty", inside(None))) is Verdict.UNKNOWN


# ---- a receiver who is the medic ------------------------------------------------------------


def medic_pulls(step_by_medic: str) -> Break:
    """Wilda takes the casualty at the manway and is the medic, who acts in *step_by_medic*."""

    def change(data: dict[str, Any]) -> None:
        crew = [one for one in way(data)["crew"] if one["person"] != "ines"]
        way(data)["crew"] = [*crew, {"person": "wilda", "role": "medic"}]
        steps = {one["id"]: one for one in way(data)["step"]}
        steps["pass-out"]["by"] = ["dagny", "kester", "anselm"]
        take = {"id": "take", "what": "taken", "after": ["drag"], "usual": "2 min"}
        way(data)["step"].append({**take, "by": ["wilda"], "role": "haul"})
        care = {"id": "care", "what": "care", "after": [step_by_medic], "usual": "1 min"}
        way(data)["step"].append({**care, "by": ["wilda"], "role": "medic"})
        steps["hand-over"]["by"] = []

    return change


AID = person(
    "wilda",
    certificate=[
        {"kind": kind, "issued": DAY, "expires": LATER} for kind in ("rescuer", "first-aid", "cpr")
    ],
)


def of_primary(rule: str, *breaks: Break) -> Verdict:
    return worst([one for one in asked(rule, *breaks) if one.about == "primary"])


def test_a_receiver_is_no_medic_at_the_same_time() -> None:
    both_parts = both(
        crew_without("ines"), also("wilda", "medic"), also("wilda", "medic", "fallback"), AID
    )

    assert of_primary("response/roles-not-matched", AID) is Verdict.MEETS
    assert of_primary("response/roles-not-matched", both_parts) in (
        Verdict.FAILS,
        Verdict.UNKNOWN,
    )
    assert of_primary("response/too-few-people", both_parts) is Verdict.FAILS


def test_a_receiver_may_be_the_medic_afterwards() -> None:
    assert of_primary("response/roles-not-matched", medic_pulls("take"), AID) is Verdict.MEETS


def test_those_who_pull_without_a_line_are_counted() -> None:
    """Attendant, leader, 2 in, 2 back-up, medic, caller: 8; and two at the landing table."""
    for one in asked("response/too-few-people"):
        assert isinstance(one.outcome, Compared)
        assert one.outcome.limit.value == 10
        assert "back-up x 2" in one.outcome.limit.source.note


# ---- parts of an entry rescue ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("gone", "named"), [("ines", "medic"), ("hesper", "caller"), ("dagny", None)]
)
def test_each_part_of_an_entry_is_asked_for(gone: str, named: str | None) -> None:
    verdicts = {one.about: one for one in asked("plan/role-not-filled", crew_without(gone))}

    if named is None:  # the other of the pair is still there
        assert verdicts["primary"].verdict is Verdict.MEETS
    else:
        assert verdicts["primary"].verdict is Verdict.UNKNOWN
        assert because(verdicts["primary"]) == f"nobody is named for: {named}"


def raised(data: dict[str, Any]) -> None:
    space(data)["route"][1]["coming_out"] = "raised"


def pulled(data: dict[str, Any]) -> None:
    next(one for one in way(data)["step"] if one["id"] == "drag")["role"] = "haul"


@pytest.mark.parametrize("how", [raised, pulled])
def test_an_entry_that_hauls_has_somebody_to_haul(how: Break) -> None:
    nobody = crew_without("wilda", "anselm")

    assert of_primary("plan/role-not-filled", nobody) is Verdict.MEETS
    assert of_primary("plan/role-not-filled", how) is Verdict.MEETS
    assert of_primary("plan/role-not-filled", nobody, how) is Verdict.UNKNOWN


# ---- fallback -------------------------------------------------------------------------------


def of_wet_well(*breaks: Break) -> Finding:
    return next(
        one
        for one in asked("plan/no-fallback", *breaks, sample="pump_station")
        if one.space == "wet-well"
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (rig("fallback", device="winch-4"), "Winch no. 4"),
        (rig("fallback", support="davit-2"), "Davit"),
    ],
)
def test_a_fallback_on_the_same_device_or_anchor_is_none(change: Break, words: str) -> None:
    one = of_wet_well(change)

    assert of_wet_well().verdict is Verdict.MEETS
    assert one.verdict is Verdict.FAILS
    assert words.lower() in because(one).lower()


def test_the_pair_in_trouble_does_not_go_in_again() -> None:
    roles = [("dagny", "entry-rescuer"), ("petra", "entry-rescuer"), ("rufus", "back-up")]
    (one,) = asked("plan/no-fallback", crew_of("fallback", 0, ("mirela", "leader"), *roles))

    assert one.verdict is Verdict.FAILS
    assert "Dagny Ruel" in because(one)


# ---- words ----------------------------------------------------------------------------------


def test_a_reason_that_nobody_decided_is_not_called_missing() -> None:
    (one,) = asked(
        "plan/no-retrieval-reason", lambda data: way(data).pop("no_retrieval_decided_by")
    )
    (other,) = asked("plan/no-retrieval-reason", lambda data: way(data).pop("no_retrieval_because"))

    assert because(one) == "not stated: who decided that"
    assert because(other) == "not stated: why nobody is pulled out"


def test_an_unknown_depth_is_to_be_measured() -> None:
    (one,) = asked("plan/no-mechanical-device", lambda data: space(data)["shape"].pop("depth"))

    assert one.verdict is Verdict.UNKNOWN
    assert one.settle_by.startswith("Measure the depth")
