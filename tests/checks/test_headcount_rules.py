"""So many helpers as the plan says it needs, each trained again within the interval."""

from datetime import date
from pathlib import Path

import pytest
from broken_crew import certificate, in_space, person
from broken_haul import nothing
from broken_people import plan_under, rule_entry
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.people import headcount
from planbuilder.findings import Compared, Finding, Verdict

HELPERS, REFRESHED = "plan/helpers-not-stated", "plan/refresher-overdue"
NUMBER = rule_entry("people.helper_number", 'text = "the procedure says how many"', bind="law")
YEARLY = rule_entry("training.refresher_months", 'value = 12\nunit = "months"\nop = "<="')


def needs(count: int | None) -> Break:
    return in_space(0, "rescue", "primary", people_needed=count)


def trained(on: date, kind: str = "rescuer") -> Break:
    """The last training of Ines, who hauls: her only one as a rescuer."""
    return certificate("ines", "rescuer", issued=on, kind=kind, expires=date(2027, 12, 31))


def under(folder: Path, rule: str, *breaks: Break) -> list[Finding]:
    """What is found in the wet well under the quarry's rules."""
    findings = found(plan_under(folder, NUMBER + YEARLY, *ALL_REFRESHED, *breaks), rule)
    return [one for one in findings if one.space == "wet-well"]


ALL_REFRESHED = [
    lambda data, who=who: next(p for p in data["person"] if p["id"] == who)["certificate"].append(
        {"kind": "refresher", "issued": date(2026, 1, 20), "expires": date(2027, 1, 20)}
    )
    for who in ("mirela", "dagny", "kester")
]


def test_every_rule_is_tested_here() -> None:
    assert rules_of(headcount) == {HELPERS, REFRESHED}


def test_nothing_is_asked_where_no_rule_set_and_no_plan_says_a_number() -> None:
    assert found(plan_with(), REFRESHED) == []
    assert found(plan_with(needs(None)), HELPERS) == []


def test_five_outside_answer_for_five_and_not_for_six() -> None:
    """Attendant, leader, haul operator, medic and caller of the wet well."""
    (five,), (six,) = found(plan_with(needs(5)), HELPERS), found(plan_with(needs(6)), HELPERS)

    assert isinstance(five.outcome, Compared)
    assert (five.outcome.result.value, five.verdict, six.verdict) == (
        5,
        Verdict.MEETS,
        Verdict.FAILS,
    )
    assert not six.blocks


def test_who_goes_in_is_no_helper() -> None:
    goes = in_space(0, entrants=["bode", "ines"])

    assert worst(found(plan_with(needs(5), goes), HELPERS)) is Verdict.FAILS


def test_a_rule_set_that_wants_the_number_makes_it_block(tmp_path: Path) -> None:
    blank = under(tmp_path, HELPERS, needs(None))
    short = under(tmp_path, HELPERS, needs(6))

    assert worst(blank) is Verdict.UNKNOWN
    assert [one.blocks for one in short if one.verdict is Verdict.FAILS] == [True]
    assert blank[0].source.clause == "3"


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (nothing, Verdict.MEETS),
        (trained(date(2025, 12, 4)), Verdict.MEETS),  # work ends on 4 December 2026
        (trained(date(2025, 12, 3)), Verdict.FAILS),
        (trained(date(2026, 11, 26)), Verdict.UNKNOWN),  # the day after the check
        (certificate("ines", "rescuer"), Verdict.UNKNOWN),
        (trained(date(2026, 11, 25), kind="refresher"), Verdict.MEETS),
        (person("ines", certificate=[]), Verdict.UNKNOWN),
    ],
)
def test_training_is_refreshed_to_the_last_day_of_work(
    tmp_path: Path, change: Break, verdict: Verdict
) -> None:
    findings = under(tmp_path, REFRESHED, change)

    assert worst(findings) is verdict
    assert {one.blocks for one in findings if one.open} <= {True}  # the quarry's interval binds


def test_who_is_late_is_named_with_the_day(tmp_path: Path) -> None:
    (one,) = under(tmp_path, REFRESHED, trained(date(2025, 12, 3)))

    assert not isinstance(one.outcome, Compared)
    assert one.outcome.because == "every 12 months; late: Ines Holloway (due 3 Dec 2026)"
