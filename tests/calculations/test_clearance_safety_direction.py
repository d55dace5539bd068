"""Safety direction, clearance: what makes a rescue harder never improves a figure.

Each test changes one input for the worse. A slack of 1e-9 allows for binary fractions.
"""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    lanyard_clearance_below_anchor_m,
    lanyard_free_fall_m,
    lowest_anchor_m,
    retractor_clearance_m,
    retractor_distance_m,
)
from planbuilder.clearance.lift import (
    Attachment,
    attachment_to_crotch_m,
    attachment_to_toe_m,
    feet_above_rim_m,
    hook_height_needed_m,
    seat_above_rim_m,
)
from planbuilder.clearance.outline import Outline, enclosing_diameter_m, short_side_needed_m

SLACK = 1e-9
more = st.floats(0, 2)

FALL = {
    "connector_m": 1.8,
    "deceleration_m": 1.0,
    "hanging_m": 1.8,
    "margin_m": 0.9,
}
RETRACTOR = {
    "line_out_m": 2.0,
    "arrest_m": 1.0,
    "hanging_m": 1.8,
    "margin_m": 0.9,
    "anchor_height_m": 3.5,
}


@given(
    sizes=st.tuples(*[st.floats(0.1, 0.8)] * 4),
    bigger=st.integers(0, 3),
    extra_m=st.floats(0, 0.3),
    long_side_m=st.floats(0.2, 1.5),
    shorter_m=st.floats(0, 0.1),
)
@settings(deadline=None)
def test_bigger_body_or_set_never_passes_a_smaller_opening(
    sizes, bigger, extra_m, long_side_m, shorter_m
):
    names = ("breadth_m", "depth_m", "set_width_m", "set_depth_m")
    outline = Outline(**dict(zip(names, sizes, strict=True)))
    larger = Outline(
        **{
            name: one + extra_m * (names[bigger] == name)
            for name, one in zip(names, sizes, strict=True)
        }
    )
    needed_m = short_side_needed_m(outline, long_side_m=long_side_m)

    assert enclosing_diameter_m(larger) >= enclosing_diameter_m(outline) - 2 * SLACK
    assert short_side_needed_m(larger, long_side_m=long_side_m) >= needed_m - SLACK
    assert short_side_needed_m(outline, long_side_m=long_side_m - shorter_m) >= needed_m - SLACK


@given(breadth_m=st.floats(0.2, 0.8), depth_m=st.floats(0.1, 0.6), long_side_m=st.floats(0.2, 1.5))
@settings(deadline=None)
def test_putting_on_a_set_never_makes_the_outline_smaller(breadth_m, depth_m, long_side_m):
    without = Outline(breadth_m=breadth_m, depth_m=depth_m, set_width_m=0, set_depth_m=0)
    wearing = Outline(breadth_m=breadth_m, depth_m=depth_m, set_width_m=0.3, set_depth_m=0.2)

    assert enclosing_diameter_m(wearing) >= enclosing_diameter_m(without) - 2 * SLACK
    assert (
        short_side_needed_m(wearing, long_side_m=long_side_m)
        >= short_side_needed_m(without, long_side_m=long_side_m) - SLACK
    )


@given(anchor_m=st.floats(0, 3.2), lower_m=st.floats(0, 3), offset_m=st.floats(0, 1))
def test_lower_anchor_never_shortens_the_fall_or_the_room(anchor_m, lower_m, offset_m):
    assume(anchor_m - 1.5 <= math.sqrt(1.8**2 - offset_m**2))

    def fall_m(anchor_m):
        return lanyard_free_fall_m(
            connector_m=1.8, offset_m=offset_m, anchor_height_m=anchor_m, dring_height_m=1.5
        )

    below_m = lanyard_clearance_below_anchor_m(**FALL)

    assert fall_m(anchor_m - lower_m) >= fall_m(anchor_m)
    assert clearance_below_surface_m(
        below_anchor_m=below_m, anchor_height_m=anchor_m - lower_m
    ) >= clearance_below_surface_m(below_anchor_m=below_m, anchor_height_m=anchor_m)


