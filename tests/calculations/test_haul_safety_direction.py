"""Safety direction, haul: what makes a rescue harder never improves a figure.

Each test changes one input for the worse. A slack of 1e-9 allows for binary fractions.
"""

import math
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planbuilder.haul.base import line_inside_base_m
from planbuilder.haul.drum import layers_needed, line_required_m, load_at_layer_n
from planbuilder.haul.friction import edge_factor, roller_factor
from planbuilder.haul.load import line_mass_kg, weight_n
from planbuilder.haul.ropes import Reeving, advantage, haul_force_n, people_needed
from planbuilder.haul.strokes import hauling_time_s

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
    now = {"lift_m": lift_m, "haul_speed_m_per_s": 0.1, "ideal_advantage": parts}
    time_s = hauling_time_s(**now)

    assert hauling_time_s(**{**now, "lift_m": lift_m + extra_m}) >= time_s
    assert hauling_time_s(**{**now, "ideal_advantage": parts + 1}) >= time_s
    assert hauling_time_s(**{**now, "haul_speed_m_per_s": 0.1 - slower}) >= time_s


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
    assume(line_inside_base_m(feet=FEET, reach_m=reach_m, **swing) < -SLACK)

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
