"""Safety direction: what makes a rescue harder never improves a figure.

Each test changes one input for the worse. A slack of 1e-9 allows for binary fractions.
"""

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    fall_factor,
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
from planbuilder.haul.base import line_inside_base_m
from planbuilder.haul.drum import layers_needed, line_required_m, load_at_layer_n
from planbuilder.haul.friction import edge_factor, roller_factor
from planbuilder.haul.load import line_mass_kg, weight_n
from planbuilder.haul.raising import lift_time_s
from planbuilder.haul.ropes import Reeving, advantage, haul_force_n, people_needed
from planbuilder.response.classes import (
    air_limit_s,
    carbon_monoxide_class,
    hydrogen_sulfide_class,
    oxygen_class,
)
from planbuilder.response.detection import slow_delay_s, usual_delay_s
from planbuilder.response.network import Activity, finish_s, schedule
from planbuilder.response.spread import slow_duration_s

SLACK = 1e-9
more = st.floats(0, 2)
reevings = st.sampled_from(
    [
        (Reeving.SIMPLE, (1,)),
        (Reeving.SIMPLE, (3,)),
        (Reeving.SIMPLE, (4,)),
        (Reeving.COMPOUND, (2, 3)),
        (Reeving.COMPLEX_5, (5,)),
    ]
)

# A five-sided base with the mast inside it.
FEET = [(0.9, 0.3), (0.4, 0.8), (-0.7, 0.6), (-0.7, -0.6), (0.5, -0.7)]

LOAD = {
    "body_kg": 80.0,
    "clothing_kg": 3.0,
    "protective_kg": 3.5,
    "wet_ratio": 0.5,
    "stretcher_kg": 9.0,
    "attendant_kg": 0.0,
    "rigging_kg": 1.0,
}
LINE: dict[str, Any] = {
    "parts": 1,
    "attachment_depth_m": 6.0,
    "head_height_m": 2.1,
    "connector_m": 0.3,
    "head_to_drum_m": 1.5,
    "dead_wraps": 3,
    "first_layer_radius_m": 0.05,
    "allowance_m": 1.0,
}
FALL = {
    "connector_m": 1.8,
    "deceleration_m": 1.0,
    "harness_stretch_m": 0.3,
    "hanging_dring_m": 1.5,
    "margin_m": 0.9,
}
RETRACTOR = {
    "line_out_m": 2.0,
    "arrest_m": 1.0,
    "harness_stretch_m": 0.3,
    "hanging_dring_m": 1.5,
    "margin_m": 0.9,
    "anchor_height_m": 3.5,
}


@pytest.mark.parametrize("heavier", LOAD)
@given(extra=more)
def test_more_of_any_mass_never_lightens_the_line(heavier, extra):
    worse = {**LOAD, heavier: LOAD[heavier] + extra}

    assert line_mass_kg(**worse) >= line_mass_kg(**LOAD)
    assert weight_n(line_mass_kg(**worse)) >= weight_n(line_mass_kg(**LOAD))


@given(
    system=reevings,
    load_n=st.floats(300, 4000),
    extra_n=st.floats(0, 2000),
    efficiency=st.floats(0.3, 1),
    lost=st.floats(0, 0.25),
    redirects=st.integers(0, 3),
    force_n=st.floats(100, 300),
)
def test_heavier_load_or_worse_pulleys_never_need_fewer_people(
    system, load_n, extra_n, efficiency, lost, redirects, force_n
):
    reeving, parts = system

    def people(load_n, efficiency, redirects):
        real = advantage(reeving=reeving, parts=parts, efficiency=efficiency, redirects=redirects)
        needed_n = haul_force_n(system_load_n=load_n, advantage=real)
        return people_needed(haul_force_n=needed_n, force_per_person_n=force_n)

    as_planned = people(load_n, efficiency, redirects)

    assert people(load_n + extra_n, efficiency, redirects) >= as_planned
    assert people(load_n, efficiency - lost, redirects) >= as_planned
    assert people(load_n, efficiency, redirects + 1) >= as_planned


