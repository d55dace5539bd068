"""Edge friction: worked examples, derived and cross-checked; a rope cut into slices as oracle."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planbuilder.haul.friction import edge_factor, measured_friction, roller_factor

WEIGHT_N = 150 * 9.80665
CONCRETE, STEEL = 0.44, 0.24
RIGHT_ANGLE = math.pi / 2


@pytest.mark.parametrize(
    ("edges", "raise_n", "lower_n"),
    [
        pytest.param([(CONCRETE, RIGHT_ANGLE)], 2936, 737.0, id="concrete edge, 90 degrees"),
        pytest.param([(STEEL, RIGHT_ANGLE)], 2145, 1009, id="steel edge, 90 degrees"),
    ],
)
def test_150_kg_over_one_edge_take_the_forces_of_the_worked_example(edges, raise_n, lower_n):
    assert round(WEIGHT_N * edge_factor(edges)) == raise_n
    assert WEIGHT_N / edge_factor(edges) == pytest.approx(lower_n, rel=5e-4)


def test_150_kg_over_two_concrete_lips_take_3295_n():
    """Worked example: lips of 45 and 60 degrees."""
    lips = [(CONCRETE, math.radians(45)), (CONCRETE, math.radians(60))]

    assert round(WEIGHT_N * edge_factor(lips)) == 3295


def test_150_kg_over_a_roller_take_1548_n_up_and_1397_n_down():
    """Worked example: roller of 0.95."""
    factor = roller_factor(efficiency=0.95)

    assert round(WEIGHT_N * factor) == 1548
    assert round(WEIGHT_N / factor) == 1397


@pytest.mark.parametrize("friction", [0.0, 0.19, 0.44])
@pytest.mark.parametrize("turn_rad", [0.5, math.pi, 7.0])
def test_edge_factor_is_the_tension_grown_slice_by_slice(friction, turn_rad):
    """dT/da = mu T, integrated numerically over the turn."""
    grown = solve_ivp(
        lambda _, tension: friction * tension, (0, turn_rad), [1.0], rtol=1e-10, atol=1e-12
    )

    assert edge_factor([(friction, turn_rad)]) == pytest.approx(grown.y[0, -1], rel=1e-7)


def test_rope_that_touches_nothing_loses_nothing():
    assert edge_factor([]) == 1
    assert edge_factor([(CONCRETE, 0.0)]) == 1


@given(
    edges=st.lists(st.tuples(st.floats(0, 0.6), st.floats(0, math.pi)), max_size=5),
)
def test_edges_one_after_the_other_multiply(edges):
    one_by_one = np.prod([edge_factor([edge]) for edge in edges])

    assert edge_factor(edges) == pytest.approx(one_by_one, rel=1e-9)


@given(mu=st.floats(0.01, 0.6), turn_rad=st.floats(0.1, math.pi), load_n=st.floats(10, 300))
def test_measured_pulls_give_back_the_friction_they_were_made_with(mu, turn_rad, load_n):
    factor = edge_factor([(mu, turn_rad)])

    friction = measured_friction(
        raise_n=load_n * factor, lower_n=load_n / factor, turn_rad=turn_rad
    )

    assert friction == pytest.approx(mu, rel=1e-9)


def test_equal_pulls_up_and_down_mean_no_friction():
    assert measured_friction(raise_n=75, lower_n=75, turn_rad=1.0) == 0


def test_perfect_roller_costs_nothing():
    assert roller_factor(efficiency=1.0) == 1


@pytest.mark.parametrize("efficiency", [0.0, -0.5, 1.01])
def test_roller_efficiency_outside_its_range_is_refused(efficiency):
    with pytest.raises(ValueError, match=f"above 0 and at most 1, got {efficiency}"):
        roller_factor(efficiency=efficiency)


@pytest.mark.parametrize(
    ("raise_n", "lower_n", "turn_rad"),
    [(100, 0, 1.0), (50, 60, 1.0), (100, 50, 0.0), (100, 50, -0.1)],
)
def test_measurements_that_make_no_sense_are_refused(raise_n, lower_n, turn_rad):
    with pytest.raises(ValueError, match=f"got hold {lower_n} N, raise {raise_n} N"):
        measured_friction(raise_n=raise_n, lower_n=lower_n, turn_rad=turn_rad)
