"""The place from above in metres: where the site file and the clearance formulas put things."""

from __future__ import annotations

import math

import pytest
from broken_haul import TRIPOD, both, put, rig
from broken_lift import landing
from broken_openings import opening
from broken_sites import Break, found, plan_with

from planbuilder.findings import Compared, Unit
from planbuilder.sketches.place import place_plan
from planbuilder.sketches.shapes import Disc, Pen, Sketch, Stroke

IN, FT = 0.0254, 0.3048


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.4f} {unit}"


def place(*breaks: Break, number: int = 0) -> Sketch:
    """The place of a space's primary method."""
    space = plan_with(*breaks).spaces[number]
    sketch = place_plan(next(space.scene.ways()), metres, space.findings)
    assert sketch is not None
    return sketch


def texts(sketch: Sketch) -> list[str]:
    """Everything that is written on it."""
    return [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]


def strokes(sketch: Sketch, pen: Pen) -> list[Stroke]:
    """Everything drawn by lines with *pen*."""
    return [one for one in sketch.shapes if isinstance(one, Stroke) and one.pen is pen]


def test_the_opening_lies_the_reach_from_the_mast():
    ring = next(one for one in place().shapes if isinstance(one, Disc) and one.pen is Pen.RING)

    assert ring.centre == pytest.approx((30 * IN, 0.0))
    assert ring.radius == pytest.approx(12 * IN)


def test_the_landing_is_drawn_off_the_rim_with_the_place_required():
    """11 ft by 7 ft, 3 ft off a rim that ends 42 in from the mast; 3.2 m by 2 m, 0.6 m off."""
    sketch = place(landing())

    rim = 42 * IN
    stands = [one for one in strokes(sketch, Pen.AVAILABLE) if len(one.points) == 4][-1]
    xs, ys = [x for x, _ in stands.points], [y for _, y in stands.points]
    assert (min(xs), max(xs)) == pytest.approx((rim + 3 * FT, rim + 10 * FT))
    assert max(ys) - min(ys) == pytest.approx(11 * FT)
    need = [one for one in strokes(sketch, Pen.REQUIRED) if one.closed][-1]
    assert min(x for x, _ in need.points) == pytest.approx(rim + 0.6)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (landing(width="6 ft"), "FAILS clearance/landing-too-small"),
        (landing(from_opening="1 ft"), "FAILS clearance/landing-near-opening"),
        (rig(swing_clear_to="4 ft"), "FAILS clearance/boom-sweep-blocked"),
        (rig(off_centre="3 in"), "FAILS clearance/line-off-centre"),
        (rig(swing_from="-45 deg", swing_to="45 deg"), "FAILS clearance/swing-too-short"),
    ],
)
def test_what_fails_is_named_where_it_is_drawn(change, words):
    assert any(words in one for one in texts(place(change)))
    assert not any("FAILS" in one for one in texts(place(landing())))


def test_the_turn_required_is_that_of_the_check():
    outcome = found(plan_with(), "clearance/swing-too-short")[0].outcome
    assert isinstance(outcome, Compared)

    label = next(one for one in place().labels if one.text.startswith("turn required"))

    assert math.atan2(label.at[1], label.at[0]) == pytest.approx(outcome.limit.value)


def test_the_gap_of_the_feet_is_that_of_the_check():
    plan = plan_with(put(*TRIPOD, foot_radius="32 in"))
    space = plan.spaces[1]
    finding = next(one for one in space.findings if one.rule.id == "clearance/feet-near-edge")
    assert isinstance(finding.outcome, Compared)
    sketch = place_plan(next(space.scene.ways()), metres, space.findings)
    assert sketch is not None

    text = next(one.text for one in sketch.labels if one.text.startswith("nearest foot"))

    assert f"{finding.outcome.result.value:.4f}" in text
    assert text.endswith("FAILS clearance/feet-near-edge")


def test_an_oval_keeps_both_axes():
    sketch = place(opening(1, shape="oval", length="30 in", width="24 in"), number=1)

    oval = next(one for one in strokes(sketch, Pen.RING))
    xs, ys = [x for x, _ in oval.points], [y for _, y in oval.points]
    assert max(xs) - min(xs) == pytest.approx(24 * IN)
    assert max(ys) - min(ys) == pytest.approx(30 * IN)


def test_an_opening_without_its_size_is_a_guess():
    sketch = place(opening(diameter=None))

    assert sketch.guesses == ("opening",)


def test_what_the_site_file_does_not_say_is_said():
    said = " ".join(place(both(landing())).notes)

    assert "North is not stated" in said
    assert "side of the opening the landing place lies is not stated" in said