@given(needed_n=st.floats(1, 4000), force_n=st.floats(50, 300), weaker_n=st.floats(0, 40))
def test_weaker_people_are_never_fewer(needed_n, force_n, weaker_n):
    strong = people_needed(haul_force_n=needed_n, force_per_person_n=force_n)
    weak = people_needed(haul_force_n=needed_n, force_per_person_n=force_n - weaker_n)

    assert weak >= strong
    assert strong * force_n >= needed_n * (1 - SLACK)


@given(
    edges=st.lists(st.tuples(st.floats(0, 0.6), st.floats(0, math.pi)), max_size=4),
    one_more=st.tuples(st.floats(0, 0.6), st.floats(0, math.pi)),
)
def test_one_more_edge_never_eases_the_haul(edges, one_more):
    assert edge_factor([*edges, one_more]) >= edge_factor(edges) >= 1


@given(mu=st.floats(0, 0.6), turn_rad=st.floats(0, math.pi), rougher=more, sharper=more)
def test_rougher_or_sharper_edge_never_eases_the_haul(mu, turn_rad, rougher, sharper):
    assert edge_factor([(mu + rougher, turn_rad)]) >= edge_factor([(mu, turn_rad)])
    assert edge_factor([(mu, turn_rad + sharper)]) >= edge_factor([(mu, turn_rad)])


@given(efficiency=st.floats(0.5, 1), lost=st.floats(0, 0.4))
def test_worse_roller_never_eases_the_haul(efficiency, lost):
    assert roller_factor(efficiency=efficiency - lost) >= roller_factor(efficiency=efficiency) >= 1


@pytest.mark.parametrize("longer", sorted(set(LINE) - {"connector_m"}))
@given(extra=st.integers(0, 3))
def test_more_of_anything_never_needs_less_line(longer, extra):
    worse = {**LINE, longer: LINE[longer] + extra}

    assert line_required_m(**worse) >= line_required_m(**LINE)


@given(
    line_length_m=st.floats(0, 80),
    extra_m=st.floats(0, 40),
    width_m=st.floats(0.05, 0.2),
    narrower_m=st.floats(0, 0.03),
)
def test_longer_line_or_narrower_drum_never_needs_fewer_layers(
    line_length_m, extra_m, width_m, narrower_m
):
    def layers(length_m, width_m):
        return layers_needed(
            line_length_m=length_m,
            drum_diameter_m=0.1,
            drum_width_m=width_m,
            line_diameter_m=0.005,
        )

    assert layers(line_length_m + extra_m, width_m) >= layers(line_length_m, width_m)
    assert layers(line_length_m, width_m - narrower_m) >= layers(line_length_m, width_m)


@given(radius_m=st.floats(0.03, 0.2), higher_m=st.floats(0, 0.1))
def test_higher_layer_never_holds_more(radius_m, higher_m):
    rating = {"rated_load_n": 1400.0, "rated_radius_m": 0.05}

    assert load_at_layer_n(layer_radius_m=radius_m + higher_m, **rating) <= load_at_layer_n(
        layer_radius_m=radius_m, **rating
    )


@given(lift_m=st.floats(0, 60), extra_m=more, parts=st.integers(1, 4), slower=st.floats(0, 0.09))
def test_longer_or_slower_lift_never_takes_less_time(lift_m, extra_m, parts, slower):
    time_s = lift_time_s(lift_m=lift_m, line_speed_m_per_s=0.1, parts=parts)

    assert lift_time_s(lift_m=lift_m + extra_m, line_speed_m_per_s=0.1, parts=parts) >= time_s
    assert lift_time_s(lift_m=lift_m, line_speed_m_per_s=0.1, parts=parts + 1) >= time_s
    assert lift_time_s(lift_m=lift_m, line_speed_m_per_s=0.1 - slower, parts=parts) >= time_s


@given(reach_m=st.floats(0, 2), longer_m=more)
def test_longer_reach_never_gains_margin_over_a_full_swing(reach_m, longer_m):
    all_round = {"swing_from_rad": 0.0, "swing_to_rad": math.tau}

    long_m = line_inside_base_m(feet=FEET, reach_m=reach_m + longer_m, **all_round)

    assert long_m <= line_inside_base_m(feet=FEET, reach_m=reach_m, **all_round) + SLACK


