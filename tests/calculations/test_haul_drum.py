"""Drum and line: worked examples, derived and cross-checked.

The oracle is a drum wound turn by turn.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.haul.drum import (
    drum_capacity_m,
    layer_capacity_m,
    layer_radius_m,
    layers_below_flange,
    layers_needed,
    line_required_m,
    load_at_layer_n,
    turns_per_layer,
)

DRUM = {"drum_diameter_m": 0.100, "drum_width_m": 0.080, "line_diameter_m": 0.005}
RADIUS = {"drum_diameter_m": 0.100, "line_diameter_m": 0.005}


def layer_reached(line_length_m, drum_diameter_m, turns, line_diameter_m):
    """Wind the line on, one turn at a time, and say in which layer it ends."""
    layer, on_this_layer, wound_m = 1, 0, 0.0
    while True:
        if on_this_layer == turns:
            layer, on_this_layer = layer + 1, 0
        circumference_m = math.pi * (drum_diameter_m + line_diameter_m * (2 * layer - 1))
        wound_m, on_this_layer = wound_m + circumference_m, on_this_layer + 1
        if wound_m >= line_length_m - 1e-9:
            return layer


def test_16_turns_of_5_mm_line_fit_on_80_mm():
    assert turns_per_layer(drum_width_m=0.080, line_diameter_m=0.005) == 16


@pytest.mark.parametrize(
    ("width_m", "line_m", "turns"), [(0.3, 0.1, 3), (0.06, 0.006, 10), (0.0699, 0.007, 9)]
)
def test_binary_fractions_neither_lose_nor_add_a_turn(width_m, line_m, turns):
    assert turns_per_layer(drum_width_m=width_m, line_diameter_m=line_m) == turns


@pytest.mark.parametrize(("layer", "length_m"), [(1, 5.278), (2, 5.781), (3, 6.283), (4, 6.786)])
def test_each_layer_holds_the_length_of_the_worked_example(layer, length_m):
    assert round(layer_capacity_m(**DRUM, layer=layer), 3) == length_m


def test_four_layers_hold_24_13_m():
    assert round(drum_capacity_m(**DRUM, layers=4), 2) == 24.13


def test_middle_of_the_fourth_layer_is_67_5_mm_from_the_axis():
    """By hand: 50 mm of drum, three lines of 5 mm, half a line of 2.5 mm."""
    assert layer_radius_m(**RADIUS, layer=4) == pytest.approx(0.0675)


def test_rating_on_the_bare_drum_falls_to_108_9_kg_on_the_fourth_layer():
    rated_radius_m = layer_radius_m(**RADIUS, layer=1)
    load = load_at_layer_n(
        rated_load_n=140.0,
        rated_radius_m=rated_radius_m,
        layer_radius_m=layer_radius_m(**RADIUS, layer=4),
    )

    assert round(load / 140.0, 4) == 0.7778
    assert round(load, 1) == 108.9


@pytest.mark.parametrize(("parts", "length_m"), [(1, 20.34), (2, 37.09)])
def test_15_m_down_takes_the_line_of_the_worked_example(parts, length_m):
    required_m = line_required_m(
        parts=parts,
        attachment_depth_m=15.0,
        head_height_m=2.1,
        connector_m=0.35,
        head_to_drum_m=1.6,
        dead_wraps=3,
        first_layer_radius_m=layer_radius_m(**RADIUS, layer=1),
        allowance_m=1.0,
    )

    assert round(required_m, 2) == length_m


@given(
    line_length_m=st.floats(0.1, 150),
    drum_diameter_m=st.floats(0.04, 0.4),
    turns=st.integers(1, 30),
    line_diameter_m=st.floats(0.003, 0.012),
)
def test_layers_are_those_of_a_drum_wound_turn_by_turn(
    line_length_m, drum_diameter_m, turns, line_diameter_m
):
    layers = layers_needed(
        line_length_m=line_length_m,
        drum_diameter_m=drum_diameter_m,
        drum_width_m=turns * line_diameter_m,
        line_diameter_m=line_diameter_m,
    )

    assert layers == layer_reached(line_length_m, drum_diameter_m, turns, line_diameter_m)


@given(
    layers=st.integers(1, 12),
    drum_diameter_m=st.floats(0.04, 0.4),
    turns=st.integers(1, 30),
    line_diameter_m=st.floats(0.003, 0.012),
)
def test_line_that_fills_its_layers_exactly_takes_no_further_layer(
    layers, drum_diameter_m, turns, line_diameter_m
):
    drum = {
        "drum_diameter_m": drum_diameter_m,
        "drum_width_m": turns * line_diameter_m,
        "line_diameter_m": line_diameter_m,
    }
    full_m = drum_capacity_m(**drum, layers=layers)

    assert layers_needed(line_length_m=full_m, **drum) == layers
    assert layers_needed(line_length_m=full_m * 1.0001, **drum) == layers + 1


def test_line_thicker_than_the_drum_is_wide_is_refused():
    with pytest.raises(ValueError, match=r"at least as wide as the line \(0\.01 m\), got 0\.005 m"):
        layers_needed(
            line_length_m=5, drum_diameter_m=0.1, drum_width_m=0.005, line_diameter_m=0.01
        )


def test_no_line_still_counts_as_the_first_layer():
    assert layers_needed(line_length_m=0.0, **DRUM) == 1


@given(
    flange_m=st.floats(0.05, 0.5),
    drum_m=st.floats(0.04, 0.4),
    line_m=st.floats(0.003, 0.012),
    spare=st.integers(0, 4),
)
def test_the_flange_stands_over_the_layers_below_it_and_not_over_one_more(
    flange_m, drum_m, line_m, spare
):
    layers = layers_below_flange(
        flange_diameter_m=flange_m,
        drum_diameter_m=drum_m,
        line_diameter_m=line_m,
        stand_m=spare * line_m,
    )

    def stand_m(layer):
        """Flange over the top of a layer, from its middle half a line up."""
        middle_m = layer_radius_m(drum_diameter_m=drum_m, line_diameter_m=line_m, layer=layer)
        return flange_m / 2 - middle_m - line_m / 2

    slack_m = 1e-6 * line_m
    assert layers == 0 or stand_m(layers) >= spare * line_m - slack_m
    assert stand_m(layers + 1) < spare * line_m + slack_m
