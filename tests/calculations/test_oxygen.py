"""Thin air and useful consciousness, against other tables of the standard atmosphere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.oxygen import (
    AIR_OXYGEN_FRACTION,
    Consciousness,
    air_pressure_pa,
    sea_level_oxygen,
    useful_consciousness_s,
)

ROWS = (Consciousness(3000.0, 600.0), Consciousness(6000.0, 300.0), Consciousness(9000.0, 60.0))


# US standard atmosphere 1976, geopotential altitude, as printed in its tables (recalled).
@pytest.mark.parametrize(
    ("altitude_m", "pressure_pa"),
    [(0, 101325), (1000, 89875), (3000, 70109), (5000, 54020), (11000, 22632), (15000, 12045)],
)
def test_pressure_is_that_of_the_standard_atmosphere(altitude_m, pressure_pa):
    assert air_pressure_pa(altitude_m) == pytest.approx(pressure_pa, rel=2e-4)


# Reference page of this project, table 2.2: flight level, moist equivalent in per cent.
@pytest.mark.parametrize(
    ("flight_level", "dry", "moist"),
    [
        (150, 11.82, 11.22),
        (180, 10.46, 9.770),
        (220, 8.848, 8.049),
        (250, 7.774, 6.905),
        (280, 6.809, 5.876),
        (300, 6.221, 5.250),
        (350, 4.930, 3.873),
        (400, 3.878, 2.751),
        (430, 3.357, 2.196),
    ],
)
def test_oxygen_at_a_flight_level_has_its_twin_at_sea_level(flight_level, dry, moist):
    altitude_m = flight_level * 100 * 0.3048

    assert 20.95 * air_pressure_pa(altitude_m) / 101325 == pytest.approx(dry, rel=6e-4)
    assert 100 * sea_level_oxygen(AIR_OXYGEN_FRACTION, altitude_m) == pytest.approx(moist, rel=6e-4)


def test_at_sea_level_oxygen_is_itself():
    assert sea_level_oxygen(0.12, 0.0) == pytest.approx(0.12)


def test_between_two_rows_the_thinner_one_speaks():
    between = (ROWS[0].oxygen_fraction + ROWS[1].oxygen_fraction) / 2

    assert useful_consciousness_s(ROWS, between) == 300.0
    assert useful_consciousness_s(reversed(ROWS), between) == 300.0


@pytest.mark.parametrize(("fraction", "time_s"), [(0.2, 600.0), (0.0, 60.0)])
def test_beyond_the_table_its_ends_speak(fraction, time_s):
    assert useful_consciousness_s(ROWS, fraction) == time_s


@given(
    fraction=st.floats(0, 0.2095),
    less=st.floats(0, 0.2),
    altitude_m=st.floats(-400, 12000),
    higher_m=st.floats(0, 4000),
)
def test_less_oxygen_or_thinner_air_never_leaves_more_time(fraction, less, altitude_m, higher_m):
    poorer = max(0.0, fraction - less)

    for worse in (
        sea_level_oxygen(poorer, altitude_m),
        sea_level_oxygen(fraction, altitude_m + higher_m),
    ):
        before = sea_level_oxygen(fraction, altitude_m)
        assert worse <= before * (1 + 1e-9)
        assert useful_consciousness_s(ROWS, worse) <= useful_consciousness_s(
            ROWS, before * (1 + 1e-9)
        )
