"""Shock on a line: worked examples, and the fall integrated in time as oracle."""

import math
from typing import Any

import numpy as np
import pint
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planbuilder.haul.shock import (
    absorber_travel_m,
    largest_slack_m,
    least_peak_n,
    rope_modulus_n,
    series_stiffness_n_per_m,
    slack_drop_force_n,
    sudden_stop_force_n,
    wire_modulus_n,
)

UNITS: Any = pint.get_application_registry()
N, M = UNITS.newton, UNITS.metre
GRAVITY = 9.80665
WEIGHT_N = 140 * GRAVITY
ROPE = {"weight_n": WEIGHT_N, "stiffness_n_per_m": 3269.0}
WIRE = {"weight_n": WEIGHT_N, "stiffness_n_per_m": 90e3}

weight = st.floats(300, 3000)
stiffness = st.floats(500, 200e3)
slack = st.floats(0, 3)


def caught_force_n(mass_kg, stiffness_n_per_m, height_m, speed_m_per_s):
    """Largest line force of a load that starts *height_m* above a just-taut line."""

    def motion(_, state):
        below_m, down_m_per_s = state
        line_n = stiffness_n_per_m * max(0.0, below_m)
        return [down_m_per_s, GRAVITY - line_n / mass_kg]

    def lowest(_, state):
        return state[1]

    vars(lowest).update(terminal=True, direction=-1)  # how solve_ivp is told to stop there
    # A load let go at rest starts at the event itself, so it is given a breath of speed.
    start = [-height_m, max(speed_m_per_s, 1e-9)]
    run = solve_ivp(motion, (0, 60), start, events=lowest, rtol=1e-9, atol=1e-11, max_step=0.02)
    return stiffness_n_per_m * run.y[0, -1]


def test_rope_of_3_percent_at_100_kg_has_the_modulus_of_the_worked_example():
    modulus_n = rope_modulus_n(force_step_n=100 * GRAVITY, elongation=0.03)

    assert round(modulus_n / 1000, 2) == 32.69
    assert round(series_stiffness_n_per_m([(10, modulus_n)])) == 3269


def test_wire_of_5_mm_is_some_28_times_as_stiff_as_the_rope():
    modulus_n = wire_modulus_n(line_diameter_m=0.005)

    assert modulus_n == pytest.approx(0.9e6)
    assert round(modulus_n / 32690) == 28


@pytest.mark.parametrize(
    ("line", "slack_m", "force_n"),
    [(ROPE, 0.5, 3897), (WIRE, 0.5, 12570), (WIRE, 0.1, 6530)],
)
def test_140_kg_through_slack_make_the_force_of_the_worked_example(line, slack_m, force_n):
    force = slack_drop_force_n(**line, slack_m=slack_m)

    assert force == pytest.approx(force_n, rel=5e-4)


def test_by_fall_factor_the_length_of_the_line_does_not_matter():
    """Worked example: 0.5 m onto 10 m of rope is a factor of 0.05."""
    force = slack_drop_force_n(weight_n=WEIGHT_N, stiffness_n_per_m=32690, slack_m=0.05)

    assert round(force) == 3897


def test_wire_of_18_kn_keeps_2_756_of_its_strength_after_a_tenth_of_a_metre():
    force = slack_drop_force_n(**WIRE, slack_m=0.1)

    assert 18000 / force == pytest.approx(2.756, abs=5e-4)


@pytest.mark.parametrize(("line", "force_n"), [(ROPE, 1711), (WIRE, 3148)])
def test_stop_from_half_a_metre_a_second_makes_the_force_of_the_worked_example(line, force_n):
    force = sudden_stop_force_n(
        mass_kg=140, speed_m_per_s=0.5, stiffness_n_per_m=line["stiffness_n_per_m"]
    )

    assert round(force) == force_n


@pytest.mark.parametrize(("force_n", "travel_m"), [(4000, 0.2613), (6000, 0.1484)])
def test_absorber_runs_out_as_in_the_worked_example(force_n, travel_m):
    travel = absorber_travel_m(weight_n=WEIGHT_N, free_fall_m=0.5, absorber_force_n=force_n)

    assert round(travel, 4) == travel_m


@pytest.mark.parametrize(("line", "slack_m"), [(ROPE, 2.175), (WIRE, 0.0790)])
def test_six_kilonewtons_allow_the_slack_of_the_worked_example(line, slack_m):
    allowed = largest_slack_m(**line, force_limit_n=6000)

    assert allowed == pytest.approx(slack_m, rel=5e-4)


@given(mass_kg=st.floats(40, 250), stiffness_n_per_m=st.floats(1e3, 1e5), height_m=st.floats(0, 1))
@settings(max_examples=15, deadline=None)
def test_peak_force_is_that_of_the_fall_integrated_in_time(mass_kg, stiffness_n_per_m, height_m):
    force = slack_drop_force_n(
        weight_n=mass_kg * GRAVITY, stiffness_n_per_m=stiffness_n_per_m, slack_m=height_m
    )

    integrated_n = caught_force_n(mass_kg, stiffness_n_per_m, height_m, 0)
    assert force == pytest.approx(integrated_n, rel=1e-4)


