"""Fall clearance: worked examples, derived and cross-checked.

sympy proves that the two ways of counting the room agree.
"""

import math

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    hanging_by_dring_m,
    hanging_by_whole_body_m,
    lanyard_clearance_below_anchor_m,
    lanyard_free_fall_m,
    lowest_anchor_m,
    lowest_grab_m,
    lowest_retractor_anchor_m,
    retractor_clearance_m,
    retractor_distance_m,
    rope_grab_free_fall_m,
    rope_stretch_m,
)

# Harness stretch, D-ring above the soles, margin.
BODY = {
    "hanging_m": hanging_by_dring_m(harness_stretch_m=0.30, hanging_dring_m=1.5),
    "margin_m": 0.90,
}
FOOT_M = 0.3048


@pytest.mark.parametrize(
    ("anchor_m", "dring_m", "deceleration_m", "fall_m", "surface_m", "below_anchor_m"),
    [
        pytest.param(1.5, 1.5, 1.07, 1.800, 4.070, 5.570, id="W01, anchor level with the D-ring"),
        pytest.param(2.4, 1.5, 1.07, 0.900, 3.170, 5.570, id="W02, anchor overhead"),
        pytest.param(0.0, 1.5, 1.52, 3.300, 6.020, 6.020, id="W03, anchor at the feet"),
        pytest.param(1.5, 0.9, 1.07, 1.200, 4.070, 5.570, id="W04, kneeling"),
    ],
)
def test_lanyard_of_1_8_m_needs_the_room_of_the_worked_example(
    anchor_m, dring_m, deceleration_m, fall_m, surface_m, below_anchor_m
):
    free_fall_m = lanyard_free_fall_m(
        connector_m=1.8, offset_m=0, anchor_height_m=anchor_m, dring_height_m=dring_m
    )
    below_m = lanyard_clearance_below_anchor_m(
        connector_m=1.8, deceleration_m=deceleration_m, **BODY
    )

    assert round(free_fall_m, 3) == fall_m
    assert round(below_m, 3) == below_anchor_m
    assert (
        round(clearance_below_surface_m(below_anchor_m=below_m, anchor_height_m=anchor_m), 3)
        == surface_m
    )


def test_room_below_the_surface_is_also_the_sum_along_the_fall():
    """Free fall, deceleration, stretch, margin and what the posture gained, for any values."""
    connector, decel, stretch, hanging, margin, anchor, start = sympy.symbols("L d s h m a p")
    below = lanyard_clearance_below_anchor_m(
        connector_m=connector,
        deceleration_m=decel,
        hanging_m=hanging_by_dring_m(harness_stretch_m=stretch, hanging_dring_m=hanging),
        margin_m=margin,
    )
    along = (connector - (anchor - start)) + decel + stretch + margin + (hanging - start)

    surface = clearance_below_surface_m(below_anchor_m=below, anchor_height_m=anchor)

    assert sympy.simplify(surface - along) == 0


def test_six_foot_lanyard_at_the_d_ring_needs_17_5_feet_below_it():
    """R17, arithmetic: 6 + 3.5 + 1 + 5 + 2 ft; recalled, the document's own sum was not seen."""
    below_m = lanyard_clearance_below_anchor_m(
        connector_m=6 * FOOT_M,
        deceleration_m=3.5 * FOOT_M,
        hanging_m=hanging_by_dring_m(harness_stretch_m=1 * FOOT_M, hanging_dring_m=5 * FOOT_M),
        margin_m=2 * FOOT_M,
    )
    surface_m = clearance_below_surface_m(below_anchor_m=below_m, anchor_height_m=5 * FOOT_M)

    assert below_m / FOOT_M == pytest.approx(17.5)
    assert surface_m / FOOT_M == pytest.approx(12.5)


def test_lowest_anchor_leaves_just_the_room_there_is():
    """By hand: 1.8 + 1.07 + 0.30 + 1.5 + 0.90 = 5.57 needed, 4.0 there, so 1.57 up."""
    lowest_m = lowest_anchor_m(connector_m=1.8, deceleration_m=1.07, available_m=4.0, **BODY)

    assert lowest_m == pytest.approx(1.57)


def test_offset_lanyard_is_taut_where_geometry_says():
    """A 3-4-5 triangle: 1.5 m of line, 0.9 m aside, taut 1.2 m below the anchor."""
    fall_m = lanyard_free_fall_m(
        connector_m=1.5, offset_m=0.9, anchor_height_m=2.0, dring_height_m=1.5
    )

    assert fall_m == pytest.approx(0.7)


@given(
    connector_m=st.floats(0.5, 2.5),
    share=st.floats(-0.99, 0.99),
    dring_m=st.floats(0.2, 1.8),
    slack_m=st.floats(0, 2),
)
def test_line_is_exactly_taut_at_the_end_of_the_free_fall(connector_m, share, dring_m, slack_m):
    offset_m = share * connector_m
    anchor_m = dring_m + math.sqrt(connector_m**2 - offset_m**2) - slack_m

    fall_m = lanyard_free_fall_m(
        connector_m=connector_m,
        offset_m=offset_m,
        anchor_height_m=anchor_m,
        dring_height_m=dring_m,
    )

    assert math.dist((0, anchor_m), (offset_m, dring_m - fall_m)) == pytest.approx(connector_m)


def test_just_taut_lanyard_falls_nothing_whatever_its_binary_fractions():
    fall_m = lanyard_free_fall_m(
        connector_m=0.3, offset_m=0, anchor_height_m=0.1 + 0.2 + 1.5, dring_height_m=1.5
    )

    assert fall_m == pytest.approx(0, abs=1e-12)
    assert fall_m >= 0


