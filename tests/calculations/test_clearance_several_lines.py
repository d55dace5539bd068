"""Several lines in plan: shapely as another route."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString

from planbuilder.clearance.several_lines import distance_m, lines_cross

point = st.tuples(st.floats(-3, 3), st.floats(-3, 3))


@given(points=st.tuples(point, point, point, point))
def test_lines_cross_where_shapely_says_so(points):
    head, end, other_head, other_end = points
    first, second = LineString([head, end]), LineString([other_head, other_end])
    assume(first.length > 0.01 and second.length > 0.01)
    near_m = min(first.distance(LineString([one, one])) for one in (other_head, other_end))
    also_m = min(second.distance(LineString([one, one])) for one in (head, end))
    assume(min(near_m, also_m) > 1e-6)  # touching is judged apart

    assert lines_cross((head, end), (other_head, other_end)) == first.crosses(second)


@given(points=st.tuples(point, point, point, point))
def test_which_line_comes_first_makes_no_difference(points):
    head, end, other_head, other_end = points

    one = lines_cross((head, end), (other_head, other_end))
    assert one == lines_cross((other_head, other_end), (head, end))


@pytest.mark.parametrize(
    ("first", "second", "crosses"),
    [
        (((-1, 0), (1, 0)), ((0, -1), (0, 1)), True),
        (((0, 0), (1, 0)), ((0, 0), (0, 1)), False),  # one head, two ways
        (((0, 0), (1, 0)), ((0, 0), (2, 0)), True),  # one over the other entrant
        (((0, 0), (0, 0)), ((0, 0), (2, 0)), False),  # one hangs straight down
        (((0, 0), (1, 0)), ((0, 1), (0.5, 0)), True),  # an entrant on the other's line
        (((0, 0), (1, 0)), ((0, 1), (1, 1)), False),
        (((0, 0), (1, 0)), ((2, 0), (3, 0)), False),
        (((0, 0), (2, 0)), ((1, 0), (3, 0)), True),  # along each other
    ],
)
def test_lines_that_touch_or_share_a_head(first, second, crosses):
    assert lines_cross(first, second) is crosses


def test_distance_in_plan():
    assert distance_m((0, 0), (0.3, 0.4)) == pytest.approx(math.hypot(0.3, 0.4))
