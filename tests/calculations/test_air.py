"""What rescuers breathe: the worked mission of response.md 3.3, and rules of the trade."""

import importlib
import math
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.checks.air.air_store import air_factors
from planbuilder.response.air import (
    breathed_m3,
    crews_needed,
    lasts_s,
    rated_volume_m3,
    turn_back_share,
    worst_breather_factor,
)
from planbuilder.response.gas import Factor, free_volume_m3, pressure_pa

BAR, L_MIN, MIN, LITRE = 1e5, 1e-3 / 60, 60.0, 1e-3
IN, WORK, OUT = (65 * L_MIN, 6 * MIN), (75 * L_MIN, 5 * MIN), (85 * L_MIN, 9 * MIN)
WATER_M3, FULL_BAR, LEAST_BAR, AT_K = 6.8 * LITRE, 300, 55, 288.15
UNITS: Any = pint.UnitRegistry()
M3, S = UNITS.Quantity(1.0, "m**3"), UNITS.Quantity(1.0, "s")


def exact_factor() -> Factor:
    """Z from the equation of state itself."""
    pytest.importorskip("CoolProp")
    library: Any = importlib.import_module("CoolProp.CoolProp")
    return lambda pressure, kelvin: library.PropsSI("Z", "P", max(pressure, 1), "T", kelvin, "Air")


def held_m3(factor: Factor, bar: float) -> float:
    return free_volume_m3(factor, water_m3=WATER_M3, pressure_pa=bar * BAR, temperature_k=AT_K)


def reading_bar(factor: Factor, volume_m3: float) -> float:
    found = pressure_pa(
        factor, water_m3=WATER_M3, volume_m3=volume_m3, temperature_k=AT_K, most_pa=500 * BAR
    )
    return found / BAR


def test_w16_air_needed():
    assert breathed_m3((IN, WORK, OUT)) / LITRE == pytest.approx(1530)


@pytest.mark.parametrize(("exact", "slack_l"), [(True, 0.005), (False, 0.6)])
def test_w16_mission_falls_short(exact, slack_l):
    """With the equation of state to the printed figures, with the table within its 0.08 %."""
    factor = exact_factor() if exact else air_factors().factor
    usable_m3 = held_m3(factor, FULL_BAR) - held_m3(factor, LEAST_BAR)

    assert (breathed_m3((IN, WORK, OUT)) - usable_m3) / LITRE == pytest.approx(76.84, abs=slack_l)


@pytest.mark.parametrize(("exact", "slack_bar"), [(True, 0.05), (False, 0.2)])
def test_w16_readings_to_act_on(exact, slack_bar):
    factor = exact_factor() if exact else air_factors().factor
    least_m3 = held_m3(factor, LEAST_BAR)

    arrive = reading_bar(factor, least_m3 + breathed_m3((WORK, OUT)))
    leave = reading_bar(factor, least_m3 + breathed_m3((OUT,)))
    there = reading_bar(factor, held_m3(factor, FULL_BAR) - breathed_m3((IN,)))

    assert arrive == pytest.approx(236.2, abs=slack_bar)
    assert leave == pytest.approx(170.8, abs=slack_bar)
    assert there == pytest.approx(222, abs=0.6)


@pytest.mark.parametrize(("rate", "minutes"), [(40, 36.33), (65, 22.36), (85, 17.10), (100, 14.53)])
def test_how_long_the_usable_air_lasts(rate, minutes):
    factor = air_factors().factor
    usable_m3 = held_m3(factor, FULL_BAR) - held_m3(factor, LEAST_BAR)

    lasts = lasts_s(volume_m3=usable_m3, rate_m3_per_s=rate * L_MIN)

    assert lasts / MIN == pytest.approx(minutes, abs=0.015)


def test_f20_one_in_ten_breather():
    assert worst_breather_factor(0.137) == pytest.approx(1.192, abs=5e-4)
    assert worst_breather_factor(0.0) == 1.0
    assert 1530 * worst_breather_factor(0.137) == pytest.approx(1824, abs=1)


@pytest.mark.parametrize(
    ("way_in", "way_out", "bar"),
    [
        (390, 765, 217.3),  # W17, r = 1.962
        (1, 2, 218.3),  # the rule of thirds
        (1, 1, 177.5),  # halves
    ],
)
def test_w17_turn_back(way_in, way_out, bar):
    share = turn_back_share(in_m3=way_in * LITRE, out_m3=way_out * LITRE)

    assert LEAST_BAR + (FULL_BAR - LEAST_BAR) * share == pytest.approx(bar, abs=0.05)


@pytest.mark.parametrize(("minutes", "lasts"), [(10, 5.714), (5, 2.857)])
def test_w18_an_escape_set_does_not_last_its_marked_minutes(minutes, lasts):
    air_m3 = rated_volume_m3(rated_s=minutes * MIN, rate_m3_per_s=40 * L_MIN)

    assert lasts_s(volume_m3=air_m3, rate_m3_per_s=70 * L_MIN) / MIN == pytest.approx(
        lasts, abs=5e-4
    )


def test_rotation_of_crews():
    """18 minutes of air and 20 minutes of rest: three pairs."""
    assert crews_needed(work_s=18 * MIN, away_s=20 * MIN) == 3
    assert crews_needed(work_s=20 * MIN, away_s=20 * MIN) == 2


@given(work_s=st.floats(1, 3600), away_s=st.floats(0, 3600))
def test_with_that_many_crews_the_work_never_waits(work_s, away_s):
    """The first crew is back before the last of the others has finished."""
    crews = crews_needed(work_s=work_s, away_s=away_s)

    assert (crews - 1) * work_s >= away_s - 1e-6
    assert crews == 1 or (crews - 2) * work_s < away_s + 1e-6


@given(
    one=st.floats(0.01, 5),
    two=st.floats(0.01, 5),
    extra=st.floats(0, 5),
    spread=st.floats(0, 1),
    wider=st.floats(0, 1),
)
def test_more_breathing_never_leaves_more(one, two, extra, spread, wider):
    assert turn_back_share(in_m3=one, out_m3=two + extra) >= turn_back_share(in_m3=one, out_m3=two)
    assert worst_breather_factor(spread + wider) >= worst_breather_factor(spread)
    assert breathed_m3([(one, two + extra)]) >= breathed_m3([(one, two)])
    assert lasts_s(volume_m3=one, rate_m3_per_s=two + extra) <= lasts_s(
        volume_m3=one, rate_m3_per_s=two
    )


def test_a_share_leaves_the_way_out_for_every_length_of_the_way():
    """Independent of the closed form: air used up to the turn, and then r times as much."""
    usable, ratio = 1453.0, 765 / 390
    used = usable * (1 - turn_back_share(in_m3=390, out_m3=765))

    assert math.isclose(used + ratio * used, usable)


@pytest.mark.parametrize(
    ("result", "unit"),
    [
        (lambda: lasts_s(volume_m3=M3, rate_m3_per_s=M3 / S), S),
        (lambda: rated_volume_m3(rated_s=S, rate_m3_per_s=M3 / S), M3),
        (lambda: breathed_m3([(M3 / S, S)]), M3),
        (lambda: turn_back_share(in_m3=M3, out_m3=M3), M3 / M3),
    ],
)
def test_dimensions(result, unit):
    assert UNITS.Quantity(result()).dimensionality == unit.dimensionality
