"""Who is inside, who watches, who answers for the entry, who leads."""

from datetime import date

import pytest
from broken_crew import certificate, in_space, person
from broken_haul import both, nothing
from broken_people import in_crew, same_hours
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.people import inside, leaders
from planbuilder.findings import Finding, Stated, Verdict

OLD = {"issued": date(2024, 1, 20), "expires": date(2025, 1, 20)}
LATER = {"issued": date(2026, 11, 28), "expires": date(2027, 11, 28)}
WRITTEN = "Two-opening procedure EV-12: one call to the leader, nobody leaves the board"
HOURS_OPEN = same_hours(several_spaces=WRITTEN)

# rule: what makes it fire, what leaves it unknown, what lets it rest.
CASES: dict[str, tuple[Break | None, Break | None, Break]] = {
    "plan/no-entry-supervisor": (
        certificate("mirela", "entry-supervisor", **OLD),
        in_space(0, supervisor=None),
        nothing,
    ),
    "plan/no-deputy-leader": (
        in_space(0, deputy_leader="mirela"),
        in_space(0, deputy_leader=None),
        nothing,
    ),
    "plan/leader-hands-on": (in_crew("mirela", "haul"), None, nothing),
    "plan/entrant-in-crew": (in_crew("bode", "haul"), None, nothing),
    "plan/roster-not-stated": (None, in_space(0, roster=None), nothing),
    "plan/attendant-elsewhere": (
        both(HOURS_OPEN, in_crew("tobiah", "caller", number=1)),
        same_hours(),
        HOURS_OPEN,
    ),
}
WARN = ("plan/no-deputy-leader", "plan/leader-hands-on", "plan/roster-not-stated")


def asked(rule: str, *breaks: Break, sample: str = "pump_station") -> list[Finding]:
    return found(plan_with(*breaks, sample=sample), rule)


def because(findings: list[Finding]) -> str:
    said = [one.outcome for one in findings if one.verdict is not Verdict.MEETS]
    return " | ".join(one.because for one in said)  # type: ignore[union-attr]


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(inside, leaders)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, missing, rests = CASES[rule]

    assert worst(asked(rule, rests)) is Verdict.MEETS
    if fires:
        assert worst(asked(rule, fires)) is Verdict.FAILS
    if missing:
        assert worst(asked(rule, missing)) is Verdict.UNKNOWN
        assert all(one.settle_by and one.keys for one in asked(rule, missing))


@pytest.mark.parametrize("rule", CASES)
def test_only_what_the_tool_alone_asks_for_warns(rule: str) -> None:
    fires, missing, _ = CASES[rule]
    open_ones = [one for one in asked(rule, fires or missing or nothing) if one.open]

    assert {one.blocks for one in open_ones} == {rule not in WARN}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (certificate("mirela", "entry-supervisor"), Verdict.UNKNOWN),
        (certificate("mirela", "entry-supervisor", **LATER), Verdict.FAILS),
        (person("mirela", phone=None), Verdict.UNKNOWN),
        (in_space(0, supervisor="osric"), Verdict.UNKNOWN),
    ],
)
def test_a_supervisor_is_trained_on_record_and_within_call(change: Break, verdict: Verdict) -> None:
    osric = lambda data: data["person"].append({"id": "osric", "name": "O. V.", "phone": "1"})  # noqa: E731

    assert worst(asked("plan/no-entry-supervisor", osric, change)) is verdict


def test_a_certificate_to_the_last_day_of_work_is_long_enough_and_a_day_less_is_not() -> None:
    def to(day: int) -> Break:
        return certificate("mirela", "entry-supervisor", expires=date(2026, 12, day))

    assert worst(asked("plan/no-entry-supervisor", to(4))) is Verdict.MEETS
    assert worst(asked("plan/no-entry-supervisor", to(3))) is Verdict.FAILS


def test_height_work_has_no_entry_supervisor() -> None:
    assert asked("plan/no-entry-supervisor", sample="transformer_deck") == []


@pytest.mark.parametrize("who", ["mirela", "dagny"])
def test_a_leader_whom_nobody_can_call_leads_nobody(who: str) -> None:
    assert worst(asked("plan/no-deputy-leader", person(who, phone=None))) is Verdict.UNKNOWN


def test_a_deputy_who_goes_in_may_be_the_casualty() -> None:
    found_ones = asked("plan/no-deputy-leader", in_space(0, deputy_leader="bode"))

    assert worst(found_ones) is Verdict.FAILS
    assert because(found_ones) == "Bode Arkwell, deputy, goes in and may be hurt"


def test_a_leader_may_call_for_help() -> None:
    assert worst(asked("plan/leader-hands-on", in_crew("mirela", "caller"))) is Verdict.MEETS


def test_who_is_inside_is_no_question_where_all_go_in_together() -> None:
    assert asked("plan/roster-not-stated", in_space(0, "task", inside_at_once=2)) == []


def test_other_hours_and_other_attendants_ask_for_no_procedure() -> None:
    other = both(same_hours(), in_space(1, attendant=["junia"]))

    assert asked("plan/attendant-elsewhere") == []
    assert asked("plan/attendant-elsewhere", other) == []


def test_hours_that_are_not_stated_count_as_all_day() -> None:
    findings = asked("plan/attendant-elsewhere", in_space(1, "task", enter_from=None))

    assert {one.space for one in findings} == {"wet-well", "valve-chamber"}
    assert worst(findings) is Verdict.UNKNOWN


def test_a_relief_attendant_who_watches_elsewhere_counts_too() -> None:
    relief = both(same_hours(), in_space(1, attendant=["junia"], relief_attendant="tobiah"))

    assert worst(asked("plan/attendant-elsewhere", relief)) is Verdict.UNKNOWN


def test_a_procedure_does_not_help_whoever_is_inside_the_other_space() -> None:
    goes_in = both(HOURS_OPEN, in_space(1, attendant=["junia"], entrants=["tobiah"]))
    (one,) = [each for each in asked("plan/attendant-elsewhere", goes_in) if each.open]

    assert isinstance(one.outcome, Stated)
    assert one.verdict is Verdict.FAILS
    assert "Tobiah Crane (Valve chamber" in one.outcome.because
