"""Rules on the line to a casualty and its column: each fires, rests and says unknown."""

import math
from typing import Any

import pytest
from broken_haul import both, nothing, rig
from broken_lift import opening
from broken_line import ALONG, CASES, at, dragged, hose, ladder, lies, two_lines
from broken_sites import WORST_FIRST, Break, entry, found, plan_with, rules_of, way, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks import RULES
from planbuilder.checks.room import hoses, ladders, lift_off, off_plumb, several_lines
from planbuilder.findings import Compared, Finding, Stated, Verdict, Weight

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]


def test_every_rule_is_here() -> None:
    assert rules_of(hoses, ladders, lift_off, off_plumb, several_lines) == set(CASES)


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
ASIDE = rules_of(lift_off, off_plumb)


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

    assert row_of(swings, both(lies("2 ft"), rig(tag_line=None))).verdict is FAILS
    assert row_of(swings, both(lies("2 ft"), tag)).verdict is MEETS
    assert row_of(swings, both(lies("9 ft"), tag)).verdict is FAILS
    assert row_of(swings, both(at(lies_off=None), tag)).verdict is UNKNOWN


@settings(max_examples=15, deadline=None)
@given(near=st.floats(0, 3), more=st.floats(0, 2))
def test_farther_aside_never_helps(near: float, more: float) -> None:
    for rule in ASIDE:
        rows = [found(plan_with(lies(f"{off:.4f} m")), rule) for off in (near, near + more)]
        before, after = ([WORST_FIRST.index(one.verdict) for one in row] for row in rows)
        assert min(after, default=math.inf) <= min(before, default=math.inf)


# ---- ladder, cage and well -----------------------------------------------------------------------


def unmeasured(data: dict[str, Any]) -> None:
    """Nobody of the site is measured, so that the 95th percentile of men counts."""
    for person in data["person"]:
        for name in ("shoulder_breadth", "body_depth"):
            person.pop(name, None)


def left_m(rule: str, about: str, *changes: Break) -> float:
    """What cage or well leaves, clothing and movement (70 mm) not counted."""
    rows = found(plan_with(unmeasured, *changes), rule)
    (outcome,) = [one.outcome for one in rows if one.about == f"primary, {about}"]
    assert isinstance(outcome, Compared)
    return outcome.limit.value - outcome.result.value + 0.070


def test_a_cage_of_27_inches_leaves_the_printed_room() -> None:
    """Worked: 59.4 mm each side of a large man; casualty and rescuer front to back leave 89.8."""
    one, two = "clearance/cage-too-tight", "clearance/cage-blocks-pair"

    assert left_m(one, "Bode Arkwell, width", ladder()) == pytest.approx(2 * 0.0594, abs=1e-4)
    assert left_m(two, "depth", ladder(), ALONG) == pytest.approx(0.0898, abs=1e-4)


def test_a_rescuer_in_a_set_needs_the_depth_of_both() -> None:
    """Worked: 685.8 mm less 498 mm of body and set leave 187.8 mm."""
    chosen = both(
        lambda data: way(data).update(breathing_set="set"),
        lambda data: way(data)["crew"].append({"person": "ines", "role": "entry-rescuer"}),
        lambda data: entry(data, "equipment", "set").update(depth="200 mm"),
    )
    row = "Ines Holloway as rescuer, depth"

    assert left_m("clearance/cage-too-tight", row, ladder(), chosen) == pytest.approx(
        0.1878, abs=1e-4
    )


def test_a_lift_beside_the_cage_asks_for_no_room_in_it() -> None:
    assert found(plan_with(ladder(lift_inside=False)), "clearance/cage-too-tight") == []
    assert found(plan_with(ladder(guard="none")), "clearance/cage-too-tight") == []


@pytest.mark.published
@pytest.mark.parametrize(
    ("guard", "size", "verdict"),
    [("cage", "685.8 mm", MEETS), ("cage", "685 mm", FAILS), ("well", "29.9 in", FAILS)],
)
def test_published_clear_width_of_cage_and_well(guard: str, size: str, verdict: Verdict) -> None:
    """WAC 296-876-60070 and -60075: a cage is 27 in wide or more, a well 30 in."""
    plan = plan_with(ladder(guard=guard, guard_width=size))
    rows = found(plan, "clearance/cage-off-published")

    assert [one.verdict for one in rows if one.about == "primary, width"] == [verdict]


