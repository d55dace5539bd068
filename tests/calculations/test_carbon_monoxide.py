"""Uptake of carbon monoxide: the closed form against a stiff solver of the equation itself."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planbuilder.response.carbon_monoxide import (
    HEAVY,
    INCAPACITATING,
    RESTING_LOAD,
    Effort,
    balance_ratio,
    incapacitating_time_s,
    quick_load,
    time_to_load_s,
    uptake_time_s,
    whole_minutes_s,
)

# Air in mL/min, diffusing capacity in mL/min for each mmHg, as printed after Peterson and Stewart.
WORK = {"rest": (6e3, 30), "light": (12e3, 35), "moderate": (20e3, 40), "heavy": (30e3, 50)}


def effort(name):
    air, diffusing = WORK[name]
    return Effort(air * 1e-6 / 60, diffusing * 1e-6 / 60 / 133.322)


def minutes_to(percent, ppm, name):
    one = effort(name)
    return (
        time_to_load_s(
            uptake_s=uptake_time_s(one),
            ratio=balance_ratio(ppm / 1e6, one),
            load=percent / 100,
        )
        / 60
    )


def percent_after(minutes, ppm, name):
    """The Coburn-Forster-Kane equation as printed, in mL, minutes and mmHg, by a stiff solver."""
    air, diffusing = WORK[name]
    beta = 1 / diffusing + 713 / air

    def slope(_, blood):
        own = 0.007 - (blood * 100 / ((0.20 - blood) * 218) - ppm * 713 / 1e6) / beta
        return own / 5500

    start = [0.008 * 0.20]
    solved = solve_ivp(
        slope, (0, minutes), start, method="LSODA", rtol=1e-10, atol=1e-13, t_eval=[minutes]
    )
    return 100 * solved.y[0][-1] / 0.20


def test_heavy_work_is_what_the_limits_are_worked_out_for():
    assert effort("heavy").alveolar_air_m3_per_s == pytest.approx(HEAVY.alveolar_air_m3_per_s)
    assert effort("heavy").diffusing_m3_per_s_pa == pytest.approx(HEAVY.diffusing_m3_per_s_pa)


@pytest.mark.parametrize("name", WORK)
@pytest.mark.parametrize("ppm", [400, 800, 3200, 12800])
@pytest.mark.parametrize("share", [0.2, 0.7])
def test_the_closed_form_is_the_solution_of_the_equation(name, ppm, share):
    ratio = balance_ratio(ppm / 1e6, effort(name))
    percent = max(1.0, 100 * share * ratio / (1 + ratio))

    minutes = minutes_to(percent, ppm, name)

    assert percent_after(minutes, ppm, name) == pytest.approx(percent, rel=1e-6)


# Reference page of this project, table 2.4 (W12 among them), minutes to 30 %.
@pytest.mark.parametrize(
    ("ppm", "rest", "moderate", "heavy"),
    [
        (800, 102.7, 40.99, 29.59),
        (1200, 64.01, 25.53, 18.43),
        (1600, 46.55, 18.57, 13.40),
        (3200, 22.29, 8.889, 6.415),
        (6400, 10.92, 4.354, 3.142),
        (12800, 5.408, 2.156, 1.556),
    ],
)
def test_minutes_to_30_percent(ppm, rest, moderate, heavy):
    assert minutes_to(30, ppm, "rest") == pytest.approx(rest, rel=6e-4)
    assert minutes_to(30, ppm, "moderate") == pytest.approx(moderate, rel=6e-4)
    assert incapacitating_time_s(ppm / 1e6) / 60 == pytest.approx(heavy, rel=6e-4)


# W11: 35 ppm for 8 hours.
@pytest.mark.parametrize(
    ("name", "percent"), [("rest", 4.277), ("light", 4.910), ("moderate", 5.125)]
)
def test_eight_hours_at_35_ppm(name, percent):
    assert minutes_to(percent - 0.0006, 35, name) < 480 < minutes_to(percent + 0.0006, 35, name)


def test_a_level_whose_balance_is_lower_never_gets_there():
    assert incapacitating_time_s(200e-6) == math.inf
    assert incapacitating_time_s(0.0) == math.inf


def test_w13_the_straight_line():
    load = quick_load(fraction=3200e-6, breath_m3_per_s=20e-3 / 60, time_s=600)

    assert load == pytest.approx(0.2839, abs=5e-5)


# The same at 30 L/min, in minutes to 30 % (table 2.4).
@pytest.mark.parametrize(
    ("ppm", "minutes"),
    [(800, 28.83), (1200, 18.94), (1600, 14.06), (3200, 6.858), (6400, 3.344), (12800, 1.631)],
)
def test_the_straight_line_to_30_percent(ppm, minutes):
    load = quick_load(fraction=ppm / 1e6, breath_m3_per_s=30e-3 / 60, time_s=minutes * 60)

    assert load == pytest.approx(INCAPACITATING - RESTING_LOAD, rel=5e-4)


@pytest.mark.parametrize(
    ("time_s", "planned_s"),
    [(188.5, 180), (120, 120), (119.9, 60), (59.9, 59.9), (math.inf, math.inf)],
)
def test_a_planning_limit_is_cut_to_whole_minutes(time_s, planned_s):
    assert whole_minutes_s(time_s) == planned_s


@given(level=st.floats(0, 0.5), more=st.floats(0, 0.5))
def test_more_of_the_gas_never_leaves_more_time(level, more):
    sooner, later = incapacitating_time_s(min(1.0, level + more)), incapacitating_time_s(level)

    assert sooner <= later * (1 + 1e-9)
    assert whole_minutes_s(sooner) <= whole_minutes_s(later * (1 + 1e-9))


@given(load=st.floats(RESTING_LOAD, 0.9), more=st.floats(0, 0.09), ratio=st.floats(0.01, 1000))
def test_a_higher_load_never_comes_sooner(load, more, ratio):
    first, then = (time_to_load_s(uptake_s=1.0, ratio=ratio, load=x) for x in (load, load + more))

    assert then >= first - 1e-12
    assert not np.isnan(first)