@pytest.mark.parametrize("longer", FALL)
@given(extra_m=more)
def test_more_of_any_distance_never_needs_less_room_or_a_lower_anchor(longer, extra_m):
    worse = {**FALL, longer: FALL[longer] + extra_m}

    assert lanyard_clearance_below_anchor_m(**worse) >= lanyard_clearance_below_anchor_m(**FALL)
    assert lowest_anchor_m(available_m=4.0, **worse) >= lowest_anchor_m(available_m=4.0, **FALL)


@given(available_m=st.floats(0, 10), less_m=more)
def test_less_room_never_allows_a_lower_anchor(available_m, less_m):
    tight_m = lowest_anchor_m(available_m=available_m - less_m, **FALL)

    assert tight_m >= lowest_anchor_m(available_m=available_m, **FALL)


@given(offset_m=st.floats(0, 4), further_m=more, anchor_m=st.floats(1.5, 6))
def test_device_further_aside_never_needs_less_room(offset_m, further_m, anchor_m):
    def needed_m(offset_m):
        line_out_m = retractor_distance_m(
            anchor_height_m=anchor_m, dring_height_m=1.5, offset_m=offset_m
        )
        return retractor_clearance_m(
            **{**RETRACTOR, "line_out_m": line_out_m, "anchor_height_m": anchor_m}
        )

    assert needed_m(offset_m + further_m) >= needed_m(offset_m) - SLACK


@pytest.mark.parametrize("longer", sorted(set(RETRACTOR) - {"anchor_height_m"}))
@given(extra_m=more)
def test_more_line_arrest_or_body_never_needs_less_room(longer, extra_m):
    worse = {**RETRACTOR, longer: RETRACTOR[longer] + extra_m}

    assert retractor_clearance_m(**worse) >= retractor_clearance_m(**RETRACTOR)


@given(
    attachment=st.sampled_from(Attachment),
    stature_m=st.floats(1.4, 2.1),
    taller_m=st.floats(0, 0.3),
    hook_m=st.floats(1.5, 4),
    lower_m=more,
    gear=st.tuples(*[st.floats(0, 0.6)] * 4),
    longer=st.integers(0, 3),
    extra_m=more,
)
def test_taller_casualty_lower_hook_or_longer_gear_never_lifts_the_feet_higher(
    attachment, stature_m, taller_m, hook_m, lower_m, gear, longer, extra_m
):
    names = ("block_m", "connector_m", "sling_m", "coaming_m")
    as_planned = dict(zip(names, gear, strict=True))
    worse = {**as_planned, names[longer]: as_planned[names[longer]] + extra_m}

    def to_toe_m(stature_m):
        return attachment_to_toe_m(
            attachment=attachment, stature_m=stature_m, harness_stretch_m=0.2
        )

    def feet_m(hook_m, stature_m, gear):
        return feet_above_rim_m(
            hook_height_m=hook_m, attachment_to_toe_m=to_toe_m(stature_m), **gear
        )

    feet = feet_m(hook_m, stature_m, as_planned)

    assert feet_m(hook_m, stature_m + taller_m, as_planned) <= feet
    assert feet_m(hook_m - lower_m, stature_m, as_planned) <= feet
    assert feet_m(hook_m, stature_m, worse) <= feet
    assert hook_height_needed_m(
        attachment_to_toe_m=to_toe_m(stature_m + taller_m), swing_aside_m=0.15, **worse
    ) >= hook_height_needed_m(
        attachment_to_toe_m=to_toe_m(stature_m), swing_aside_m=0.15, **as_planned
    )


@given(stature_m=st.floats(1.4, 2.1), taller_m=st.floats(0, 0.3), stretch_m=st.floats(0, 0.5))
def test_taller_casualty_or_softer_harness_never_sits_higher(stature_m, taller_m, stretch_m):
    def seat_m(stature_m, stretch_m):
        return seat_above_rim_m(
            hook_height_m=2.13,
            block_m=0.25,
            connector_m=0.15,
            sling_m=0.0,
            attachment_to_crotch_m=attachment_to_crotch_m(
                stature_m=stature_m, harness_stretch_m=stretch_m
            ),
            coaming_m=0.0,
        )

    assert seat_m(stature_m + taller_m, stretch_m) <= seat_m(stature_m, stretch_m)
    assert seat_m(stature_m, stretch_m) <= seat_m(stature_m, 0.0)
