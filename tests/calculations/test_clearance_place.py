"""Support against the opening: worked examples, and shapely as another route."""

import math

import pytest
from shapely import Point, box
from shapely.affinity import rotate, translate

from planbuilder.clearance.place import (
    centring_tolerance_m,
    feet_to_edge_m,
    leg_gap_m,
    nearest_foot_m,
    round_tolerance_m,
    swept_radius_m,
    swing_to_land_rad,
)


def test_a_24_in_opening_leaves_a_large_man_22_mm():
    """R 0.305 m, breadth 0.567 m."""
    assert round_tolerance_m(diameter_m=0.61, breadth_m=0.567, gap_m=0.0) == pytest.approx(0.0215)


@pytest.mark.parametrize(
    ("sides", "off_m"), [((0.9, 0.6), 0.151), ((0.6, 0.6), 0.0165), ((0.7, 0.35), 0.026)]
)
def test_a_body_box_off_centre_by_the_tolerance_just_stays_in_a_rectangle(sides, off_m):
    """The box 0.567 x 0.298 m, both ways round, moved along each side until it touches."""
    tolerance_m = centring_tolerance_m(
        long_side_m=sides[0], short_side_m=sides[1], breadth_m=0.567, depth_m=0.298, gap_m=0.0
    )
    opening = box(-sides[0] / 2, -sides[1] / 2, sides[0] / 2, sides[1] / 2)
    body = box(-0.2835, -0.149, 0.2835, 0.149)

    def stays(off):
        return any(
            all(
                opening.buffer(1e-9).contains(translate(rotate(body, turn), dx, dy))
                for dx, dy in ((off, 0), (0, off))
            )
            for turn in (0, 90)
        )

    assert tolerance_m == pytest.approx(off_m)
    assert stays(tolerance_m)
    assert not stays(tolerance_m + 1e-4)


def test_feet_round_a_square_stand_at_least_as_far_off_as_the_diagonal_says():
    """600 mm square, foot circle 0.7 m, the square turned in steps of a degree."""
    feet = [
        Point(0.7 * math.cos(at), 0.7 * math.sin(at))
        for at in (math.pi / 2, math.pi * 7 / 6, math.pi * 11 / 6)
    ]
    square = box(-0.3, -0.3, 0.3, 0.3)
    least = min(foot.distance(rotate(square, turn)) for turn in range(90) for foot in feet)

    gap_m = feet_to_edge_m(foot_m=0.7, corner_m=math.hypot(0.3, 0.3), off_centre_m=0.0)

    assert gap_m == pytest.approx(least, abs=1e-3)


def test_the_nearest_of_four_feet_is_found():
    feet = [(-0.3, -1.0), (-0.3, 1.0), (1.2, -1.0), (1.2, 1.0)]

    assert nearest_foot_m(feet=feet, over=(0.8, 0.0)) == pytest.approx(math.hypot(0.4, 1.0))


@pytest.mark.parametrize(("at_m", "gap_m"), [(1.2, 0.8660), (1.6, 0.5774), (1.430, 0.70), (2.5, 0)])
def test_two_legs_close_towards_the_head(at_m, gap_m):
    """W24 at 1.6 m: foot circle 1.0 m, head 2.4 m."""
    gap = leg_gap_m(foot_circle_m=1.0, head_m=2.4, at_height_m=at_m)

    assert gap == pytest.approx(gap_m, abs=5e-5 if at_m != 1.430 else 5e-4)


def test_a_boom_of_0_9_m_turns_64_09_deg_to_land():
    """W25: R 0.305, half the casualty 0.35, gap 0.30 m; the landed circle touches the opening."""
    turn_rad = swing_to_land_rad(reach_m=0.9, opening_m=0.305, half_casualty_m=0.35, gap_m=0.30)
    landed = Point(0.9 * math.cos(turn_rad), 0.9 * math.sin(turn_rad))

    assert math.degrees(turn_rad) == pytest.approx(64.09, abs=0.005)
    assert landed.distance(Point(0.9, 0)) - 0.305 - 0.35 == pytest.approx(0.30)


def test_a_boom_too_short_lands_nobody():
    with pytest.raises(ValueError, match="no turn"):
        swing_to_land_rad(reach_m=0.4, opening_m=0.305, half_casualty_m=0.35, gap_m=0.30)


def test_a_casualty_sweeps_half_a_body_beyond_the_reach():
    assert swept_radius_m(reach_m=0.9, half_casualty_m=0.35, gap_m=0.3) == pytest.approx(1.55)
