"""Roof, raising arc, rings, chain of the hook and what reaches into a shaft, in metres."""

from __future__ import annotations

import math

import pytest
from broken_haul import both, rig
from broken_lift import MIDDLE, ladder, roof
from broken_openings import opening
from broken_sites import Break, found, plan_with

from planbuilder.findings import Compared, Unit
from planbuilder.sketches.section import section
from planbuilder.sketches.shapes import Lane, Pen, Sketch, Stroke

IN, FT = 0.0254, 0.3048


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.4f} {unit}"


def drawn(*breaks: Break) -> Sketch:
    """The section of the wet well's primary method, with its findings."""
    space = plan_with(*breaks).spaces[0]
    return section(next(space.scene.ways()), metres, space.findings)


def texts(sketch: Sketch) -> list[str]:
    """Everything that is written on it."""
    return [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]


def strokes(sketch: Sketch, pen: Pen) -> list[Stroke]:
    """Everything drawn by lines with *pen*."""
    return [one for one in sketch.shapes if isinstance(one, Stroke) and one.pen is pen]


def test_the_chain_runs_without_a_gap_from_the_hook_to_the_feet():
    sketch = drawn()

    names = ("hook block", "connector", "dorsal")
    rows = [next(one for one in sketch.dimensions if one.label.startswith(n)) for n in names]
    assert rows[0].end == pytest.approx(100 * IN)
    assert [one.start for one in rows[:-1]] == pytest.approx([one.end for one in rows[1:]])
    feet = next(one for one in sketch.dimensions if one.label.startswith("feet above"))
    assert rows[-1].start == pytest.approx(feet.end)


def test_feet_that_stay_below_the_rim_say_so():
    sketch = drawn(rig(hook_height="7 ft 6 in"))

    feet = next(one for one in sketch.dimensions if one.label.startswith("feet BELOW rim"))
    assert "FAILS clearance/feet-below-rim" in feet.label
    assert feet.end == pytest.approx(6 * IN)
    assert feet.fails


def test_the_roof_hangs_over_the_rim_with_its_margin_dashed():
    """20 ft above a rim of 6 in; the margin is 0.15 m."""
    sketch = drawn(roof())

    slab = strokes(sketch, Pen.SOLID)[0]
    level = 20 * FT + 6 * IN
    assert min(y for _, y in slab.points) == pytest.approx(level)
    assert strokes(sketch, Pen.REQUIRED)[0].points[0][1] == pytest.approx(level - 0.15)


def test_the_arc_ends_at_the_boom_and_peaks_where_the_check_says():
    """Mast 8 ft above a hinge at 1 ft, arm of 30 in: the end passes hypot(96, 30) in above it."""
    sketch = drawn(roof())

    arc = next(one for one in strokes(sketch, Pen.REQUIRED) if len(one.points) > 10)
    assert arc.points[0] == pytest.approx((0.0, 108 * IN))
    label = next(one for one in sketch.labels if one.text.startswith("highest while raised"))
    assert label.at == pytest.approx((-30 * IN, 12 * IN + math.hypot(96 * IN, 30 * IN)))


@pytest.mark.parametrize(
    ("height", "rule"),
    [
        ("8 ft 6 in", "FAILS clearance/rig-under-overhead"),
        ("9 ft 3 in", "FAILS clearance/raising-hits-overhead"),
    ],
)
def test_what_does_not_fit_under_the_roof_names_its_rule(height, rule):
    assert any(rule in one for one in texts(drawn(roof(clear_height=height))))
    assert not any("FAILS" in one for one in texts(drawn(roof())))


def test_the_smallest_ring_is_drawn_at_its_size_and_named():
    ring = [{"name": "neck", "shape": "round", "diameter": "19 in"}]
    sketch = drawn(opening(neck="14 in", ring=ring))

    label = next(one for one in sketch.labels if one.text.startswith("smallest ring: neck"))
    assert label.at == pytest.approx((9.5 * IN, -14 * IN))
    assert "FAILS clearance/casualty-too-wide" in label.text
    neck = next(one for one in sketch.dimensions if one.label.startswith("neck"))
    assert neck.lane is Lane.LEFT
    assert (neck.start, neck.end) == pytest.approx((-14 * IN, 0.0))


def test_a_ladder_reaches_in_from_the_wall_and_the_tightest_is_marked():
    """8 in from a wall 48 in off the middle; the line hangs 6 in to the left of it."""
    sketch = drawn(ladder(towards="0 deg"), rig(plumb_at=["-6 in", "0 in"]))

    one = next(s for s in strokes(sketch, Pen.SOLID) if max(y for _, y in s.points) == 0)
    xs = [x for x, _ in one.points]
    assert (min(xs), max(xs)) == pytest.approx((46 * IN, 54 * IN))
    assert any("Ladder" in text and "TIGHTEST" in text for text in texts(sketch))


def test_the_room_required_down_the_shaft_is_dashed_round_the_line():
    change = both(ladder(reaches_in="40 in"), rig(plumb_at=MIDDLE))
    outcome = found(plan_with(change), "clearance/shaft-tight")[0].outcome
    assert isinstance(outcome, Compared)

    sketch = drawn(change)

    sides = sorted(one.points[0][0] for one in strokes(sketch, Pen.REQUIRED))
    assert sides == pytest.approx([-outcome.limit.value, outcome.limit.value])
    assert any("FAILS clearance/shaft-tight" in one for one in texts(sketch))


def test_a_shaft_whose_line_is_not_placed_is_unknown_in_words():
    assert any("UNKNOWN clearance/shaft-tight" in one for one in drawn(ladder()).notes)
