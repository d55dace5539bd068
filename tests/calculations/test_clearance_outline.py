"""Outlines against shapely: the same shape as a polygon, turned and measured.

Sizes of the worked examples are ANSUR II percentiles in mm, with a set of 300 x 200 mm.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from planbuilder.clearance.outline import (
    Outline,
    enclosing_diameter_m,
    short_side_needed_m,
    width_at_rad,
)

size = st.floats(0.15, 0.9)
set_size = st.floats(0.05, 0.6)
outlines = st.builds(
    Outline, breadth_m=size, depth_m=size, set_width_m=set_size, set_depth_m=set_size
)
bodies = st.builds(
    Outline, breadth_m=size, depth_m=size, set_width_m=st.just(0.0), set_depth_m=st.just(0.0)
)


# Turns of the oracle's sweep: between two of them a side of 1.5 m changes by less than 1 mm.
SWEEP = 5000
SWEEP_SLACK_M = 1e-3
# What the tool itself may be too large by.
OWN_SLACK_M = 1e-3


def body(breadth_mm, depth_mm, set_width_mm=0, set_depth_mm=0):
    return Outline(
        breadth_m=breadth_mm / 1000,
        depth_m=depth_mm / 1000,
        set_width_m=set_width_mm / 1000,
        set_depth_m=set_depth_mm / 1000,
    )


def polygon_of(outline, quarter_segments=200):
    circle = shapely.Point(0, 0).buffer(1, quad_segs=quarter_segments)
    shape = affinity.scale(circle, outline.breadth_m / 2, outline.depth_m / 2)
    if not outline.has_set:
        return shape
    back_m, half_m = -outline.depth_m / 2, outline.set_width_m / 2
    block = shapely.box(-half_m, back_m - outline.set_depth_m, half_m, back_m)
    return shapely.union(shape, block)


def box_sides_m(outline, turns_rad):
    """Both sides of the box round the outline, turned by each of *turns_rad*."""
    corners = np.asarray(polygon_of(outline).convex_hull.exterior.coords)
    along = corners @ np.array([np.cos(turns_rad), np.sin(turns_rad)])
    across = corners @ np.array([-np.sin(turns_rad), np.cos(turns_rad)])
    return np.ptp(along, axis=0), np.ptp(across, axis=0)


def swept_short_side_m(outline, long_side_m):
    """Least second side over all turns at which the first one fits; infinite if none does."""
    along_m, across_m = box_sides_m(outline, np.linspace(0, np.pi, SWEEP))
    return across_m[along_m <= long_side_m].min(initial=np.inf)


@pytest.mark.parametrize(
    ("who", "breadth_mm", "depth_mm", "diameter_mm"),
    [
        ("men P50", 509, 253, 553.3),
        ("men P95", 567, 298, 603.1),
        ("men P99", 593, 316, 625.2),
        ("women P50", 450, 245, 520.6),
        ("women P95", 499, 296, 566.3),
        ("men P50 with 70 mm", 579, 323, 623.3),
        ("men P95 with 70 mm", 637, 368, 673.1),
    ],
)
def test_rescuer_with_a_set_needs_the_round_opening_of_the_worked_example(
    who, breadth_mm, depth_mm, diameter_mm
):
    """W13 (men P95). The 70 mm are added to the diameter, not to body and set: see the end."""
    allowance_mm = 70 if who.endswith("70 mm") else 0
    outline = body(breadth_mm - allowance_mm, depth_mm - allowance_mm, 300, 200)

    needed_mm = enclosing_diameter_m(outline) * 1000 + allowance_mm

    assert round(needed_mm, 1) == diameter_mm


def test_deeper_set_needs_a_wider_opening():
    """Worked example: men P95 with a set 250 mm deep."""
    assert round(enclosing_diameter_m(body(567, 298, 300, 250)) * 1000, 1) == 633.4


@given(outline=st.one_of(outlines, bodies))
@settings(max_examples=50, deadline=None)
def test_round_opening_is_the_smallest_circle_of_shapely(outline):
    radius_m = shapely.minimum_bounding_radius(polygon_of(outline))

    assert enclosing_diameter_m(outline) == pytest.approx(2 * radius_m, rel=1e-5)


@given(outline=st.one_of(outlines, bodies), turn_rad=st.floats(-7, 7))
def test_width_is_that_of_the_turned_polygon(outline, turn_rad):
    assert width_at_rad(outline, turn_rad) == pytest.approx(
        box_sides_m(outline, np.array([turn_rad]))[0][0], rel=1e-5
    )


def test_body_alone_needs_a_round_opening_as_wide_as_it_is():
    assert enclosing_diameter_m(body(637, 368)) == 0.637
    assert enclosing_diameter_m(body(253, 579)) == 0.579


@pytest.mark.parametrize(
    ("breadth_mm", "depth_mm", "square_mm"), [(567, 298, 452.9), (637, 368, 520.2)]
)
def test_large_man_turned_by_45_degrees_passes_the_square_of_the_worked_example(
    breadth_mm, depth_mm, square_mm
):
    """W11 is the first."""
    outline = body(breadth_mm, depth_mm)

    for side_mm, passes in ((square_mm + 0.1, True), (square_mm - 0.1, False)):
        needed_m = short_side_needed_m(outline, long_side_m=side_mm / 1000)
        assert (needed_m <= side_mm / 1000) == passes


def test_body_turns_until_its_box_fits_the_long_side():
    """By hand: the box has the same diagonal at every turn; 250, 600, 650 and 390, 520, 650."""
    needed_m = short_side_needed_m(body(600, 250), long_side_m=0.520)

    assert needed_m == pytest.approx(0.390, abs=1e-12)


@given(outline=st.one_of(outlines, bodies), long_side_m=st.floats(0.1, 1.5))
@settings(max_examples=50, deadline=None)
def test_short_side_is_that_of_a_sweep_over_the_turns(outline, long_side_m):
    slack_m = SWEEP_SLACK_M + OWN_SLACK_M

    needed_m = short_side_needed_m(outline, long_side_m=long_side_m)

    # Either sweep may miss a turn that just fits, so the oracle is asked a little to both sides.
    tight_m = swept_short_side_m(outline, long_side_m - slack_m)
    if needed_m <= long_side_m:
        assert needed_m <= tight_m + slack_m
        assert needed_m >= swept_short_side_m(outline, long_side_m + slack_m) - slack_m
    else:
        assert tight_m > long_side_m - slack_m


@given(outline=outlines, long_side_m=st.floats(0.1, 1.4))
@settings(max_examples=50, deadline=None)
def test_short_side_with_a_set_lets_the_outline_pass_at_some_turn(outline, long_side_m):
    """Never too small: at some turn both sides fit."""
    needed_m = short_side_needed_m(outline, long_side_m=long_side_m)
    turns_rad = (math.pi / 2 * step / 1800 for step in range(1801))
    boxes_m = [
        (width_at_rad(outline, turn), width_at_rad(outline, turn + math.pi / 2))
        for turn in turns_rad
    ]

    assert any(
        wide <= max(long_side_m, needed_m) + 2e-9 and high <= needed_m + 2e-9
        for wide, high in boxes_m
    )


@given(outline=st.one_of(outlines, bodies))
def test_short_side_of_a_very_long_opening_is_the_narrowest_width(outline):
    narrowest_m = min(width_at_rad(outline, math.pi * step / 3600) for step in range(3600))

    assert short_side_needed_m(outline, long_side_m=5) == pytest.approx(narrowest_m, abs=1e-5)


@pytest.mark.parametrize("outline", [body(567, 298), body(567, 298, 300, 200)])
def test_outline_that_passes_at_no_turn_is_given_its_smallest_square(outline):
    square_m = short_side_needed_m(outline, long_side_m=0.40)
    smallest_m = np.maximum(*box_sides_m(outline, np.linspace(0, np.pi / 2, SWEEP))).min()

    assert square_m > 0.40
    assert square_m == pytest.approx(smallest_m, abs=5e-4)


def test_opening_exactly_as_large_as_body_and_set_lets_them_pass():
    """567 mm across, 298 + 200 mm front to back, straight through."""
    needed_m = short_side_needed_m(body(567, 298, 300, 200), long_side_m=0.567)

    assert needed_m == pytest.approx(0.498)


def test_set_behind_the_back_counts_once_front_to_back():
    outline = body(567, 298, 300, 200)

    assert width_at_rad(outline, 0) == pytest.approx(0.567)
    assert width_at_rad(outline, math.pi / 2) == pytest.approx(0.498)


def test_wide_set_on_a_narrow_body_decides_the_width():
    outline = body(300, 250, 500, 100)

    assert width_at_rad(outline, 0) == pytest.approx(0.5)
    assert not body(300, 250).has_set
