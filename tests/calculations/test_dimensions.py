"""Dimensions: every function with dimensional arithmetic, called with pint quantities.

Functions that put a dimensional value into `math` cannot take a quantity; test_length_scale.py
stands in for those. Left out, having no dimensional arithmetic: `air_limit_s` and the gas classes
(a fraction in, a class out), `advantage` (plain numbers) and `critical_path` (ids).
"""

from typing import Any

import pint
import pytest

from planbuilder.clearance import fall, lift
from planbuilder.haul import drum, friction, load, ropes, strokes
from planbuilder.response import detection, network, spread

UNITS: Any = pint.UnitRegistry()
KG, M, N, S, RAD = (UNITS.Quantity(1.0, unit) for unit in ("kg", "m", "N", "s", "rad"))
NUMBER = UNITS.Quantity(1.0, "dimensionless")

DRUM = {"drum_diameter_m": 0.1 * M, "line_diameter_m": 0.005 * M}
HANG = {"block_m": 0.2 * M, "connector_m": 0.1 * M, "sling_m": 0 * M, "coaming_m": 0 * M}
LANYARD = {
    "connector_m": 1.8 * M,
    "deceleration_m": 1 * M,
    "hanging_m": fall.hanging_by_dring_m(harness_stretch_m=0.3 * M, hanging_dring_m=1.5 * M),
    "margin_m": 0.9 * M,
}
TASKS = (network.Activity("a", 60 * S, ()), network.Activity("b", 30 * S, ("a",)))

