"""Room under an obstruction: worked examples, and a turned mast walked through by small steps."""

import math

import pytest
from shapely import Point, box

from planbuilder.clearance.overhead import (
    highest_hook_m,
    raised_tip_m,
    raising_gap_m,
    room_above_head_m,
)


@pytest.mark.parametrize(("clear_m", "most_m"), [(3.0, 2.670), (2.7, 2.370)])
def test_the_hook_stays_below_obstruction_margin_and_head(clear_m, most_m):
    """Worked example: margin 0.15 m, head 0.18 m above the hook point."""
    hook_m = highest_hook_m(
        clear_above_rim_m=clear_m, coaming_m=0.0, head_above_hook_m=0.18, margin_m=0.15
    )

    assert hook_m == pytest.approx(most_m)
    assert room_above_head_m(
        clear_above_rim_m=clear_m, coaming_m=0.0, hook_height_m=hook_m, head_above_hook_m=0.18
    ) == pytest.approx(0.15)


def test_the_tip_of_the_worked_davit_passes_2_563_m_above_the_hinge():
    """W21."""
    tip_m = raised_tip_m(hook_height_m=2.2, head_above_hook_m=0.2, hinge_height_m=0.0, reach_m=0.9)

    assert round(tip_m, 3) == 2.563
    assert tip_m - 2.4 == pytest.approx(0.1632, abs=5e-5)


def test_a_rack_beside_the_hinge_leaves_130_mm_to_its_corner():
    """Worked example: edge 1.0 m beside the hinge, 2.5 m above it: 2.693 m, less 2.563 m."""
    gap_m = raising_gap_m(underside_m=2.5, from_hinge_m=1.0, hinge_height_m=0.0, tip_m=2.563)

    assert gap_m + 2.563 == pytest.approx(2.693, abs=5e-4)
    assert gap_m == pytest.approx(0.130, abs=5e-4)


@pytest.mark.parametrize("beside_m", [0.0, 0.4, 1.5])
def test_the_swept_circle_and_a_rack_drawn_as_shapes(beside_m):
    """Tip circle of 2.563 m about a hinge 0.3 m up; the rack from *beside_m* on, 3.2 m up."""
    swept = Point(0.0, 0.3).buffer(2.563, quad_segs=2000)
    rack = box(beside_m, 3.2, 50.0, 50.0)

    gap_m = raising_gap_m(
        underside_m=3.2, from_hinge_m=beside_m, hinge_height_m=0.3, tip_m=0.3 + 2.563
    )

    assert gap_m == pytest.approx(swept.distance(rack), abs=1e-5)


@pytest.mark.parametrize("hinge_m", [0.0, 0.3, 1.0])
def test_no_step_of_the_turn_lifts_the_tip_higher(hinge_m):
    """The tip (0.8, 2.5 - hinge) turned about the hinge from lying to upright, 0.01 deg a step."""
    start = complex(0.8, 2.5 - hinge_m)
    steps = (start * complex(math.cos(a), math.sin(a)) for a in map(math.radians, range(-90, 91)))
    fine = max(
        (start * complex(math.cos(k * 1e-4), math.sin(k * 1e-4))).imag for k in range(-15708, 15708)
    )

    tip_m = raised_tip_m(
        hook_height_m=2.3, head_above_hook_m=0.2, hinge_height_m=hinge_m, reach_m=0.8
    )

    assert max(one.imag for one in steps) <= tip_m - hinge_m + 1e-9
    assert tip_m - hinge_m == pytest.approx(fine, abs=1e-6)


def test_a_hinge_above_the_mast_is_refused():
    with pytest.raises(ValueError, match="below the top of the mast"):
        raised_tip_m(hook_height_m=1.0, head_above_hook_m=0.0, hinge_height_m=1.2, reach_m=0.5)
