"""Medical hand-over: sheets, what the hospital is told, hospital and landing place."""

from typing import Any

import pytest
from broken_atmosphere import hazard
from broken_crew import put
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks.people import hand_over
from planbuilder.findings import Verdict
from planbuilder.view.pages import view_of

MEETS, UNKNOWN = Verdict.MEETS, Verdict.UNKNOWN


def site(**values: Any) -> Break:
    return lambda data: put(data["site"], **values)


# rule: what leaves it unknown, and whether that blocks.
CASES: dict[str, tuple[Break, bool]] = {
    "plan/no-data-sheet": (hazard(sheet=None), True),
    "plan/exposure-not-told": (hazard(tell_hospital=None), False),
    "plan/no-hospital": (site(hospital=None), False),
    "plan/no-landing-place": (site(landing_place=None), False),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(hand_over)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_and_rests(rule: str) -> None:
    missing, blocks = CASES[rule]
    rows = found(plan_with(missing), rule)

    assert worst(rows) is UNKNOWN
    assert any(one.blocks for one in rows) is blocks
    assert worst(found(plan_with(), rule)) is MEETS


def test_a_tank_without_any_substance_needs_no_sheet() -> None:
    """Air without oxygen is no substance, a fall or a drowning neither."""
    assert found(plan_with(sample="storage_tank"), "plan/no-data-sheet") == []


@pytest.mark.parametrize(
    "kind", ["inert-gas", "carbon-monoxide", "flammable-gas", "other-toxic-gas"]
)
def test_each_substance_wants_its_own_sheet(kind: str) -> None:
    row = {"kind": kind, "control": "Monitor"}
    plan = plan_with(lambda data: space(data)["hazard"].append(row))

    rows = {one.about: one for one in found(plan, "plan/no-data-sheet")}

    assert rows[kind.replace("-", " ")].blocks
    assert rows["hydrogen sulfide"].verdict is MEETS


def test_the_page_of_the_space_says_what_goes_along_and_what_to_tell() -> None:
    """Not the leader's card: that holds one side, and nobody carries a sheet in a lift."""
    facts = {one.label: one.text for one in view_of(plan_with()).spaces[0].facts}

    told = facts["For the hospital"]

    assert told.startswith("hydrogen sulfide: Sheet on hydrogen sulfide")
    assert "Hydrogen sulfide, highest reading" in told
