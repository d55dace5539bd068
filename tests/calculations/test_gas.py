"""Air as a real gas: the shipped table against an equation of state, and what follows from it."""

import importlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.checks.air.air_store import air_factors
from planbuilder.response.gas import (
    STANDARD_PRESSURE_PA,
    FactorTable,
    absolute_pa,
    cooled_pressure_pa,
    free_volume_m3,
    gauge_pa,
    ideal_volume_m3,
    pressure_pa,
)

BAR, LITRE, CELSIUS = 1e5, 1e-3, 273.15
TABLE = air_factors()
MILD_K = 15 + CELSIUS


def held_l(bar: float, celsius: float = 15) -> float:
    """Free air in a 6.8 L cylinder, in L."""
    volume_m3 = free_volume_m3(
        TABLE.factor,
        water_m3=6.8 * LITRE,
        pressure_pa=bar * BAR,
        temperature_k=celsius + CELSIUS,
    )
    return volume_m3 / LITRE


def state_library() -> Any:
    """The equation of state of Lemmon and others, 2000, in a library of its own."""
    pytest.importorskip("CoolProp")
    return importlib.import_module("CoolProp.CoolProp")


@settings(deadline=None)  # the library takes seconds to load
@given(bar=st.floats(0.1, 500), celsius=st.floats(-40, 60))
def test_table_follows_the_equation_of_state(bar, celsius):
    exact = state_library().PropsSI("Z", "P", bar * BAR, "T", celsius + CELSIUS, "Air")

    assert TABLE.factor(bar * BAR, celsius + CELSIUS) == pytest.approx(exact, rel=8e-4)


@pytest.mark.parametrize(
    ("bar", "factor"), [(55, 0.985), (100, 0.984), (150, 0.996), (200, 1.021), (300, 1.101)]
)
def test_factor_at_the_pressures_of_sets(bar, factor):
    """Worked with the equation of state at 15 degC, printed to three places."""
    assert TABLE.factor(bar * BAR, MILD_K) == pytest.approx(factor, abs=6e-4)


@pytest.mark.parametrize(
    ("bar", "celsius"), [(501, 15), (-1, 15), (200, -41), (200, 61), (float("nan"), 15)]
)
def test_nothing_is_guessed_beyond_the_table(bar, celsius):
    with pytest.raises(ValueError, match="must lie between"):
        TABLE.factor(bar * BAR, celsius + CELSIUS)


def test_the_edges_of_the_table_are_inside_it():
    assert TABLE.factor(500 * BAR, 60 + CELSIUS) == TABLE.rows[-1][-1]
    assert TABLE.factor(0.0, -40 + CELSIUS) == 1.0


def test_between_four_values_the_factor_is_their_mean_in_the_middle():
    small = FactorTable((0.0, 10.0), (100.0, 200.0), ((1.0, 2.0), (3.0, 8.0)))

    assert small.factor(5.0, 150.0) == pytest.approx(3.5)


def test_w15_real_and_ideal_free_air():
    assert held_l(300) == pytest.approx(1828, abs=0.5)
    assert held_l(300) - held_l(55) == pytest.approx(1453, abs=0.6)
    ideal_m3 = ideal_volume_m3(water_m3=6.8 * LITRE, gauge_pa=300 * BAR)
    assert ideal_m3 / LITRE == pytest.approx(2040)


@pytest.mark.parametrize(("bar", "over"), [(150, 0.010), (200, 0.035), (300, 0.116)])
def test_how_much_the_usual_sum_promises_too_much(bar, over):
    assert 6.8 * bar / held_l(bar) - 1 == pytest.approx(over, abs=1.5e-3)


def test_warm_fill_cools():
    """300 bar at 40 degC is 257.5 bar at 10 degC; an ideal gas would show 271 bar."""
    cooled = cooled_pressure_pa(
        TABLE.factor,
        filled_pa=300 * BAR,
        filled_k=40 + CELSIUS,
        used_k=10 + CELSIUS,
        most_pa=TABLE.most_pa,
    )

    assert cooled / BAR == pytest.approx(257.5, abs=0.15)


def test_cooling_keeps_the_density_of_the_equation_of_state():
    library = state_library()
    cooled = cooled_pressure_pa(
        TABLE.factor,
        filled_pa=250 * BAR,
        filled_k=30 + CELSIUS,
        used_k=-15 + CELSIUS,
        most_pa=TABLE.most_pa,
    )

    before = library.PropsSI("Dmolar", "P", 250 * BAR, "T", 30 + CELSIUS, "Air")
    after = library.PropsSI("Dmolar", "P", cooled, "T", -15 + CELSIUS, "Air")
    assert after == pytest.approx(before, rel=1e-3)


@given(bar=st.floats(1, 490), celsius=st.floats(-39, 59), water_l=st.floats(0.5, 50))
def test_the_reading_goes_back_to_the_air_it_stands_for(bar, celsius, water_l):
    water_m3, temperature_k = water_l * LITRE, celsius + CELSIUS
    volume_m3 = free_volume_m3(
        TABLE.factor, water_m3=water_m3, pressure_pa=bar * BAR, temperature_k=temperature_k
    )

    back_pa = pressure_pa(
        TABLE.factor,
        water_m3=water_m3,
        volume_m3=volume_m3,
        temperature_k=temperature_k,
        most_pa=TABLE.most_pa,
    )

    assert back_pa / BAR == pytest.approx(bar, abs=1e-6)


def test_more_air_than_the_table_reaches_is_refused():
    with pytest.raises(ValueError, match="beyond the table"):
        pressure_pa(
            TABLE.factor,
            water_m3=6.8 * LITRE,
            volume_m3=3.0,
            temperature_k=MILD_K,
            most_pa=TABLE.most_pa,
        )


@given(
    bar=st.floats(60, 400),
    more=st.floats(0, 50),
    celsius=st.floats(-30, 40),
    warmer=st.floats(0, 20),
)
def test_a_lower_reading_and_a_warmer_fill_never_hold_more(bar, more, celsius, warmer):
    def cooled(filled_celsius: float) -> float:
        return cooled_pressure_pa(
            TABLE.factor,
            filled_pa=bar * BAR,
            filled_k=filled_celsius + CELSIUS,
            used_k=-30 + CELSIUS,
            most_pa=TABLE.most_pa,
        )

    assert held_l(bar, celsius) <= held_l(bar + more, celsius)
    assert cooled(celsius + warmer) <= cooled(celsius) + 1e-3


def test_gauge_and_absolute():
    assert absolute_pa(0.0) == STANDARD_PRESSURE_PA
    assert gauge_pa(absolute_pa(200 * BAR)) == pytest.approx(200 * BAR)
    assert gauge_pa(0.0) == 0.0