CASES = [
    pytest.param(
        lambda: load.line_mass_kg(
            body_kg=80 * KG,
            clothing_kg=3 * KG,
            protective_kg=3 * KG,
            wet_ratio=1.0,
            stretcher_kg=9 * KG,
            attendant_kg=0 * KG,
            rigging_kg=1 * KG,
        ),
        KG,
        id="line_mass_kg",
    ),
    pytest.param(lambda: drum.layer_radius_m(**DRUM, layer=3), M, id="layer_radius_m"),
    pytest.param(
        lambda: NUMBER * drum.turns_per_layer(drum_width_m=0.08 * M, line_diameter_m=0.005 * M),
        NUMBER,
        id="turns_per_layer",
    ),
    pytest.param(
        lambda: drum.layer_capacity_m(**DRUM, drum_width_m=0.08 * M, layer=2),
        M,
        id="layer_capacity_m",
    ),
    pytest.param(
        lambda: drum.drum_capacity_m(**DRUM, drum_width_m=0.08 * M, layers=2),
        M,
        id="drum_capacity_m",
    ),
    pytest.param(
        lambda: NUMBER * drum.layers_needed(**DRUM, drum_width_m=0.08 * M, line_length_m=20 * M),
        NUMBER,
        id="layers_needed",
    ),
    pytest.param(
        lambda: drum.load_at_layer_n(
            rated_load_n=1400 * N, rated_radius_m=0.05 * M, layer_radius_m=0.07 * M
        ),
        N,
        id="load_at_layer_n",
    ),
    pytest.param(
        lambda: drum.line_required_m(
            parts=2,
            attachment_depth_m=6 * M,
            head_height_m=2 * M,
            connector_m=0.3 * M,
            head_to_drum_m=1 * M,
            dead_wraps=3,
            first_layer_radius_m=0.05 * M,
            allowance_m=1 * M,
        ),
        M,
        id="line_required_m",
    ),
    pytest.param(
        lambda: strokes.hauling_time_s(
            lift_m=6 * M, haul_speed_m_per_s=0.1 * M / S, ideal_advantage=2
        ),
        S,
        id="hauling_time_s",
    ),
    pytest.param(
        lambda: ropes.haul_force_n(
            system_load_n=1400 * N,
            advantage=ropes.advantage(
                reeving=ropes.Reeving.SIMPLE, parts=(3,), efficiency=0.9, redirects=1
            ),
        ),
        N,
        id="haul_force_n",
    ),
    pytest.param(
        lambda: NUMBER * ropes.people_needed(haul_force_n=600 * N, force_per_person_n=200 * N),
        NUMBER,
        id="people_needed",
    ),
    pytest.param(
        lambda: NUMBER * friction.edge_factor([(0.4, 1.5 * RAD), (0.2, 1 * RAD)]),
        NUMBER,
        id="edge_factor",
    ),
    pytest.param(
        lambda: friction.roller_factor(efficiency=0.95 * NUMBER), NUMBER, id="roller_factor"
    ),
    pytest.param(
        lambda: friction.measured_friction(raise_n=135 * N, lower_n=34 * N, turn_rad=1.5 * RAD),
        NUMBER,
        id="measured_friction",
    ),
    pytest.param(lambda: detection.usual_delay_s(600 * S), S, id="usual_delay_s"),
    pytest.param(lambda: detection.slow_delay_s(600 * S), S, id="slow_delay_s"),
    pytest.param(
        lambda: spread.slow_duration_s(usual_s=60 * S, sigma=0.3), S, id="slow_duration_s"
    ),
    pytest.param(
        lambda: NUMBER * spread.spread_sigma(usual_s=60 * S, slow_s=90 * S),
        NUMBER,
        id="spread_sigma",
    ),
    pytest.param(
        lambda: network.finish_s(network.schedule(TASKS), "b"), S, id="schedule and finish_s"
    ),
    pytest.param(lambda: network.schedule(TASKS)[1].total_float_s, S, id="total_float_s"),
    pytest.param(
        lambda: fall.lanyard_clearance_below_anchor_m(**LANYARD),
        M,
        id="lanyard_clearance_below_anchor_m",
    ),
    pytest.param(
        lambda: fall.clearance_below_surface_m(below_anchor_m=5 * M, anchor_height_m=2 * M),
        M,
        id="clearance_below_surface_m",
    ),
    pytest.param(
        lambda: fall.lowest_anchor_m(**LANYARD, available_m=4 * M), M, id="lowest_anchor_m"
    ),
    pytest.param(
        lambda: fall.retractor_clearance_m(
            line_out_m=2 * M,
            arrest_m=1 * M,
            hanging_m=1.8 * M,
            margin_m=0.9 * M,
            anchor_height_m=3.5 * M,
        ),
        M,
        id="retractor_clearance_m",
    ),
    pytest.param(
        lambda: lift.feet_above_rim_m(**HANG, hook_height_m=2.5 * M, attachment_to_toe_m=1.8 * M),
        M,
        id="feet_above_rim_m",
    ),
    pytest.param(
        lambda: lift.hook_height_needed_m(
            **HANG, attachment_to_toe_m=1.8 * M, swing_aside_m=0.15 * M
        ),
        M,
        id="hook_height_needed_m",
    ),
    pytest.param(
        lambda: lift.seat_above_rim_m(
            **HANG, hook_height_m=2.5 * M, attachment_to_crotch_m=0.8 * M
        ),
        M,
        id="seat_above_rim_m",
    ),
    pytest.param(
        lambda: lift.attachment_to_crotch_m(stature_m=1.8 * M, harness_stretch_m=0.2 * M),
        M,
        id="attachment_to_crotch_m",
    ),
]


def same_dimension(result: Any, unit: Any) -> bool:
    return result.dimensionality == unit.dimensionality


@pytest.mark.parametrize(("result", "unit"), CASES)
def test_result_has_the_dimension_its_name_says(result, unit):
    assert same_dimension(result(), unit)


def test_weight_is_a_force(monkeypatch):
    """The constant carries its unit in its name, so the test gives it one."""
    gravity = UNITS.Quantity(load.STANDARD_GRAVITY_M_PER_S2, "m/s**2")
    monkeypatch.setattr(load, "STANDARD_GRAVITY_M_PER_S2", gravity)

    assert same_dimension(load.weight_n(80 * KG), N)


@pytest.mark.parametrize("attachment", lift.Attachment)
def test_attachment_to_toe_is_a_length(monkeypatch, attachment):
    """The foot droop carries its unit in its name, so the test gives it one."""
    monkeypatch.setattr(lift, "FOOT_DROOP_M", lift.FOOT_DROOP_M * M)

    length = lift.attachment_to_toe_m(
        attachment=attachment, stature_m=1.8 * M, harness_stretch_m=0.2 * M
    )

    assert same_dimension(length, M)
