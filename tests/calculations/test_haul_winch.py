"""Hand winch at work: worked examples; work of the hand and a drum wound in steps as oracles."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.haul.drum import drum_capacity_m, layer_capacity_m, layer_radius_m
from planbuilder.haul.strands import pull_of
from planbuilder.haul.strokes import hauling_time_s
from planbuilder.haul.tackle import HaulStrand, redirected, simple
from planbuilder.haul.winch import (
    crank_force_n,
    crank_power_w,
    crank_time_s,
    crank_turns,
    head_force_n,
    line_force_at_drum_n,
    power_time_s,
    reeved_line_force_n,
    wound_length_m,
)

UNITS: Any = pint.get_application_registry()
M, N, S, W = UNITS.metre, UNITS.newton, UNITS.second, UNITS.watt

WEIGHT_N = 140 * 9.80665
DRUM = {"drum_diameter_m": 0.100, "drum_width_m": 0.080, "line_diameter_m": 0.005}
CRANK = {"crank_radius_m": 0.30, "crank_turns_per_drum_turn": 5, "efficiency": 0.75}
RATE_PER_S = 40 / 60


def radius_m(layer):
    return layer_radius_m(drum_diameter_m=0.100, line_diameter_m=0.005, layer=layer)


def turned(wound_m, dead_wraps, drum, gear):
    """Wind in small steps of the drum and count the turns of the crank."""
    per_layer = round(drum["drum_width_m"] / drum["line_diameter_m"])
    steps, on_drum, left_m = 0, dead_wraps, wound_m
    step = 1 / 50
    while left_m > 0:
        layer = math.floor(on_drum / per_layer + 1e-9) + 1
        circumference_m = math.pi * (
            drum["drum_diameter_m"] + drum["line_diameter_m"] * (2 * layer - 1)
        )
        left_m -= circumference_m * step
        on_drum += step
        steps += 1
    return steps * step * gear


@pytest.mark.parametrize(("layer", "force_n"), [(1, 64.07), (2, 70.17), (3, 76.27), (4, 82.38)])
def test_140_kg_take_the_crank_force_of_the_worked_example_in_each_layer(layer, force_n):
    force = crank_force_n(line_force_n=WEIGHT_N, layer_radius_m=radius_m(layer), **CRANK)

    assert round(force, 2) == force_n


@given(
    line_n=st.floats(100, 3000),
    layer=st.integers(1, 6),
    crank_radius_m=st.floats(0.1, 0.5),
    gear=st.floats(1, 30),
    efficiency=st.floats(0.2, 1),
)
def test_work_of_the_hand_less_its_losses_is_work_on_the_line(
    line_n, layer, crank_radius_m, gear, efficiency
):
    """Over one turn of the drum: the hand goes round *gear* times."""
    force_n = crank_force_n(
        line_force_n=line_n,
        layer_radius_m=radius_m(layer),
        crank_radius_m=crank_radius_m,
        crank_turns_per_drum_turn=gear,
        efficiency=efficiency,
    )

    by_hand_j = force_n * gear * math.tau * crank_radius_m
    assert by_hand_j * efficiency == pytest.approx(line_n * math.tau * radius_m(layer))


@pytest.mark.parametrize(("layer", "m_per_min"), [(1, 2.639), (3, 3.142), (4, 3.393)])
def test_40_turns_a_minute_move_the_line_as_in_the_worked_example(layer, m_per_min):
    """A layer of 16 turns, wound from its beginning."""
    wound_m = layer_capacity_m(**DRUM, layer=layer)
    turns = crank_turns(
        wound_m=wound_m, dead_wraps=16 * (layer - 1), **DRUM, crank_turns_per_drum_turn=5
    )
    time_s = crank_time_s(crank_turns=turns, crank_rate_per_s=RATE_PER_S)

    assert round(wound_m / time_s * 60, 3) == m_per_min


def test_15_m_onto_three_wraps_take_the_turns_times_and_power_of_the_worked_example():
    turns = crank_turns(wound_m=15, dead_wraps=3, **DRUM, crank_turns_per_drum_turn=5)
    time_s = crank_time_s(crank_turns=turns, crank_rate_per_s=RATE_PER_S)
    lift = {"load_n": WEIGHT_N, "lift_m": 15, "efficiency": 0.75}

    assert round(turns, 1) == 207.8
    assert round(time_s, 1) == 311.7
    assert round(crank_power_w(**lift, time_s=time_s), 2) == 88.10
    assert round(power_time_s(**lift, power_w=75), 1) == 366.1


@given(
    wound_m=st.floats(0.5, 30),
    dead_wraps=st.integers(0, 40),
    drum_diameter_m=st.floats(0.05, 0.2),
    per_layer=st.integers(1, 20),
    line_diameter_m=st.floats(0.004, 0.01),
    gear=st.integers(1, 10),
)
@settings(max_examples=40, deadline=None)
def test_turns_are_those_of_a_drum_wound_in_small_steps(
    wound_m, dead_wraps, drum_diameter_m, per_layer, line_diameter_m, gear
):
    drum = {
        "drum_diameter_m": drum_diameter_m,
        "drum_width_m": per_layer * line_diameter_m,
        "line_diameter_m": line_diameter_m,
    }

    turns = crank_turns(
        wound_m=wound_m, dead_wraps=dead_wraps, **drum, crank_turns_per_drum_turn=gear
    )

    # One step of a fiftieth of a drum turn may be counted in part only.
    assert turns == pytest.approx(turned(wound_m, dead_wraps, drum, gear), abs=0.021 * gear)


def test_line_that_fills_two_layers_takes_two_times_the_turns_of_a_layer():
    full_m = drum_capacity_m(**DRUM, layers=2)

    turns = crank_turns(wound_m=full_m, dead_wraps=0, **DRUM, crank_turns_per_drum_turn=1)

    assert turns == pytest.approx(32)


def test_dead_wraps_that_fill_the_first_layer_start_the_line_on_the_second():
    one_turn_m = math.tau * radius_m(2)

    turns = crank_turns(wound_m=one_turn_m, dead_wraps=16, **DRUM, crank_turns_per_drum_turn=1)

    assert turns == pytest.approx(1)


@given(
    wound_m=st.floats(0.1, 30),
    more_m=st.floats(0, 10),
    dead_wraps=st.integers(2, 20),
)
def test_longer_lift_or_emptier_drum_never_takes_fewer_turns(wound_m, more_m, dead_wraps):
    drum = {**DRUM, "crank_turns_per_drum_turn": 5}

    turns = crank_turns(wound_m=wound_m, dead_wraps=dead_wraps, **drum)
    longer = crank_turns(wound_m=wound_m + more_m, dead_wraps=dead_wraps, **drum)
    emptier = crank_turns(wound_m=wound_m, dead_wraps=dead_wraps - 1, **drum)

    assert longer >= turns * (1 - 1e-9)
    assert emptier >= turns * (1 - 1e-9)


@given(line_n=st.floats(100, 3000), extra_n=st.floats(0, 500), layer=st.integers(1, 5))
def test_heavier_load_higher_layer_or_worse_gear_never_eases_the_crank(line_n, extra_n, layer):
    now = {"line_force_n": line_n, "layer_radius_m": radius_m(layer), **CRANK}

    now_n = crank_force_n(**now)

    assert crank_force_n(**{**now, "line_force_n": line_n + extra_n}) >= now_n
    assert crank_force_n(**{**now, "layer_radius_m": radius_m(layer + 1)}) > now_n
    assert crank_force_n(**{**now, "efficiency": 0.7}) > now_n


def test_two_parts_share_the_load_and_double_the_time():
    """Worked example: 237.5 kg, hook block and head sheave of 0.95, winch off the support."""
    load_n = 237.5 * 9.80665
    hook_line_n = reeved_line_force_n(load_n=load_n, parts=2, efficiency=0.95)
    drum_line_n = line_force_at_drum_n(line_force_n=hook_line_n, efficiencies=[0.95])
    head_n = head_force_n(load_n=load_n, drum_line_n=drum_line_n, between_rad=0)

    assert round(hook_line_n) == 1194
    assert round(drum_line_n) == 1257
    assert round(head_n) == 3586
    once_s, twice_s = (
        hauling_time_s(lift_m=9, ideal_advantage=p, haul_speed_m_per_s=0.05) for p in (1, 2)
    )
    assert twice_s == 2 * once_s
    assert wound_length_m(lift_m=9, parts=2) == 18


@given(parts=st.integers(1, 6), efficiency=st.floats(0.5, 1))
def test_reeved_line_is_that_of_the_described_rope_system(parts, efficiency):
    """Hook block below, head sheave above; all that hangs on the head is what head_force_n says."""
    tackle = redirected(
        simple([efficiency] * (parts - 1), haul_strand=HaulStrand.OFF_MOVING),
        anchor="anchor 1",
        half_turn_efficiency=efficiency,
        turn_rad=math.pi,
    )
    pull = pull_of(tackle)

    hook_line_n = reeved_line_force_n(load_n=1000, parts=parts, efficiency=efficiency)
    drum_line_n = line_force_at_drum_n(line_force_n=hook_line_n, efficiencies=[efficiency])
    head_n = head_force_n(load_n=1000, drum_line_n=drum_line_n, between_rad=0)

    haul_n = 1000 / pull.advantage
    assert drum_line_n == pytest.approx(haul_n)
    assert head_n == pytest.approx(pull.anchor_forces["anchor 1"] * haul_n)
    assert wound_length_m(lift_m=1, parts=parts) == pull.haul_travel


def test_line_led_off_to_the_side_loads_the_head_as_two_sides_of_a_triangle():
    """By hand: 3, 4 and 5."""
    assert head_force_n(load_n=4000, drum_line_n=3000, between_rad=math.pi / 2) == pytest.approx(
        5000
    )


def test_crank_that_stands_still_is_refused():
    with pytest.raises(ValueError, match="the crank must turn, got 0 turns/s"):
        crank_time_s(crank_turns=10, crank_rate_per_s=0)


def test_line_thicker_than_the_drum_is_wide_is_refused():
    with pytest.raises(ValueError, match=r"at least as wide as the line \(0\.01 m\), got 0\.005 m"):
        crank_turns(
            wound_m=5,
            dead_wraps=3,
            drum_diameter_m=0.1,
            drum_width_m=0.005,
            line_diameter_m=0.01,
            crank_turns_per_drum_turn=5,
        )


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        pytest.param(
            lambda: crank_force_n(
                line_force_n=1400 * N,
                layer_radius_m=0.05 * M,
                crank_radius_m=0.3 * M,
                crank_turns_per_drum_turn=5,
                efficiency=0.75,
            ),
            "[force]",
            id="crank_force_n",
        ),
        pytest.param(
            lambda: crank_turns(
                wound_m=15 * M,
                dead_wraps=3,
                drum_diameter_m=0.1 * M,
                drum_width_m=0.08 * M,
                line_diameter_m=0.005 * M,
                crank_turns_per_drum_turn=5,
            ),
            "[]",
            id="crank_turns",
        ),
        pytest.param(
            lambda: crank_time_s(crank_turns=200, crank_rate_per_s=0.7 / S),
            "[time]",
            id="crank_time_s",
        ),
        pytest.param(
            lambda: crank_power_w(load_n=1400 * N, lift_m=9 * M, efficiency=0.75, time_s=200 * S),
            "[power]",
            id="crank_power_w",
        ),
        pytest.param(
            lambda: power_time_s(load_n=1400 * N, lift_m=9 * M, efficiency=0.75, power_w=75 * W),
            "[time]",
            id="power_time_s",
        ),
        pytest.param(
            lambda: line_force_at_drum_n(
                line_force_n=reeved_line_force_n(load_n=1400 * N, parts=2, efficiency=0.95),
                efficiencies=[0.95],
            ),
            "[force]",
            id="reeved_line_force_n and line_force_at_drum_n",
        ),
        pytest.param(
            lambda: wound_length_m(lift_m=9 * M, parts=2), "[length]", id="wound_length_m"
        ),
    ],
)
def test_result_has_the_dimension_its_name_says(result, dimension):
    assert UNITS.Quantity(result()).check(dimension)
