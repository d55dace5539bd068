"""A crawled stretch against boxes laid out flat, and a pipe against what two bodies cannot pass."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.clearance.crawlway import beside_width_m, flat_height_m, flat_width_m
from planbuilder.clearance.outline import Outline, enclosing_diameter_m

size = st.floats(0.15, 0.7)


@given(size, size, size, size, st.floats(0.001, 0.2))
def test_flat_sizes_are_those_of_the_box_round_body_and_set(
    breadth_m, depth_m, set_width_m, set_depth_m, allowance_m
):
    body = shapely.box(-breadth_m / 2, 0, breadth_m / 2, depth_m)
    on_back = shapely.box(-set_width_m / 2, depth_m, set_width_m / 2, depth_m + set_depth_m)
    left, bottom, right, top = shapely.union(body, on_back).buffer(allowance_m / 2).bounds

    assert flat_width_m(
        breadth_m=breadth_m, set_width_m=set_width_m, allowance_m=allowance_m
    ) == pytest.approx(right - left)
    assert flat_height_m(
        depth_m=depth_m, set_depth_m=set_depth_m, allowance_m=allowance_m
    ) == pytest.approx(top - bottom)


@given(size, size, st.floats(0.001, 0.2))
def test_two_side_by_side_are_two_boxes_in_a_row(breadth_m, other_m, allowance_m):
    first = shapely.box(0, 0, breadth_m, 1).buffer(allowance_m / 2)
    second = shapely.box(0, 0, other_m, 1).buffer(allowance_m / 2)
    row_m = sum(one.bounds[2] - one.bounds[0] for one in (first, second))

    found_m = beside_width_m(breadth_m=breadth_m, other_m=other_m, allowance_m=allowance_m)
    assert found_m == pytest.approx(row_m)


@given(size, size)
def test_two_depths_are_never_room_enough_in_a_pipe(breadth_m, depth_m):
    """clearance.md N1 says when nobody passes for certain; between that and the circle, neither."""
    pair = Outline(
        breadth_m=breadth_m,
        depth_m=depth_m,
        set_width_m=0,
        set_depth_m=0,
        front_breadth_m=breadth_m,
        front_depth_m=depth_m,
    )

    assert enclosing_diameter_m(pair) >= 2 * depth_m - 1e-9
