"""Rules on the line to a casualty and its column: each fires, rests and says unknown."""

import math

import pytest
from broken_haul import both, nothing, rig
from broken_lift import opening
from broken_line import CASES, at, dragged, lies
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks import RULES
from planbuilder.checks.room import lift_off, off_plumb
from planbuilder.findings import Compared, Finding, Verdict, Weight

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]


def test_every_rule_is_here() -> None:
    assert rules_of(lift_off, off_plumb) == set(CASES)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].fires), rule)) is FAILS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", [one for one in CASES if CASES[one].unknown])
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    findings = found(plan_with(CASES[rule].unknown or nothing), rule)
    unknown = [one for one in findings if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys and all(one.keys) for one in unknown)


@pytest.mark.parametrize("rule", BLOCKING)
def test_a_blocking_rule_keeps_the_plan_from_being_ready(rule: str) -> None:
    plan = plan_with(CASES[rule].fires)

    assert plan.status == "NOT READY"
    assert any(one.blocks for one in found(plan, rule))


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("how", ["fires", "rests"])
def test_the_printed_formula_gives_the_result(rule: str, how: str) -> None:
    rows = [one.outcome for one in found(plan_with(getattr(CASES[rule], how)), rule)]

    for row in (one for one in rows if isinstance(one, Compared)):
        values = {one.symbol: one.value for one in row.inputs}
        assert len(values) == len(row.inputs)
        assert work_out(row.formula, values) == pytest.approx(row.result.value, rel=1e-9)


# ---- a casualty aside ----------------------------------------------------------------------------


RIM = "clearance/line-on-rim"


def row_of(rule: str, change: Break = nothing) -> Finding:
    """The finding of the wet well's primary method."""
    rows = [one for one in found(plan_with(change), rule) if one.space == "wet-well"]
    return next(one for one in rows if one.about.startswith("primary"))


def result(rule: str, change: Break = nothing) -> float:
    outcome = row_of(rule, change).outcome
    assert isinstance(outcome, Compared)
    return outcome.result.value


def test_the_drag_that_clears_the_rim_clears_it() -> None:
    """By hand: 0.2548 m of room, 2.794 of 8.7408 m down: 4 ft less 0.7971 m are 0.4221 m."""
    assert "Drag the casualty 0.42 m" in row_of(RIM, lies("4 ft")).settle_by
    assert row_of(RIM, both(lies("4 ft"), dragged("0.423 m"))).verdict is MEETS
    assert row_of(RIM, both(lies("4 ft"), dragged("0.421 m"))).verdict is FAILS


def test_a_longer_neck_brings_the_rim_nearer_to_the_line() -> None:
    assert result(RIM, opening(neck="0 in")) < result(RIM, opening(neck="20 in"))


def test_a_floor_no_wider_than_the_opening_asks_nothing() -> None:
    def narrow(data):
        data["space"][0]["shape"]["inside_width"] = "24 in"

    rows = found(plan_with(narrow, at(lies_off=None)), RIM)

    assert [one for one in rows if one.space == "wet-well"] == []


def test_a_side_manway_asks_nothing() -> None:
    assert found(plan_with(sample="storage_tank"), RIM) == []


def test_a_drag_does_not_spare_the_friction_over_the_rim() -> None:
    plan = plan_with(lies("6 ft"), dragged("6 ft"))

    assert worst(found(plan, "clearance/rim-friction-not-counted")) is FAILS
    assert worst(found(plan, RIM)) is MEETS


def test_a_hook_off_the_centre_counts_against_the_room() -> None:
    for rule in (RIM, "clearance/swings-at-lift-off"):
        assert result(rule) < result(rule, rig(off_centre="2 in"))


def test_a_tag_line_holds_whom_one_person_can_hold() -> None:
    """W tan of the angle: 2 ft of 8.74 m are well below 225 N, 9 ft above it."""
    swings, tag = "clearance/swings-at-lift-off", rig(tag_line=True)

    assert row_of(swings, lies("2 ft")).verdict is FAILS
    assert row_of(swings, both(lies("2 ft"), tag)).verdict is MEETS
    assert row_of(swings, both(lies("9 ft"), tag)).verdict is FAILS
    assert row_of(swings, both(at(lies_off=None), tag)).verdict is UNKNOWN


@settings(max_examples=15, deadline=None)
@given(near=st.floats(0, 3), more=st.floats(0, 2))
def test_farther_aside_never_helps(near: float, more: float) -> None:
    for rule in CASES:
        rows = [found(plan_with(lies(f"{off:.4f} m")), rule) for off in (near, near + more)]
        before, after = ([WORST_FIRST.index(one.verdict) for one in row] for row in rows)
        assert min(after, default=math.inf) <= min(before, default=math.inf)
