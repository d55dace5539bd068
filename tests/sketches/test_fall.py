"""The fall column in metres: pieces that add up to what the check asks for, levels where said.

Worked by hand for a lanyard of 1.2 m from an anchor 1.5 m up, D-ring 1.45 m up, offset 0: free
fall 1.2 - 0.05 = 1.15 m.
"""

from __future__ import annotations

import math

import pytest
from broken_fall import falling, ledge, on_grab, on_lanyard
from broken_sites import Break, found, plan_with

from planbuilder.findings import Compared, Unit
from planbuilder.sketches.fall import fall_column
from planbuilder.sketches.fall_numbers import Column, column
from planbuilder.sketches.shapes import Dimension, Pen, Sketch, Stroke

KINDS = {
    "self-retracting line": falling(offset="0.5 m"),
    "lanyard": on_lanyard(offset="0.6 m"),
    "whole body": on_lanyard(counted_by="whole-body"),
    "rope grab": on_grab(offset="0.4 m"),
}


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.4f} {unit}"


def numbers(change: Break) -> Column:
    """The numbers of the wet well's fall."""
    scene = plan_with(change).spaces[0].scene
    assert scene.space.fall is not None
    found_ = column(scene, scene.space.fall)
    assert isinstance(found_, Column)
    return found_


def drawn(change: Break) -> Sketch:
    """The sketch of the wet well's fall, with its findings."""
    space = plan_with(change).spaces[0]
    sketch = fall_column(space.scene, metres, space.findings)
    assert sketch is not None
    return sketch


def texts(sketch: Sketch) -> list[str]:
    """Everything that is written on it."""
    return [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]


@pytest.mark.parametrize("kind", KINDS)
def test_the_pieces_end_where_the_check_says_that_the_fall_ends(kind):
    plan = plan_with(KINDS[kind])
    outcome = found(plan, "clearance/fall-hits-something")[0].outcome
    assert isinstance(outcome, Compared)

    one = numbers(KINDS[kind])

    end = one.top_m - sum(length for _, length in one.pieces)
    assert end == pytest.approx(-outcome.result.value)
    assert one.level_m == outcome.limit.value


def test_the_free_fall_runs_from_the_dring_to_where_the_lanyard_is_taut():
    sketch = drawn(on_lanyard())

    row = next(one for one in sketch.dimensions if one.label.startswith("free fall"))
    assert (row.start, row.end) == pytest.approx((0.3, 1.45))


def test_the_swing_turns_about_the_anchor_at_the_length_of_the_taut_line():
    """4 m under the anchor and 3 m aside: a line of 5 m, a drop of 1 m."""
    one = numbers(falling(anchor_height="5.45 m", dring_height="1.45 m", offset="3 m"))

    assert one.drop_m == pytest.approx(1.0)
    assert one.angle_rad == pytest.approx(math.atan(3 / 4))
    sketch = drawn(falling(anchor_height="5.45 m", dring_height="1.45 m", offset="3 m"))
    arc = next(s for s in sketch.shapes if isinstance(s, Stroke) and len(s.points) > 10)
    assert {round(math.dist(p, (0.0, 5.45)), 9) for p in arc.points} == {5.0}
    assert arc.points[-1] == pytest.approx((3.0, 1.45))


def test_what_is_needed_is_dashed_and_what_there_is_solid():
    sketch = drawn(on_lanyard())

    pieces = [one for one in sketch.dimensions if one.required]
    assert len(pieces) == len([one for _, one in numbers(on_lanyard()).pieces if one > 0])
    free = next(one for one in sketch.dimensions if one.label.startswith("free height"))
    assert not free.required
    assert (free.start, free.end) == pytest.approx((-4.2, 0.0))


def test_a_fall_that_hits_something_says_so_with_its_rule():
    sketch = drawn(on_lanyard(below="2 m"))

    row = next(one for one in sketch.dimensions if one.label.startswith("free height"))
    assert row.label.endswith("FAILS clearance/fall-hits-something")
    assert row.fails
    assert not any("FAILS" in one for one in texts(drawn(on_lanyard())))


def test_an_obstacle_stands_where_it_is_and_names_the_swing_that_meets_it():
    sketch = drawn(on_lanyard(offset="0.8 m", obstacle=ledge(aside="-0.9 m", below="0.2 m")))

    label = next(one for one in sketch.labels if one.text.startswith("the ledge"))
    assert label.at == pytest.approx((-0.9, -0.2))


@pytest.mark.parametrize("gone", ["anchor_height", "dring_height", "offset", "below"])
def test_a_fall_that_is_not_measured_is_a_guess_and_unknown(gone):
    sketch = drawn(falling(**{gone: None}))

    assert gone.replace("_", " ") in sketch.guesses[0]
    assert sketch.dimensions == ()
    assert all(one.pen is Pen.GUESS for one in sketch.shapes)
    assert "UNKNOWN clearance/fall-hits-something" in texts(sketch)[0]


def test_no_dimension_of_a_fall_is_empty():
    for change in KINDS.values():
        rows: tuple[Dimension, ...] = drawn(change).dimensions
        assert all(abs(one.end - one.start) > 0 for one in rows)


def test_without_fall_arrest_there_is_no_column():
    space = plan_with(lambda data: data["space"][0].pop("fall")).spaces[0]

    assert fall_column(space.scene, metres, space.findings) is None
