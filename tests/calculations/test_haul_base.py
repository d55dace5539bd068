"""Load line inside the base: worked examples, and shapely with a fine sweep as oracle."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from planbuilder.haul.base import line_inside_base_m, worst_swing_rad

# 1.5 m by 1.2 m with the mast in the middle.
RECTANGLE = [(0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.75, -0.60)]
LEFT = {"swing_from_rad": math.pi / 2, "swing_to_rad": math.pi / 2}
ALL_ROUND = {"swing_from_rad": 0.0, "swing_to_rad": math.tau}
# Sweep steps of the oracle, and how far the line can move between two of them at 1.5 m reach.
SWEEP = 2000
SWEEP_SLACK_M = 1.5 * math.tau / SWEEP

# To the millimetre, as feet are measured; binary noise has a test of its own.
coordinate = st.integers(-1200, 1200).map(lambda millimetres: millimetres / 1000)
feet_strategy = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=7, unique=True)
angle = st.floats(-math.pi, math.pi)


def swept_hooks(reach_m, swing_from_rad, swing_to_rad):
    angles = np.linspace(swing_from_rad, swing_to_rad, SWEEP + 1)
    return shapely.points(reach_m * np.cos(angles), reach_m * np.sin(angles))


@pytest.mark.parametrize(("reach_m", "inside_m"), [(0.90, -0.30), (0.55, 0.05)])
def test_hook_to_the_left_of_the_rectangle_is_inside_by_its_half_width_less_reach(
    reach_m, inside_m
):
    """Worked example, by hand: half of 1.2 m less the reach."""
    inside = line_inside_base_m(feet=RECTANGLE, reach_m=reach_m, **LEFT)

    assert inside == pytest.approx(inside_m)


def test_full_swing_is_worst_across_the_narrow_side():
    assert line_inside_base_m(feet=RECTANGLE, reach_m=0.55, **ALL_ROUND) == pytest.approx(0.05)
    worst_rad = worst_swing_rad(feet=RECTANGLE, reach_m=0.55, **ALL_ROUND)

    assert abs(math.sin(worst_rad)) == pytest.approx(1)


def test_short_swing_is_worst_at_its_end_nearest_to_an_edge():
    """From 0 to 60 degrees the left edge is nearest at 60: 0.60 - 0.55 sin 60."""
    swing = {"swing_from_rad": 0.0, "swing_to_rad": math.radians(60)}

    inside = line_inside_base_m(feet=RECTANGLE, reach_m=0.55, **swing)

    assert inside == pytest.approx(0.60 - 0.55 * math.sqrt(3) / 2)
    assert worst_swing_rad(feet=RECTANGLE, reach_m=0.55, **swing) == pytest.approx(math.radians(60))


def test_swing_given_past_half_a_turn_finds_the_same_edge():
    """From 200 to 300 degrees the right edge is met at 270, which is also -90."""
    swing = {"swing_from_rad": math.radians(200), "swing_to_rad": math.radians(300)}

    worst_rad = worst_swing_rad(feet=RECTANGLE, reach_m=0.55, **swing)

    assert worst_rad == pytest.approx(math.radians(270))


@given(feet=feet_strategy, reach_m=st.floats(0.05, 1.5), start=angle, span=st.floats(0, math.tau))
def test_margin_is_that_of_shapely_over_a_fine_sweep(feet, reach_m, start, span):
    base = shapely.MultiPoint(feet).convex_hull
    assume(base.area > 0.01)
    hooks = swept_hooks(reach_m, start, start + span)

    inside_m = line_inside_base_m(
        feet=feet, reach_m=reach_m, swing_from_rad=start, swing_to_rad=start + span
    )

    outside_m = shapely.distance(base, hooks).max()
    if outside_m == 0:
        swept_m = shapely.distance(base.exterior, hooks).min()
        assert swept_m - SWEEP_SLACK_M <= inside_m <= swept_m + 1e-9
    else:
        # Past a corner the distance to the base is longer than the one past the edge's line.
        assert -outside_m - SWEEP_SLACK_M <= inside_m < 1e-9


@given(feet=feet_strategy, reach_m=st.floats(0.05, 1.5), start=angle, span=st.floats(0, math.tau))
def test_worst_angle_lies_in_the_swing_and_gives_the_margin(feet, reach_m, start, span):
    assume(shapely.MultiPoint(feet).convex_hull.area > 0.01)
    swing = {"swing_from_rad": start, "swing_to_rad": start + span}

    worst_rad = worst_swing_rad(feet=feet, reach_m=reach_m, **swing)
    there_only = {"swing_from_rad": worst_rad, "swing_to_rad": worst_rad}

    assert start - 1e-9 <= worst_rad <= start + span + 1e-9
    assert line_inside_base_m(feet=feet, reach_m=reach_m, **there_only) == pytest.approx(
        line_inside_base_m(feet=feet, reach_m=reach_m, **swing), abs=1e-9
    )


def test_a_foot_between_the_others_changes_nothing():
    with_inner = [*RECTANGLE, (0.1, 0.2)]

    assert line_inside_base_m(feet=with_inner, reach_m=0.5, **ALL_ROUND) == line_inside_base_m(
        feet=RECTANGLE, reach_m=0.5, **ALL_ROUND
    )


def test_binary_fractions_of_a_foot_make_no_new_corner():
    """0.1 + 0.2 is not 0.3: without care the edge between the two points anywhere."""
    plain = [(0.3, 0.5), (0.3, -0.5), (-0.6, -0.5), (-0.6, 0.5)]
    noisy = [(0.1 + 0.2, 0.5), (0.3, -0.5), (0.3, 0.5 - 1e-16), (-0.6, -0.5), (-0.6, 0.5)]
    noisy += [(-0.6 - 1e-16, 0.0), (1e-300, 0.5)]

    assert line_inside_base_m(feet=noisy, reach_m=0.2, **ALL_ROUND) == pytest.approx(
        line_inside_base_m(feet=plain, reach_m=0.2, **ALL_ROUND), abs=1e-9
    )


def test_order_of_the_feet_does_not_matter():
    crossed = [RECTANGLE[0], RECTANGLE[2], RECTANGLE[1], RECTANGLE[3]]

    assert line_inside_base_m(feet=crossed, reach_m=0.5, **ALL_ROUND) == line_inside_base_m(
        feet=RECTANGLE, reach_m=0.5, **ALL_ROUND
    )


def test_mast_at_the_front_of_its_base_is_outside_at_once():
    """All feet behind the mast: the hook is outside by its full reach."""
    behind = [(0.0, 0.5), (0.0, -0.5), (-1.0, 0.0)]
    forward = {"swing_from_rad": 0.0, "swing_to_rad": 0.0}

    assert line_inside_base_m(feet=behind, reach_m=0.4, **forward) == pytest.approx(-0.4)


@pytest.mark.parametrize(
    "feet",
    [
        pytest.param([], id="no feet"),
        pytest.param([(0.0, 0.0), (1.0, 0.0)], id="two feet"),
        pytest.param([(0.1, 0.1), (0.2, 0.2), (0.3, 0.3)], id="three in a line"),
        pytest.param([(0.1, 0.3), (0.2, 0.6), (0.3, 0.9), (0.7, 2.1)], id="four in a line"),
        pytest.param([(0.5, 0.0), (0.5, 0.0), (-0.5, 0.0)], id="one foot named twice"),
    ],
)
def test_feet_that_span_no_area_are_refused(feet):
    with pytest.raises(ValueError, match="three feet or more that are not in one line, got"):
        line_inside_base_m(feet=feet, reach_m=0.5, **ALL_ROUND)


def test_swing_that_runs_backwards_is_refused():
    with pytest.raises(ValueError, match=r"must not end before it starts, got 1 to 0\.5 rad"):
        worst_swing_rad(feet=RECTANGLE, reach_m=0.5, swing_from_rad=1.0, swing_to_rad=0.5)