@given(mass_kg=st.floats(40, 250), stiffness_n_per_m=st.floats(1e3, 1e5), speed=st.floats(0.05, 2))
@settings(max_examples=15, deadline=None)
def test_sudden_stop_is_that_of_the_load_integrated_from_its_hanging_rest(
    mass_kg, stiffness_n_per_m, speed
):
    """At rest the line is already stretched, so the load starts below the taut line."""
    stretched_m = mass_kg * GRAVITY / stiffness_n_per_m

    force = sudden_stop_force_n(
        mass_kg=mass_kg, speed_m_per_s=speed, stiffness_n_per_m=stiffness_n_per_m
    )

    integrated_n = caught_force_n(mass_kg, stiffness_n_per_m, -stretched_m, speed)
    assert force == pytest.approx(integrated_n, rel=1e-4)


@given(weight_n=weight, free_fall_m=st.floats(0.05, 2), above=st.floats(0.2, 5))
@settings(max_examples=30)
def test_absorber_stops_the_load_where_its_speed_runs_out(weight_n, free_fall_m, above):
    """By motion: speed after the fall, then even braking by absorber less weight."""
    force_n = weight_n * (1 + above)
    speed = math.sqrt(2 * GRAVITY * free_fall_m)
    braking = (force_n - weight_n) / (weight_n / GRAVITY)

    travel = absorber_travel_m(weight_n=weight_n, free_fall_m=free_fall_m, absorber_force_n=force_n)

    assert travel == pytest.approx(speed**2 / (2 * braking), rel=1e-9)


def test_slack_drop_is_the_larger_root_of_the_energy_equation():
    """Height lost, slack and stretch, against the energy in the line."""
    weight_n, k, h, force = sympy.symbols("W k h F", positive=True)
    roots = sympy.solve(sympy.Eq(weight_n * (h + force / k), force**2 / (2 * k)), force)
    values = {weight_n: 1000.0, k: 5000.0, h: 0.4}
    largest_n = max(float(root.subs(values)) for root in roots)

    force_n = slack_drop_force_n(weight_n=1000, stiffness_n_per_m=5000, slack_m=0.4)

    assert force_n == pytest.approx(largest_n)


@given(weight_n=weight, stiffness_n_per_m=stiffness, slack_m=slack)
def test_caught_load_never_pulls_less_than_twice_its_weight(weight_n, stiffness_n_per_m, slack_m):
    force = slack_drop_force_n(
        weight_n=weight_n, stiffness_n_per_m=stiffness_n_per_m, slack_m=slack_m
    )

    assert force >= 2 * weight_n * (1 - 1e-12)


def test_load_let_go_onto_a_just_taut_line_pulls_exactly_twice_its_weight():
    assert slack_drop_force_n(**WIRE, slack_m=0) == least_peak_n(WEIGHT_N) == 2 * WEIGHT_N


@given(weight_n=weight, stiffness_n_per_m=stiffness, slack_m=slack)
def test_largest_slack_turns_the_peak_force_back_into_its_slack(
    weight_n, stiffness_n_per_m, slack_m
):
    line = {"weight_n": weight_n, "stiffness_n_per_m": stiffness_n_per_m}
    limit_n = max(2 * weight_n, slack_drop_force_n(**line, slack_m=slack_m))

    allowed_m = largest_slack_m(**line, force_limit_n=limit_n)

    assert allowed_m == pytest.approx(slack_m, rel=1e-6, abs=1e-9)


@given(
    weight_n=weight,
    extra_n=st.floats(0, 1000),
    stiffness_n_per_m=stiffness,
    stiffer=st.floats(0, 50e3),
    slack_m=slack,
    more_m=st.floats(0, 1),
)
def test_heavier_load_stiffer_line_or_more_slack_never_softens_the_shock(
    weight_n, extra_n, stiffness_n_per_m, stiffer, slack_m, more_m
):
    now = {"weight_n": weight_n, "stiffness_n_per_m": stiffness_n_per_m, "slack_m": slack_m}
    harder = {
        "weight_n": weight_n + extra_n,
        "stiffness_n_per_m": stiffness_n_per_m + stiffer,
        "slack_m": slack_m + more_m,
    }

    now_n = slack_drop_force_n(**now)

    for name, value in harder.items():
        assert slack_drop_force_n(**{**now, name: value}) >= now_n * (1 - 1e-12)


