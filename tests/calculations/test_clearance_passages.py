"""Ovals, two bodies and packed stretchers, against swept polygons."""

import math
from functools import partial

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from planbuilder.clearance.outline import Outline, enclosing_diameter_m, short_side_needed_m
from planbuilder.clearance.oval import section_short_axis_needed_m, short_axis_needed_m
from planbuilder.clearance.stretcher import (
    longest_past_corner_m,
    longest_round_bend_m,
    longest_that_turns_m,
    section_diameter_m,
    section_short_side_needed_m,
    slot_of_oval_m,
    slot_of_rectangle_m,
    slot_width_needed_m,
)

size = st.floats(0.15, 0.7)


def ellipse(breadth_m, depth_m, centre_m=0.0):
    circle = shapely.Point(0, 0).buffer(1, quad_segs=100)
    return affinity.translate(affinity.scale(circle, breadth_m / 2, depth_m / 2), 0, centre_m)


def polygon_of(outline):
    parts = [ellipse(2 * b, 2 * d, y) for b, d, y in outline.bodies]
    if outline.has_set:
        back_m, half_m = -outline.depth_m / 2, outline.set_width_m / 2
        parts.append(shapely.box(-half_m, back_m - outline.set_depth_m, half_m, back_m))
    return shapely.union_all(parts)


PAIR = Outline(
    breadth_m=0.567,
    depth_m=0.298,
    set_width_m=0.3,
    set_depth_m=0.2,
    front_breadth_m=0.567,
    front_depth_m=0.298,
)


def test_two_large_men_and_a_set_front_to_back():
    """clearance.md O8: 832 mm with little on."""
    assert enclosing_diameter_m(PAIR) == pytest.approx(0.832, abs=5e-4)


@given(
    st.builds(
        Outline,
        breadth_m=size,
        depth_m=size,
        set_width_m=size,
        set_depth_m=size,
        front_breadth_m=size,
        front_depth_m=size,
    )
)
@settings(deadline=None, max_examples=30)
def test_circle_and_square_round_two_bodies_against_shapely(outline):
    polygon = polygon_of(outline)
    circle_m = 2 * shapely.minimum_bounding_radius(polygon)
    long_m = circle_m * 0.9
    corners = np.asarray(polygon.convex_hull.exterior.coords)
    turns = np.linspace(0, np.pi, 2000)
    along = np.ptp(corners @ np.array([np.cos(turns), np.sin(turns)]), axis=0)
    across = np.ptp(corners @ np.array([-np.sin(turns), np.cos(turns)]), axis=0)
    swept_m = across[along <= long_m].min(initial=np.inf)

    assert enclosing_diameter_m(outline) == pytest.approx(circle_m, rel=1e-3)
    needed_m = short_side_needed_m(outline, long_side_m=long_m)
    if needed_m <= long_m:
        assert needed_m == pytest.approx(swept_m, abs=3e-3)


def test_one_body_in_an_oval_lies_along_its_axes():
    body = Outline(breadth_m=0.6, depth_m=0.35, set_width_m=0, set_depth_m=0)

    assert short_axis_needed_m(body, long_axis_m=0.6) == 0.35
    assert short_axis_needed_m(body, long_axis_m=0.59) == 0.6


@pytest.mark.parametrize(
    "outline",
    [PAIR, Outline(breadth_m=0.637, depth_m=0.368, set_width_m=0.3, set_depth_m=0.2)],
    ids=["pair", "set"],
)
@pytest.mark.parametrize("long_axis_m", [0.91, 1.0, 1.2])
def test_short_axis_of_an_oval_is_the_least_over_all_places(outline, long_axis_m):
    needed_m = short_axis_needed_m(outline, long_axis_m=long_axis_m)
    polygon = polygon_of(outline)

    x, y = np.asarray(polygon.convex_hull.exterior.coords).T

    def lies_in(short_m):
        return any(
            np.all((x * 2 / across_m) ** 2 + ((y - centre_m) * 2 / deep_m) ** 2 <= 1)
            for across_m, deep_m in ((long_axis_m, short_m), (short_m, long_axis_m))
            for centre_m in np.linspace(y.min(), y.max(), 2001)
        )

    assert lies_in(needed_m * 1.003)
    assert not lies_in(needed_m * 0.997)