@pytest.mark.parametrize("offset_m", [1.8, 2.0, -1.8])
def test_anchor_too_far_aside_cannot_be_connected(offset_m):
    with pytest.raises(ValueError, match=rf"cannot connect: .*1\.8 m, got {offset_m:g} m"):
        lanyard_free_fall_m(
            connector_m=1.8, offset_m=offset_m, anchor_height_m=1.5, dring_height_m=1.5
        )


def test_anchor_too_high_cannot_be_connected():
    with pytest.raises(ValueError, match=r"cannot connect: .*at most 3\.0 m high, got 3\.4 m"):
        lanyard_free_fall_m(connector_m=1.5, offset_m=0, anchor_height_m=3.4, dring_height_m=1.5)


@pytest.mark.parametrize(("offset_m", "line_m", "surface_m"), [(0, 2.000, 2.270), (1.5, 2.5, 2.77)])
def test_retracting_device_needs_the_room_of_the_worked_example(offset_m, line_m, surface_m):
    """W06, with the device aside; and straight above."""
    line_out_m = retractor_distance_m(anchor_height_m=3.5, dring_height_m=1.5, offset_m=offset_m)
    needed_m = retractor_clearance_m(
        line_out_m=line_out_m, arrest_m=1.07, anchor_height_m=3.5, **BODY
    )

    assert round(line_out_m, 3) == line_m
    assert round(needed_m, 3) == surface_m


def test_whole_body_sum_of_a_six_foot_worker_is_18_5_feet():
    """R18, recalled: 6 ft fall, 3.5 ft deceleration, 6 ft worker, 3 ft margin, on 6 ft of line."""
    below_m = lanyard_clearance_below_anchor_m(
        connector_m=6 * FOOT_M,
        deceleration_m=3.5 * FOOT_M,
        hanging_m=hanging_by_whole_body_m(stature_m=6 * FOOT_M),
        margin_m=3 * FOOT_M,
    )

    assert below_m / FOOT_M == pytest.approx(18.5)


@given(stature_m=st.floats(1.67, 2.5))
def test_whole_body_asks_for_no_less_than_the_d_ring_from_1_67_m_up(stature_m):
    by_dring_m = hanging_by_dring_m(harness_stretch_m=0.30, hanging_dring_m=0.82 * stature_m)

    assert hanging_by_whole_body_m(stature_m=stature_m) >= by_dring_m


def test_rope_grab_needs_the_room_of_the_worked_example():
    """W07."""
    falls_m = rope_grab_free_fall_m(
        lanyard_m=0.9, grab_height_m=1.7, dring_height_m=1.5, locking_m=0.15
    )
    stretch_m = rope_stretch_m(strain=0.06, anchor_height_m=16.7, grab_height_m=1.7)
    below_m = lanyard_clearance_below_anchor_m(
        connector_m=0.9 + 0.15 + stretch_m, deceleration_m=1.07, **BODY
    )

    assert round(falls_m, 4) == 0.85
    assert round(stretch_m, 4) == 0.9
    assert round(clearance_below_surface_m(below_anchor_m=below_m, anchor_height_m=1.7), 3) == 4.02


def test_lanyard_that_does_not_reach_the_grab_is_refused():
    with pytest.raises(ValueError, match="cannot connect"):
        rope_grab_free_fall_m(lanyard_m=0.9, grab_height_m=2.5, dring_height_m=1.5, locking_m=0)


def test_grab_above_its_anchor_is_refused():
    with pytest.raises(ValueError, match=r"below the rope's anchor at 3 m, got 3\.5 m"):
        rope_stretch_m(strain=0.1, anchor_height_m=3, grab_height_m=3.5)


@given(strain=st.floats(0, 0.3), rope_m=st.floats(1, 30), lack_m=st.floats(0.01, 0.7))
def test_lowest_grab_gains_just_what_lacked(strain, rope_m, lack_m):
    anchor_m = 1.7 + rope_m
    higher_m = lowest_grab_m(grab_height_m=1.7, strain=strain, rope_m=rope_m, lack_m=lack_m)

    def surface_m(grab_m):
        return (
            rope_stretch_m(strain=strain, anchor_height_m=anchor_m, grab_height_m=grab_m) - grab_m
        )

    assert surface_m(1.7) - surface_m(higher_m) == pytest.approx(lack_m)


def test_grab_cannot_go_higher_than_its_anchor():
    with pytest.raises(ValueError, match="not even at its anchor"):
        lowest_grab_m(grab_height_m=1.7, strain=0.1, rope_m=1.0, lack_m=2.0)


@given(offset_m=st.floats(0.5, 4), drop_m=st.floats(0.01, 0.49))
def test_lowest_device_swings_down_just_what_there_is_room_for(offset_m, drop_m):
    anchor_m = lowest_retractor_anchor_m(offset_m=offset_m, dring_height_m=1.5, drop_m=drop_m)
    line_m = retractor_distance_m(anchor_height_m=anchor_m, dring_height_m=1.5, offset_m=offset_m)

    assert line_m - (anchor_m - 1.5) == pytest.approx(drop_m)


def test_without_room_for_the_arrest_no_device_is_high_enough():
    with pytest.raises(ValueError, match="no anchor is high enough"):
        lowest_retractor_anchor_m(offset_m=1, dring_height_m=1.5, drop_m=-0.4)
