"""Lag of a gas meter, and a fan on a duct, against solvers of scipy."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from planbuilder.response.duct import duct_resistance, flow_on_duct_m3_per_s
from planbuilder.response.sensing import late_on_ramp_s, line_time_s, part_at_alarm

UNITS: Any = pint.UnitRegistry()
LINE = {"length_m": 10, "diameter_m": 0.0032, "pump_flow_m3_per_s": 0.5e-3 / 60}


def test_air_takes_9_651_s_through_10_m_of_sample_line():
    assert line_time_s(**LINE) == pytest.approx(9.651, rel=1e-4)


def test_a_sensor_on_a_ramp_reads_3_620_ppm_low():
    """16.67 ppm/min and a response time of 30 s."""
    rise_per_s = 0.5e-3 / 30 / 60
    late_s = late_on_ramp_s(line_s=0, response_s=30)

    low = part_at_alarm(set_point=10e-6, rise_per_s=rise_per_s, late_s=late_s) - 10e-6

    assert low * 1e6 == pytest.approx(3.620, abs=0.002)  # the page takes ln 10 as 2.303


@settings(deadline=None)
@given(response_s=st.floats(5, 120), line_s=st.floats(0, 60))
def test_the_reading_runs_behind_as_a_first_order_sensor_does(response_s, line_s):
    """Solved over thirty time constants, when the start no longer counts."""
    constant_s = response_s / math.log(10)
    end_s = 30 * constant_s
    run = solve_ivp(
        lambda time_s, reading: (time_s - reading) / constant_s,
        (0, end_s),
        [0.0],
        rtol=1e-9,
        atol=1e-9,
    )

    behind_s = end_s - run.y[0][-1] + line_s
    assert late_on_ramp_s(line_s=line_s, response_s=response_s) == pytest.approx(behind_s, rel=1e-4)


def test_a_pump_that_draws_nothing_is_refused():
    with pytest.raises(ValueError, match="pump flow"):
        line_time_s(length_m=10, diameter_m=0.003, pump_flow_m3_per_s=0)


@given(st.floats(1, 3))
def test_a_longer_wider_or_slower_line_is_never_quicker(worse):
    plain = line_time_s(**LINE)

    assert line_time_s(**{**LINE, "length_m": 10 * worse}) >= plain
    assert line_time_s(**{**LINE, "diameter_m": 0.0032 * worse}) >= plain
    slower = {**LINE, "pump_flow_m3_per_s": LINE["pump_flow_m3_per_s"] / worse}
    assert line_time_s(**slower) >= plain


DUCT = {"length_m": 7.6, "diameter_m": 0.2, "friction": 0.03}


@pytest.mark.parametrize(
    ("bends", "bend_loss", "flow"),
    [(0, 0.33, 0.3447), (2, 0.33, 0.3317), (2, 0.6, 0.3222), (4, 0.6, 0.3036)],
)
def test_a_fan_of_0_40_m3_a_second_and_600_pa_on_7_6_m_of_duct(bends, bend_loss, flow):
    resistance = duct_resistance(**DUCT, bends=bends, bend_loss=bend_loss)

    found = flow_on_duct_m3_per_s(
        free_flow_m3_per_s=0.4, shut_pressure_pa=600, resistance=resistance
    )

    assert found == pytest.approx(flow, abs=0.00006)


@given(
    free=st.floats(0.05, 2),
    pressure=st.floats(50, 3000),
    length=st.floats(0, 100),
    bends=st.integers(0, 10),
)
def test_the_flow_is_where_fan_curve_and_duct_loss_meet(free, pressure, length, bends):
    """The duct's loss by the energy of the moving air, the meeting point by a root finder."""
    area = math.pi * 0.1**2

    def missing_pa(flow):
        moving_pa = 1.2 * (flow / area) ** 2 / 2
        loss_pa = moving_pa * (0.03 * length / 0.2 + 0.6 * bends + 1)
        return pressure * (1 - (flow / free) ** 2) - loss_pa

    found = flow_on_duct_m3_per_s(
        free_flow_m3_per_s=free,
        shut_pressure_pa=pressure,
        resistance=duct_resistance(
            length_m=length, diameter_m=0.2, friction=0.03, bends=bends, bend_loss=0.6
        ),
    )

    assert found == pytest.approx(brentq(missing_pa, 0, free), rel=1e-9)
    assert found <= free


def test_dimensions():
    metre, flow = UNITS.Quantity(1.0, "m"), UNITS.Quantity(0.4, "m**3/s")
    resistance = duct_resistance(
        length_m=metre, diameter_m=metre, friction=0.03, bends=2, bend_loss=0.6
    ) * UNITS.Quantity(1.0, "kg/m**3")  # the density of air is a plain number inside

    assert resistance.check("[mass]/[length]**7")
    assert (resistance * flow**2).check("[pressure]")
    second = UNITS.Quantity(1, "s")
    late: Any = late_on_ramp_s(line_s=second, response_s=second)
    there: Any = part_at_alarm(
        set_point=UNITS.Quantity(0.1, ""), rise_per_s=0.001 / second, late_s=second
    )
    assert late.check("[time]")
    assert there.check("[]")
