"""Everybody with a part has the plan explained, and signs; the sheet holds the names."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from broken_crew import in_space
from broken_haul import nothing
from broken_people import in_crew, plan_under, rule_entry
from broken_sites import Break, found, plan_with, rules_of, space

from planbuilder.checks.people import briefing
from planbuilder.checks.people.briefing import with_part
from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.view.pages import view_of
from planbuilder.view.sign_off import sign_off

RULE = "plan/briefing-not-signed"
SIGNED = rule_entry("exchange.acknowledged", 'text = "explained and signed by each"', bind="law")
ALL = ["bode", "sunniva", "tobiah", "ines", "dagny", "kester", "mirela"]
HELD = {"by": "mirela", "on": date(2026, 11, 16)}  # the plan was issued on 2 November


def briefings(*entries: dict[str, Any]) -> Break:
    """The briefings of the wet well."""
    return lambda data: space(data).update(briefing=list(entries))


def of(*breaks: Break) -> list[Finding]:
    return [one for one in found(plan_with(*breaks), RULE) if one.space == "wet-well"]


def said(one: Finding) -> str:
    assert not isinstance(one.outcome, Compared)
    return one.outcome.because


def test_the_rule_is_tested_here() -> None:
    assert rules_of(briefing) == {RULE}


@pytest.mark.parametrize(
    ("change", "verdict", "words"),
    [
        (nothing, Verdict.MEETS, "7 have signed, 0 sign before entry"),
        (
            briefings({"by": "mirela", "people": ALL}),
            Verdict.MEETS,
            "0 have signed, 7 sign before entry",
        ),
        (
            briefings({**HELD, "people": ["bode"]}, {"by": "mirela", "people": ALL}),
            Verdict.MEETS,
            "2 have signed, 5 sign before entry",
        ),
        (
            briefings({**HELD, "people": ALL[1:]}),
            Verdict.FAILS,
            "this issue not explained to: Bode Arkwell",
        ),
        (
            in_crew("junia", "caller"),
            Verdict.FAILS,
            "this issue not explained to: Junia Farrow",
        ),
        (
            briefings({**HELD, "on": date(2026, 11, 26), "people": ALL}),
            Verdict.FAILS,
            "dated after the day of the check: 26 Nov 2026",
        ),
        (briefings({**HELD, "on": date(2026, 11, 2), "people": ALL}), Verdict.MEETS, "7 have"),
    ],
)
def test_everybody_with_a_part_is_named(change: Break, verdict: Verdict, words: str) -> None:
    (one,) = of(change)

    assert one.verdict is verdict
    assert said(one).startswith(words)
    assert not one.blocks


def test_what_was_signed_before_this_issue_is_of_another_plan() -> None:
    (one,) = of(briefings({**HELD, "on": date(2026, 11, 1), "people": ALL}))

    assert one.verdict is Verdict.FAILS
    assert said(one).endswith("; before this issue of 2 Nov 2026: 1 Nov 2026")


def test_where_no_rule_set_wants_signatures_the_plan_may_be_silent() -> None:
    assert of(briefings()) == []


def test_where_a_rule_set_wants_them_a_missing_block_blocks(tmp_path: Path) -> None:
    plan = plan_under(tmp_path, SIGNED)
    well, chamber = (
        next(one for one in found(plan, RULE) if one.space == name)
        for name in ("wet-well", "valve-chamber")
    )

    assert well.verdict is Verdict.MEETS
    assert (chamber.verdict, chamber.blocks, chamber.source.clause) == (
        Verdict.UNKNOWN,
        True,
        "3",
    )
    assert plan.status == "NOT READY"


def test_who_is_left_out_blocks_there_too(tmp_path: Path) -> None:
    plan = plan_under(tmp_path, SIGNED, briefings({**HELD, "people": ALL[1:]}))
    (one,) = [each for each in found(plan, RULE) if each.space == "wet-well"]

    assert (one.verdict, one.blocks) == (Verdict.FAILS, True)


def test_everybody_who_stands_in_the_plan_of_the_space_has_a_part() -> None:
    change = in_space(0, relief_attendant="junia", supervisor="corwin")
    scene = plan_with(change).spaces[0].scene

    assert set(with_part(scene)) == {*ALL, "junia", "corwin"}


def test_the_sheet_has_a_line_for_each_with_room_to_sign() -> None:
    table = sign_off(plan_with(briefings({**HELD, "people": ["bode"], "walk_through": True})))
    rows = {(row.head, row.cells[0].text): row.cells[1:] for row in table.rows}
    well = "Wet well 2"

    texts = {who: tuple(cell.text for cell in cells) for who, cells in rows.items()}
    assert texts["Bode Arkwell", well] == ("Mirela Tarn, 16 Nov 2026, walked through", "", "")
    assert texts["Tobiah Crane", well] == ("", "", "")
    assert all(cell.line for cell in rows["Tobiah Crane", well])
    assert len(rows) == len(table.rows)
    assert {who for who, space in rows if space == well} == {
        one.name for one in plan_with().site.person if one.id in ALL
    }


def test_what_the_plan_says_of_its_people_stands_on_its_pages() -> None:
    said = in_space(0, several_spaces="EV-12", aid_reach="3 min")
    live = in_space(0, "task", live_voltage="400 V")
    high = in_space(0, "opening", above_ground="4 ft")
    view = view_of(plan_with(said, live, high))
    facts = {one.label: one.text for one in view.spaces[0].facts}

    assert facts["Who is inside"].startswith("Board at the barrier")
    assert facts["Several spaces"] == "EV-12"
    assert facts["Opening above ground"] == "4 ft"
    assert facts["Live parts"] == "400 V"
    assert facts["First aid"] == "at the casualty in 3 min"
    crew = {row[0]: row[1] for row in view.crew.rows}
    assert "entry supervisor" in crew["Mirela Tarn"]
    assert "deputy leader" in crew["Dagny Ruel"]