@given(
    reach_m=st.floats(0, 2),
    longer_m=more,
    start=st.floats(-math.pi, math.pi),
    span=st.floats(0, math.tau),
)
def test_line_outside_the_base_is_never_brought_in_by_a_longer_reach(
    reach_m, longer_m, start, span
):
    swing = {"swing_from_rad": start, "swing_to_rad": start + span}
    assume(line_inside_base_m(feet=FEET, reach_m=reach_m, **swing) < 0)

    assert line_inside_base_m(feet=FEET, reach_m=reach_m + longer_m, **swing) < 0


@given(
    reach_m=st.floats(0, 2),
    start=st.floats(-math.pi, math.pi),
    span=st.floats(0, math.pi),
    wider=st.floats(0, math.pi),
)
def test_wider_swing_never_gains_margin(reach_m, start, span, wider):
    narrow_m = line_inside_base_m(
        feet=FEET, reach_m=reach_m, swing_from_rad=start, swing_to_rad=start + span
    )
    wide_m = line_inside_base_m(
        feet=FEET, reach_m=reach_m, swing_from_rad=start - wider, swing_to_rad=start + span + wider
    )

    assert wide_m <= narrow_m + SLACK


@given(
    lost=st.integers(0, 4), reach_m=st.floats(0, 2), start=st.floats(-3, 3), span=st.floats(0, 6)
)
def test_base_without_one_of_its_feet_never_gains_margin(lost, reach_m, start, span):
    fewer = [foot for number, foot in enumerate(FEET) if number != lost]
    swing = {"reach_m": reach_m, "swing_from_rad": start, "swing_to_rad": start + span}
    with_all_m = line_inside_base_m(feet=FEET, **swing)
    assume(with_all_m >= 0)

    assert line_inside_base_m(feet=fewer, **swing) <= with_all_m + SLACK


@given(check_interval_s=st.floats(0, 3600), rarer_s=st.floats(0, 3600))
def test_rarer_checks_never_notice_sooner(check_interval_s, rarer_s):
    assert usual_delay_s(check_interval_s + rarer_s) >= usual_delay_s(check_interval_s)
    assert slow_delay_s(check_interval_s + rarer_s) >= slow_delay_s(check_interval_s)
    assert slow_delay_s(check_interval_s) >= usual_delay_s(check_interval_s)


@given(usual_s=st.floats(1, 3600), sigma=st.floats(0, 1), wider=st.floats(0, 1))
def test_wider_spread_never_shortens_the_slow_duration(usual_s, sigma, wider):
    slow_s = slow_duration_s(usual_s=usual_s, sigma=sigma)

    assert slow_duration_s(usual_s=usual_s, sigma=sigma + wider) >= slow_s >= usual_s


@given(
    durations=st.lists(st.floats(0, 600), min_size=5, max_size=5),
    slower=st.integers(0, 4),
    extra_s=st.floats(0, 600),
)
def test_slower_task_never_brings_any_task_forward(durations, slower, extra_s):
    after = ((), (), ("t0",), ("t0", "t1"), ("t2", "t3"))

    def finishes(durations):
        tasks = [Activity(f"t{n}", durations[n], after[n]) for n in range(5)]
        return [finish_s(schedule(tasks), one.id) for one in tasks]

    slowed = [one + extra_s * (number == slower) for number, one in enumerate(durations)]

    assert all(
        late >= early for late, early in zip(finishes(slowed), finishes(durations), strict=True)
    )


@given(fraction=st.floats(0, 0.195), worse=st.floats(0, 0.1))
def test_worse_air_never_leaves_more_time(fraction, worse):
    for class_of in (hydrogen_sulfide_class, carbon_monoxide_class):
        assert air_limit_s(class_of(fraction + worse)) <= air_limit_s(class_of(fraction))
        assert class_of(fraction + worse) <= class_of(fraction)
    assert oxygen_class(fraction) <= oxygen_class(fraction + worse)


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
    assert fall_factor(free_fall_m=fall_m(anchor_m - lower_m), connector_m=1.8) >= fall_factor(
        free_fall_m=fall_m(anchor_m), connector_m=1.8
    )
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