@given(sizes=st.tuples(*[size] * 6), bigger=st.integers(0, 5), long_axis_m=st.floats(0.3, 1.5))
@settings(deadline=None, max_examples=40)
def test_a_bigger_body_never_passes_a_smaller_oval(sizes, bigger, long_axis_m):
    names = (
        "breadth_m",
        "depth_m",
        "set_width_m",
        "set_depth_m",
        "front_breadth_m",
        "front_depth_m",
    )
    larger = [one + 0.05 * (number == bigger) for number, one in enumerate(sizes)]
    usual, worse = (
        short_axis_needed_m(Outline(**dict(zip(names, row, strict=True))), long_axis_m=long_axis_m)
        for row in (sizes, larger)
    )

    assert worse >= usual - 1e-6


@pytest.mark.parametrize(
    ("width_m", "depth_m", "diameter_m"),
    [(0.45, 0.3, 0.5408), (0.5, 0.3, 0.5831), (0.56, 0.3, 0.6353)],
)
def test_packed_section_in_a_round_opening(width_m, depth_m, diameter_m):
    """clearance.md O3."""
    assert section_diameter_m(width_m=width_m, depth_m=depth_m) == pytest.approx(
        diameter_m, abs=1e-4
    )


@pytest.mark.parametrize(("depth_m", "needed_m"), [(0.1, 0.4372), (0.25, None)])
def test_packed_section_in_a_square(depth_m, needed_m):
    """clearance.md O4, W12: 650 x 100 needs 437.2 in 600; 650 x 250 does not pass."""
    found_m = section_short_side_needed_m(width_m=0.65, depth_m=depth_m, long_side_m=0.6)

    if needed_m is None:
        assert found_m == pytest.approx(0.9 / math.sqrt(2))
    else:
        assert found_m == pytest.approx(needed_m, abs=1e-4)


@given(width_m=size, depth_m=size, long_side_m=st.floats(0.2, 0.9))
def test_packed_section_in_a_rectangle_against_a_sweep(width_m, depth_m, long_side_m):
    """R21."""
    turns = np.linspace(0, np.pi / 2, 20001)
    along = width_m * np.cos(turns) + depth_m * np.sin(turns)
    across = width_m * np.sin(turns) + depth_m * np.cos(turns)
    swept_m = across[along <= long_side_m].min(initial=np.inf)
    needed_m = section_short_side_needed_m(
        width_m=width_m, depth_m=depth_m, long_side_m=long_side_m
    )

    if swept_m <= long_side_m - 1e-3:
        assert needed_m == pytest.approx(swept_m, abs=2e-3)
    elif needed_m <= long_side_m - 1e-3:
        assert swept_m <= needed_m + 2e-3


def test_packed_section_in_an_oval_touches_it_with_its_corners():
    needed_m = section_short_axis_needed_m(width_m=0.5, depth_m=0.3, long_axis_m=0.7)
    corners = (0.25 / 0.35) ** 2 + (0.15 / (needed_m / 2)) ** 2

    assert corners == pytest.approx(1)
    assert section_short_axis_needed_m(width_m=0.5, depth_m=0.3, long_axis_m=0.55) == pytest.approx(
        math.hypot(0.5, 0.3)
    )


@pytest.mark.parametrize(
    ("headroom_m", "neck_m", "width_m"),
    [
        (1.5, 0, 0.4667),
        (1.5, 0.3, 0.5384),
        (1.2, 0.3, 0.7312),
        (1.8, 0.3, 0.4015),
        (2.0, 0.3, 0.35),
        (1.329, 0.15, 0.61),
    ],
)
def test_board_up_through_a_roof_slot(headroom_m, neck_m, width_m):
    """clearance.md 3g to 3k, W16 and W17; a slot of 0.35 m by standing it up."""
    found_m = slot_width_needed_m(
        length_m=2.0, thickness_m=0.35, headroom_m=headroom_m, neck_m=neck_m
    )

    assert found_m == pytest.approx(width_m, abs=4e-4)


