"""Dragging: worked examples, and the body on the slope solved for floor force and pull."""

import math
from typing import Any

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.haul.drag import drag_force_n, drag_over_lips_n
from planbuilder.haul.friction import edge_factor

UNITS: Any = pint.get_application_registry()
WEIGHT_N = 141.5 * 9.80665
FLOOR, SHEET = 0.5, 0.25
friction = st.floats(0.05, 1)


def pull_on_the_slope_n(weight_n, mu, slope_rad):
    """Unknown: floor force across the slope, pull along it; two equations, level and plumb."""
    across = np.array([-math.sin(slope_rad), math.cos(slope_rad)])
    along = np.array([math.cos(slope_rad), math.sin(slope_rad)])
    floor_and_friction = across - mu * along
    _, pull_n = np.linalg.solve(np.column_stack([floor_and_friction, along]), [0, weight_n])
    return pull_n


@pytest.mark.parametrize(
    ("mu", "slope_deg", "force_n"),
    [
        pytest.param(FLOOR, 0, 693.8, id="level floor"),
        pytest.param(FLOOR, 10, 924.2, id="floor that rises by 10 degrees"),
        pytest.param(SHEET, 0, 346.9, id="drag sheet on the level"),
    ],
)
def test_141_5_kg_take_the_force_of_the_worked_example(mu, slope_deg, force_n):
    force = drag_force_n(weight_n=WEIGHT_N, friction=mu, upslope_rad=math.radians(slope_deg))

    assert force == pytest.approx(force_n, rel=1e-4)


@given(weight_n=st.floats(300, 3000), mu=friction, share=st.floats(-1, 1))
def test_drag_force_is_that_of_the_body_on_the_slope(weight_n, mu, share):
    slope_rad = share * math.atan(1 / mu)

    force = drag_force_n(weight_n=weight_n, friction=mu, upslope_rad=slope_rad)

    assert force == pytest.approx(pull_on_the_slope_n(weight_n, mu, slope_rad), abs=1e-6)


@given(
    weight_n=st.floats(300, 3000),
    extra_n=st.floats(0, 500),
    mu=friction,
    rougher=st.floats(0, 0.3),
    slope_rad=st.floats(0, 0.3),
    steeper_rad=st.floats(0, 0.3),
    lip=st.floats(0, 1),
)
def test_heavier_rougher_steeper_or_over_a_lip_never_takes_less(
    weight_n, extra_n, mu, rougher, slope_rad, steeper_rad, lip
):
    now = {"weight_n": weight_n, "friction": mu, "upslope_rad": slope_rad}

    now_n = drag_over_lips_n(**now, edge_factor=1)
    worse = [
        {**now, "weight_n": weight_n + extra_n, "edge_factor": 1},
        {**now, "friction": mu + rougher, "edge_factor": 1},
        {**now, "upslope_rad": slope_rad + steeper_rad, "edge_factor": 1},
        {**now, "edge_factor": edge_factor([(0.4, lip)])},
    ]

    assert all(drag_over_lips_n(**one) >= now_n * (1 - 1e-9) for one in worse)


def test_manway_lip_multiplies_the_drag():
    """By hand: 0.5 times 1000 N, times the factor of a concrete lip over 90 degrees."""
    lips = [(0.44, math.pi / 2)]

    over_n = drag_over_lips_n(
        weight_n=1000, friction=0.5, upslope_rad=0, edge_factor=edge_factor(lips)
    )

    assert over_n == pytest.approx(500 * math.exp(0.44 * math.pi / 2))


def test_casualty_who_slides_by_itself_needs_holding_and_no_pull():
    """Mu 0.25 on 30 degrees down: 0.25 cos 30 less sin 30, of 1000 N."""
    slope = {"weight_n": 1000, "friction": 0.25, "upslope_rad": -math.radians(30)}

    assert drag_force_n(**slope) == pytest.approx(250 * math.sqrt(3) / 2 - 500)
    assert drag_over_lips_n(**slope, edge_factor=1.5) == 0


def test_steepest_floor_takes_the_weight_over_the_sine_of_its_slope():
    """By hand, mu 0.75: cot a = 3/4, so sin a = 4/5 and cos a = 3/5; 0.75 * 0.6 + 0.8 = 1.25."""
    steepest_rad = math.atan2(1.0, 0.75)

    force = drag_force_n(weight_n=1000, friction=0.75, upslope_rad=steepest_rad)

    assert force == pytest.approx(1250)


@pytest.mark.parametrize("slope_deg", [64, -64])
def test_slope_that_is_no_floor_is_refused(slope_deg):
    """Friction 0.5: past 63.4 degrees a steeper pull would take less force."""
    with pytest.raises(ValueError, match=r"slopes at most 1\.107 rad, got"):
        drag_force_n(weight_n=1000, friction=0.5, upslope_rad=math.radians(slope_deg))


def test_drag_is_a_force():
    force: Any = drag_force_n(weight_n=900 * UNITS.newton, friction=0.5, upslope_rad=0.1)

    assert force.check("[force]")
