"""Lift height: worked examples, derived and cross-checked, with ANSUR II body sizes."""

import pytest

from planbuilder.clearance.lift import (
    Attachment,
    attachment_to_crotch_m,
    attachment_to_toe_m,
    feet_above_rim_m,
    hook_height_needed_m,
    seat_above_rim_m,
)

MEN_P50_M, MEN_P95_M = 1.755, 1.870
STRETCH_M = 0.20
GEAR = {"block_m": 0.25, "connector_m": 0.15, "sling_m": 0.0}

# ANSUR II (US Army 2012), mm: stature, sole to wrist with the arms up.
STATURE_AND_WRIST = {
    "men P5": (1648, 1915),
    "men P50": (1755, 2070),
    "men P95": (1870, 2235),
    "men P99": (1927, 2311),
    "women P5": (1525, 1754),
    "women P50": (1626, 1897),
    "women P95": (1740, 2056),
    "women P99": (1778, 2105),
}


def dorsal_to_toe_m(stature_m):
    return attachment_to_toe_m(
        attachment=Attachment.DORSAL, stature_m=stature_m, harness_stretch_m=STRETCH_M
    )


@pytest.mark.parametrize(
    ("attachment", "median_m", "tall_m"),
    [(Attachment.DORSAL, 1.769, 1.863), (Attachment.FRONT, 1.620, 1.704)],
)
def test_harness_to_toe_is_that_of_the_worked_example(attachment, median_m, tall_m):
    for stature_m, expected_m in ((MEN_P50_M, median_m), (MEN_P95_M, tall_m)):
        length_m = attachment_to_toe_m(
            attachment=attachment, stature_m=stature_m, harness_stretch_m=STRETCH_M
        )
        assert round(length_m, 3) == expected_m


@pytest.mark.parametrize("who", STATURE_AND_WRIST)
def test_wristlets_allow_for_the_measured_arms_of_every_group(who):
    stature_mm, wrist_mm = STATURE_AND_WRIST[who]

    length_m = attachment_to_toe_m(
        attachment=Attachment.WRISTLETS, stature_m=stature_mm / 1000, harness_stretch_m=STRETCH_M
    )

    # The men's P99 reach 8 mm further than the ratio of the men's P95 gives.
    assert length_m >= wrist_mm / 1000 + 0.13 - 0.010
    assert length_m <= wrist_mm / 1000 + 0.13 + 0.070


def test_wristlets_reach_2_365_m_on_a_tall_man():
    length_m = attachment_to_toe_m(
        attachment=Attachment.WRISTLETS, stature_m=MEN_P95_M, harness_stretch_m=STRETCH_M
    )

    assert round(length_m, 3) == 2.365


def test_wristlets_do_not_stretch_with_a_harness():
    lengths_m = {
        attachment_to_toe_m(
            attachment=Attachment.WRISTLETS, stature_m=1.8, harness_stretch_m=stretch_m
        )
        for stretch_m in (0.0, 0.3)
    }

    assert len(lengths_m) == 1


@pytest.mark.parametrize(
    ("hook_m", "stature_m", "coaming_m", "feet_m"),
    [
        pytest.param(2.13, MEN_P50_M, 0.0, -0.0391, id="W19, 7 ft, median man"),
        pytest.param(2.74, MEN_P50_M, 0.0, 0.5709, id="9 ft, median man"),
        pytest.param(2.74, MEN_P95_M, 0.15, 0.3266, id="9 ft, tall man, coaming"),
    ],
)
def test_feet_hang_at_full_hoist_as_in_the_worked_example(hook_m, stature_m, coaming_m, feet_m):
    above_m = feet_above_rim_m(
        hook_height_m=hook_m,
        attachment_to_toe_m=dorsal_to_toe_m(stature_m),
        coaming_m=coaming_m,
        **GEAR,
    )

    assert round(above_m, 4) == feet_m


def test_seat_of_a_median_man_is_0_9351_m_above_the_rim_under_a_7_ft_head():
    """W19: below the rim by the feet, above it by the seat, so tipped out."""
    to_crotch_m = attachment_to_crotch_m(stature_m=MEN_P50_M, harness_stretch_m=STRETCH_M)

    above_m = seat_above_rim_m(
        hook_height_m=2.13, attachment_to_crotch_m=to_crotch_m, coaming_m=0.0, **GEAR
    )

    assert round(above_m, 4) == 0.9351


def test_block_connector_sling_and_coaming_all_come_off_the_hook_height():
    """By hand: 3.0 - 0.3 - 0.2 - 0.4 - 0.1 leaves 2.0, less what hangs below."""
    gear = {"block_m": 0.3, "connector_m": 0.2, "sling_m": 0.4, "coaming_m": 0.1}

    feet_m = feet_above_rim_m(hook_height_m=3.0, attachment_to_toe_m=1.7, **gear)
    seat_m = seat_above_rim_m(hook_height_m=3.0, attachment_to_crotch_m=0.8, **gear)

    assert feet_m == pytest.approx(0.3)
    assert seat_m == pytest.approx(1.2)


def test_crotch_height_of_the_median_man_fits_the_ratio():
    """845 over 1755 mm: the seat hangs 0.82 H - 845 mm below the D-ring, and the stretch."""
    to_crotch_m = attachment_to_crotch_m(stature_m=MEN_P50_M, harness_stretch_m=0.0)

    assert to_crotch_m == pytest.approx(0.82 * MEN_P50_M - 0.845, abs=0.001)


def test_tall_man_over_a_coaming_needs_the_head_at_2_563_m():
    """W20."""
    needed_m = hook_height_needed_m(
        attachment_to_toe_m=dorsal_to_toe_m(MEN_P95_M), coaming_m=0.15, swing_aside_m=0.15, **GEAR
    )

    assert round(needed_m, 3) == 2.563


def test_vertical_stretcher_on_its_bridle_needs_the_head_at_3_050_m():
    """2.0 m of stretcher and 0.5 m of bridle."""
    needed_m = hook_height_needed_m(
        block_m=0.25,
        connector_m=0.15,
        sling_m=0.5,
        attachment_to_toe_m=2.0,
        coaming_m=0.0,
        swing_aside_m=0.15,
    )

    assert round(needed_m, 3) == 3.050


def test_head_at_the_height_needed_lifts_the_feet_by_the_swing_aside_margin():
    hanging = {"attachment_to_toe_m": dorsal_to_toe_m(1.8), "coaming_m": 0.1, **GEAR}
    needed_m = hook_height_needed_m(swing_aside_m=0.15, **hanging)

    assert feet_above_rim_m(hook_height_m=needed_m, **hanging) == pytest.approx(0.15)
