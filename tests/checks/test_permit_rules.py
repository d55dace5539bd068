"""The entry permit, who says go, and how long the records are kept."""

from typing import Any

import pytest
from broken_haul import both, nothing
from broken_service import leans, place
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks.arrangement import permit
from planbuilder.findings import Verdict
from planbuilder.view.pages import view_of

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
RULE = "plan/permit-not-named"


def unnumbered(data: dict[str, Any]) -> None:
    del space(data)["permit"]["number"]


def profile(name: str) -> Break:
    return lambda data: data["plan"].update(profile=name)


def test_every_rule_has_a_case() -> None:
    assert rules_of(permit) == {RULE}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (nothing, MEETS),
        (unnumbered, UNKNOWN),
        (place(supervisor=None), UNKNOWN),
    ],
)
def test_the_permit_has_a_number_and_a_signer(change: Break, verdict: Verdict) -> None:
    plan = plan_with(change)

    assert worst(found(plan, RULE)) is verdict
    assert any(one.blocks for one in found(plan, RULE)) is (verdict is not MEETS)


def test_where_the_assessment_decides_it_warns() -> None:
    blank = both(unnumbered, profile("uk-gb"))
    findings = [one for one in found(plan_with(blank), RULE) if one.open]

    assert findings
    assert not any(one.blocks for one in findings)


@pytest.mark.parametrize("route", ["alternate-c5", "reclassified-c7"])
def test_a_route_without_permit_asks_for_none(route: str) -> None:
    plan = plan_with(place(entry_route=route))

    assert [one.space for one in found(plan, RULE)] == ["valve-chamber"]
    assert not any("Permit" in row.head for row in view_of(plan).spaces[0].go.rows.rows)


def test_a_height_position_has_no_permit() -> None:
    assert found(plan_with(nothing, sample="transformer_deck"), RULE) == []


def test_the_page_says_what_is_looked_at_and_who_signs() -> None:
    go = view_of(plan_with(leans())).spaces[0].go
    rows = [row.head for row in go.rows.rows]

    assert go.space == "Wet well 2 (PERMIT SPACE WW-2)"
    assert go.signed.rows[0].cells[0].text == "Mirela Tarn"
    assert rows[0] == "Permit P-2026-041 is of today and of this space"
    assert "Tried today, from here, by the means of the plan: 911, Weir rescue 555-0160" in rows
    assert "Each service that is to come says that it can" in rows
    assert any(row.startswith("Drowning: Inflow gate shut and locked") for row in rows)


def test_nobody_named_leaves_the_line_free_and_says_so_in_the_row() -> None:
    blank = both(place(supervisor=None), unnumbered)
    go = view_of(plan_with(blank)).spaces[0].go

    assert go.signed.rows[0].cells[0].line == "go/wet-well/signed/name"
    assert go.rows.rows[0].head.startswith("Permit NOT STATED")


@pytest.mark.parametrize(
    ("rules", "label", "day"),
    [
        ("us-osha-gi", "Keep the permit until", "4 Dec 2027"),
        ("us-osha-constr", "Keep the permit until", "4 Dec 2027"),
        ("ca-federal", "Keep plan and reports until", "4 Dec 2036"),
    ],
)
def test_the_day_until_which_records_are_kept(rules: str, label: str, day: str) -> None:
    """A year after 4 December 2026, by (e)(6) and 1205(f); ten years by 11.13."""
    kept = view_of(plan_with(profile(rules))).spaces[0].go.kept

    assert [(one.label, one.text.partition(" at the least")[0]) for one in kept] == [(label, day)]


def test_a_rule_set_without_a_time_says_so() -> None:
    kept = view_of(plan_with(profile("uk-gb"))).spaces[0].go.kept

    assert [one.text for one in kept] == ["the rule sets in force set no time"]