@pytest.mark.published
@pytest.mark.parametrize(("size", "verdict"), [("26.9 in", FAILS), ("30.1 in", FAILS)])
def test_published_depth_of_a_cage(size: str, verdict: Verdict) -> None:
    """WAC 296-876-60070: from 27 to 30 in from the centre of the rungs."""
    rows = found(plan_with(ladder(guard_depth=size)), "clearance/cage-off-published")

    assert worst(rows) is verdict


def test_everything_that_leaves_too_little_room_is_named_by_depth() -> None:
    ledges = [
        {
            "name": name,
            "from_depth": f"{top} m",
            "to_depth": f"{top + 0.5} m",
            "reaches_in": "40 in",
            "towards": towards,
        }
        for name, top, towards in (("Baffle", 3.0, "0 deg"), ("Shelf", 1.0, "90 deg"))
    ]
    plan = plan_with(at(obstruction=ledges), rig(plumb_at=["0 in", "0 in"]))
    row = next(one for one in found(plan, "clearance/shaft-tight") if one.about == "primary")

    named = "Shelf from 1.00 to 1.50 m down; Baffle from 3.00 to 3.50 m down"
    assert named in row.settle_by


# ---- hoses, spin, several lines ------------------------------------------------------------------


def test_a_hose_through_another_opening_leaves_the_whole_of_this_one() -> None:
    rule = "clearance/hose-in-column"

    assert result(rule, hose()) == pytest.approx(0.4064)  # 24 in less 8 in
    assert row_of(rule, hose(through="another-opening")).verdict is MEETS


def test_where_nothing_catches_and_no_line_hangs_beside_a_spin_is_no_matter() -> None:
    alone = both(rig(backup=None, tag_line=None), rig("fallback", backup=None, tag_line=None))
    rows = found(plan_with(alone), "clearance/casualty-spins")

    assert [one for one in rows if one.space == "wet-well"] == []


def test_one_person_inside_has_no_lines_to_cross() -> None:
    assert found(plan_with(), "clearance/lines-cross") == []


def test_two_inside_on_lines_are_asked_where_they_are() -> None:
    plan = plan_with(lambda data: data["space"][0]["task"].update(inside_at_once=2))

    assert worst(found(plan, "clearance/lines-cross")) is UNKNOWN


def test_whoever_crosses_is_named() -> None:
    (row,) = found(plan_with(CASES["clearance/lines-cross"].fires), "clearance/lines-cross")

    assert isinstance(row.outcome, Stated)
    assert row.outcome.because == "the lines of Bode Arkwell and Sunniva Pell cross"


WORSE = {
    "wider hose": ("hose-in-column", lambda v: hose(width=f"{v:.4f} m")),
    "narrower cage": ("cage-too-tight", lambda v: ladder(guard_width=f"{3 - v:.4f} m")),
    "shallower cage": (
        "cage-blocks-pair",
        lambda v: both(ladder(guard_depth=f"{3 - v:.4f} m"), ALONG),
    ),
    "shorter ladder": ("ladder-ends-short", lambda v: ladder(to_depth=f"{7 - v:.4f} m")),
    "heads nearer": ("lines-on-one-head", lambda v: two_lines(head=[f"{3 - v:.4f} m", "0 in"])),
    "more turns": ("lines-wound", lambda v: two_lines(turned=f"{120 * v:.2f} deg")),
}


@pytest.mark.parametrize("name", WORSE)
@settings(max_examples=8, deadline=None)
@given(low=st.floats(0.01, 2.9), more=st.floats(0, 2.9))
def test_worse_never_helps(name: str, low: float, more: float) -> None:
    rule, change = WORSE[name]
    before, after = (
        worst(found(plan_with(change(value)), f"clearance/{rule}"))
        for value in (low, min(2.95, low + more))
    )

    assert WORST_FIRST.index(after) <= WORST_FIRST.index(before)