@given(weight_n=weight, extra_n=st.floats(0, 300), k=stiffness, stiffer=st.floats(0, 50e3))
def test_heavier_load_or_stiffer_line_never_allows_more_slack(weight_n, extra_n, k, stiffer):
    limit_n = 2 * (weight_n + extra_n) + 500

    allowed_m = largest_slack_m(weight_n=weight_n, stiffness_n_per_m=k, force_limit_n=limit_n)
    heavier_m = largest_slack_m(
        weight_n=weight_n + extra_n, stiffness_n_per_m=k, force_limit_n=limit_n
    )
    stiffer_m = largest_slack_m(
        weight_n=weight_n, stiffness_n_per_m=k + stiffer, force_limit_n=limit_n
    )

    assert heavier_m <= allowed_m * (1 + 1e-9)
    assert stiffer_m <= allowed_m * (1 + 1e-9)


@given(pieces=st.lists(st.tuples(st.floats(0.1, 50), st.floats(1e4, 1e6)), min_size=1, max_size=5))
def test_pieces_in_a_row_give_as_the_chain_of_springs_solved_for_its_joints(pieces):
    """Stiffness matrix of springs in a row, fixed at one end, pulled by 1 N at the other."""
    springs = [modulus_n / length_m for length_m, modulus_n in pieces]
    matrix = np.zeros((len(springs), len(springs)))
    for at, one in enumerate(springs):
        matrix[at, at] += one
        if at > 0:
            matrix[at - 1, at - 1] += one
            matrix[at - 1, at] -= one
            matrix[at, at - 1] -= one
    pull = np.zeros(len(springs))
    pull[-1] = 1.0

    moved_m = np.linalg.solve(matrix, pull)[-1]

    assert series_stiffness_n_per_m(pieces) == pytest.approx(1 / moved_m, rel=1e-6)


def test_rope_before_the_wire_takes_the_edge_off_the_shock():
    wire = series_stiffness_n_per_m([(10.0, 0.9e6)])
    with_rope = series_stiffness_n_per_m([(10.0, 0.9e6), (1.0, 32690.0)])

    wire_n = slack_drop_force_n(weight_n=WEIGHT_N, stiffness_n_per_m=wire, slack_m=0.1)
    softer_n = slack_drop_force_n(weight_n=WEIGHT_N, stiffness_n_per_m=with_rope, slack_m=0.1)

    assert softer_n < wire_n


@pytest.mark.parametrize("pieces", [[], [(0.0, 0.9e6)]])
def test_line_without_length_is_refused(pieces):
    with pytest.raises(ValueError, match="no line that could stretch"):
        series_stiffness_n_per_m(pieces)


@pytest.mark.parametrize("force_n", [1000.0, 999.0])
def test_absorber_that_cannot_hold_the_load_is_refused(force_n):
    with pytest.raises(ValueError, match=rf"above the weight of 1000 N, got {force_n:g} N"):
        absorber_travel_m(weight_n=1000.0, free_fall_m=0.5, absorber_force_n=force_n)


def test_limit_below_twice_the_weight_is_refused():
    with pytest.raises(ValueError, match=r"twice the weight, 2000 N, got a limit of 1999 N"):
        largest_slack_m(weight_n=1000.0, stiffness_n_per_m=3000, force_limit_n=1999.0)


def test_limit_of_exactly_twice_the_weight_allows_no_slack():
    assert largest_slack_m(weight_n=1000.0, stiffness_n_per_m=3000, force_limit_n=2000.0) == 0


@pytest.mark.parametrize(
    ("result", "dimension"),
    [
        pytest.param(
            lambda: rope_modulus_n(force_step_n=981 * N, elongation=0.03),
            "[force]",
            id="rope_modulus_n",
        ),
        pytest.param(
            lambda: series_stiffness_n_per_m([(10 * M, 3e4 * N), (2 * M, 9e5 * N)]),
            "[force]/[length]",
            id="series_stiffness_n_per_m",
        ),
        pytest.param(lambda: least_peak_n(900 * N), "[force]", id="least_peak_n"),
        pytest.param(
            lambda: absorber_travel_m(
                weight_n=900 * N, free_fall_m=0.5 * M, absorber_force_n=4000 * N
            ),
            "[length]",
            id="absorber_travel_m",
        ),
        pytest.param(
            lambda: largest_slack_m(
                weight_n=900 * N, stiffness_n_per_m=3000 * N / M, force_limit_n=6000 * N
            ),
            "[length]",
            id="largest_slack_m",
        ),
    ],
)
def test_result_has_the_dimension_its_name_says(result, dimension):
    assert result().check(dimension)


@given(forces=st.floats(0.1, 10), lengths=st.floats(0.1, 10))
def test_peak_force_changes_with_the_unit_of_force_and_not_with_that_of_length(forces, lengths):
    """For the dimension: `math.sqrt` takes no quantity."""
    plain_n = slack_drop_force_n(weight_n=900, stiffness_n_per_m=3000, slack_m=0.4)

    in_other_units = slack_drop_force_n(
        weight_n=900 * forces, stiffness_n_per_m=3000 * forces / lengths, slack_m=0.4 * lengths
    )

    assert in_other_units == pytest.approx(plain_n * forces, rel=1e-9)