def test_board_through_a_side_manway():
    """clearance.md N3 and W30: 24 in leaves 0.4118 m, 30 in 0.6149 m; 0.5357 m needed."""
    inch_m = 0.0254
    needed_m = slot_width_needed_m(length_m=2.0, thickness_m=0.35, headroom_m=1.5, neck_m=0.2)
    slot = partial(slot_of_oval_m, breadth_m=0.45)

    assert needed_m == pytest.approx(0.5357, abs=1e-4)
    assert slot(long_axis_m=0.61, short_axis_m=0.61) == pytest.approx(0.4118, abs=1e-4)
    assert slot(long_axis_m=30 * inch_m, short_axis_m=30 * inch_m) == pytest.approx(0.615, abs=1e-3)
    assert slot(long_axis_m=0.45, short_axis_m=0.4) == 0


@pytest.mark.parametrize(("headroom_m", "neck_m"), [(1.5, 0.35), (2.0, 0.0), (1.2, 1.0)])
@pytest.mark.parametrize("slot_m", [0.30, 0.48, 0.61])
def test_longest_that_turns_is_where_the_width_needed_meets_the_slot(headroom_m, neck_m, slot_m):
    room = {"thickness_m": 0.28, "headroom_m": headroom_m, "neck_m": neck_m}

    longest_m = longest_that_turns_m(slot_m=slot_m, **room)

    assert longest_m >= headroom_m - 1e-8
    assert slot_width_needed_m(length_m=longest_m, **room) <= slot_m
    assert slot_width_needed_m(length_m=longest_m + 1e-3, **room) > slot_m


def test_nothing_turns_through_a_slot_that_it_is_too_thick_for():
    with pytest.raises(ValueError, match="does not pass"):
        longest_that_turns_m(slot_m=0.25, thickness_m=0.28, headroom_m=2.0, neck_m=0.1)


def test_slot_of_a_rectangle_takes_the_better_way():
    slot = partial(slot_of_rectangle_m, long_side_m=0.8, short_side_m=0.6)

    assert [slot(breadth_m=one) for one in (0.6, 0.7, 0.9)] == [0.8, 0.6, 0.0]


@pytest.mark.parametrize(
    ("before_m", "after_m", "thickness_m", "degrees", "length_m"),
    [
        (2, 3, 0, 90, 7.02348238),  # published ladder problem
        (5, 3, 0, 90, 11.19),
        (1.0, 0.9, 0.35, 90, 1.985),
        (0.9, 0.9, 0.35, 90, 1.846),
        (1.2, 1.2, 0.35, 90, 2.694),
        (1.2, 1.2, 0.35, 45, 4.582),
    ],
)
def test_board_past_a_corner(before_m, after_m, thickness_m, degrees, length_m):
    """clearance.md 3b to 3f, R10, W14 and W15."""
    found_m = longest_past_corner_m(
        before_m=before_m,
        after_m=after_m,
        turn_rad=math.radians(degrees),
        thickness_m=thickness_m,
    )

    assert found_m == pytest.approx(length_m, rel=5e-4)


def test_board_as_thick_as_the_way_is_refused():
    with pytest.raises(ValueError, match="wider"):
        longest_past_corner_m(before_m=0.3, after_m=1, turn_rad=1, thickness_m=0.35)
    with pytest.raises(ValueError, match="turns"):
        longest_past_corner_m(before_m=1, after_m=1, turn_rad=0, thickness_m=0.35)
    with pytest.raises(ValueError, match="wider"):
        longest_round_bend_m(radius_m=1, width_m=0.3, thickness_m=0.35)


@pytest.mark.parametrize(
    ("radius_m", "width_m", "length_m"),
    [(1.35, 0.9, 2.590), (1.35, 0.7483, 2.204), (0.9, 0.7483, 1.851)],
)
def test_board_round_a_bend(radius_m, width_m, length_m):
    """clearance.md 3m and W18; a round bore of 0.9 m leaves 0.7483 m beside a board of 0.5 m."""
    found_m = longest_round_bend_m(radius_m=radius_m, width_m=width_m, thickness_m=0.35)

    assert found_m == pytest.approx(length_m, rel=5e-4)
