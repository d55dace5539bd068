"""Gaps on the ground in plan: by hand, and against points strewn over the shapes."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from planbuilder.clearance.ground_plan import (
    base_apart_m,
    circle_apart_m,
    least_inside_m,
    moved,
    nearest_outside_m,
    outlines_apart_m,
    path_apart_m,
)

SQUARE = ((-0.3, -0.3), (0.3, -0.3), (0.3, 0.3), (-0.3, 0.3))


def at(x, y, half=0.1):
    """A small square."""
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def circle(radius_m, count, first_rad=0.0):
    turns = [first_rad + 2 * math.pi * one / count for one in range(count)]
    return [(radius_m * math.cos(turn), radius_m * math.sin(turn)) for turn in turns]


def test_three_feet_round_a_600_mm_square_stand_0_40_0_31_and_0_31_m_off():
    """Worked case of section 4.3: foot circle 0.7 m, set-back 0.30 m, just kept."""
    feet = circle(0.7, 3, math.pi / 2)
    gaps = [nearest_outside_m([one], SQUARE) for one in feet]

    assert sorted(gaps) == pytest.approx([0.31, 0.31, 0.40], abs=5e-3)
    assert nearest_outside_m(feet, SQUARE) == min(gaps) > 0.30


def test_a_base_centre_stands_0_855_m_from_the_centre_of_a_24_in_opening():
    """R_op 0.305, set-back 0.30, half base 0.25 m: front edge of the base at 0.605 m."""
    base = moved(
        [(-0.25, -0.4), (0.25, -0.4), (0.25, 0.4), (-0.25, 0.4)], turn_rad=0, to=(0.855, 0)
    )

    assert circle_apart_m(0.305, base) == pytest.approx(0.30)


def test_feet_are_turned_first_and_moved_then():
    """A quarter turn takes (1, 0) to (0, 1)."""
    (foot,) = moved([(1.0, 0.0)], turn_rad=math.pi / 2, to=(2.0, 3.0))

    assert foot == pytest.approx((2.0, 4.0))


@pytest.mark.parametrize(
    ("outline", "gap_m"), [(at(1.0, 0.0), 0.6), (at(1.0, 1.0), 0.6 * math.sqrt(2)), (at(0, 0), 0)]
)
def test_outlines_by_hand(outline, gap_m):
    assert outlines_apart_m(SQUARE, outline) == pytest.approx(gap_m)
    assert outlines_apart_m(outline, SQUARE) == pytest.approx(gap_m)


def test_a_thing_between_the_feet_lies_in_the_base_but_off_every_foot():
    feet = circle(1.0, 3)

    assert base_apart_m(feet, at(0.0, 0.0)) == 0
    assert nearest_outside_m(feet, at(0.0, 0.0)) > 0.8


def test_a_foot_inside_counts_by_its_distance_from_the_edge():
    assert least_inside_m([(0.0, 0.0), (0.2, 0.0)], SQUARE) == pytest.approx(0.1)
    assert nearest_outside_m([(0.0, 0.0)], SQUARE) == pytest.approx(-0.3)
    assert least_inside_m([(0.0, 0.0), (0.5, 0.0)], SQUARE) == pytest.approx(-0.2)


@pytest.mark.parametrize(
    "outline", [((0, 0), (1, 1), (1, 0), (0, 1)), ((0, 0), (1, 0), (2, 0))], ids=["bow", "flat"]
)
def test_an_outline_out_of_turn_is_refused(outline):
    for measure in (outlines_apart_m, base_apart_m, nearest_outside_m, least_inside_m):
        with pytest.raises(ValueError, match="corners in turn"):
            measure(SQUARE, outline)


# ---- the sweep -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outline", "gap_m"),
    [
        (at(2.0, 0.0), 1.0),  # ahead of the arc: 1.9 m less a radius of 0.9 m
        (at(0.0, 0.0), 0.9 - 0.1 * math.sqrt(2)),  # at the mast: to its corner
        (at(-2.0, 0.0), math.hypot(1.9, 0.9 - 0.1)),  # behind: to the ends of the arc
        (at(0.9, 0.0), 0.0),
    ],
    ids=["ahead", "mast", "behind", "on it"],
)
def test_the_path_of_a_hook_by_hand(outline, gap_m):
    """Mast at the origin, reach 0.9 m, a quarter turn to each side."""
    path_m = path_apart_m(
        mast=(0.0, 0.0),
        radius_m=0.9,
        from_rad=-math.pi / 2,
        to_rad=math.pi / 2,
        outline=outline,
    )

    assert path_m == pytest.approx(gap_m, abs=1e-4)
    assert path_m <= gap_m + 1e-12


@settings(max_examples=60, deadline=None)
@given(
    x=st.floats(-3, 3),
    y=st.floats(-3, 3),
    turns=st.tuples(st.floats(-3, 3), st.floats(-3, 3)),
    reach_m=st.floats(0.3, 2),
)
def test_the_path_is_met_by_a_casualty_who_is_moved_along_it(x, y, turns, reach_m):
    """A round casualty at each of many turns: the nearest one leaves the gap of the path."""
    assume(abs(turns[0] - turns[1]) > 0.01)
    from_rad, to_rad = sorted(turns)
    thing = Polygon(at(x, y, 0.2))
    along = np.linspace(from_rad, to_rad, 4001)
    swept = [Point(reach_m * math.cos(one), reach_m * math.sin(one)) for one in along]
    nearest_m = min(thing.distance(one) for one in swept)

    path_m = path_apart_m(
        mast=(0.0, 0.0), radius_m=reach_m, from_rad=from_rad, to_rad=to_rad, outline=at(x, y, 0.2)
    )

    assert path_m == pytest.approx(nearest_m, abs=2e-3)
    assert path_m <= nearest_m + 1e-9


def test_a_swept_ring_reaches_half_a_casualty_and_the_gap_beside_the_path():
    """The buffered arc meets a thing just where the path is as near as the buffer is wide."""
    turns = np.linspace(-1.0, 1.0, 2001)
    arc = LineString([(0.9 * math.cos(one), 0.9 * math.sin(one)) for one in turns])
    for x, meets in ((1.54, True), (1.56, False)):
        thing = ((x, -0.1), (x + 0.2, -0.1), (x + 0.2, 0.1), (x, 0.1))
        path_m = path_apart_m(
            mast=(0.0, 0.0), radius_m=0.9, from_rad=-1.0, to_rad=1.0, outline=thing
        )
        assert arc.buffer(0.65, quad_segs=64).intersects(Polygon(thing)) is meets
        assert (path_m < 0.65) is meets


# ---- strewn points -------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(x=st.floats(-2, 2), y=st.floats(-2, 2), half=st.floats(0.05, 0.5))
def test_no_strewn_point_of_two_boxes_is_nearer_than_the_gap(x, y, half):
    """Boxes by their axes: the gap of intervals each way, by Pythagoras."""
    across, along = (max(0.0, abs(one) - half - 0.3) for one in (x, y))

    assert outlines_apart_m(SQUARE, at(x, y, half)) == pytest.approx(math.hypot(across, along))


@settings(max_examples=40, deadline=None)
@given(turn=st.floats(-4, 4), x=st.floats(-2, 2), y=st.floats(-2, 2))
def test_turning_and_moving_both_changes_no_gap(turn, x, y):
    """Three feet and a thing, moved together."""
    feet, thing = circle(0.8, 3), at(1.5, 0.4)

    both = (moved(one, turn_rad=turn, to=(x, y)) for one in (feet, thing))

    assert base_apart_m(*both) == pytest.approx(base_apart_m(feet, thing), abs=1e-9)


@pytest.mark.parametrize("x", [0.2, 0.5, 1.0])
def test_a_circle_and_a_box(x):
    """A box from *x* outwards, and a circle of 0.305 m."""
    thing = box(x, -1, x + 1, 1).exterior.coords[:-1]

    assert circle_apart_m(0.305, thing) == pytest.approx(max(0.0, x - 0.305))
