"""Gas let out and air breathed in a closed space, against the balance solved by scipy."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planbuilder.response.release import (
    carbon_dioxide_built_up_s,
    displaced_part,
    oxygen_used_s,
    rise_time_s,
)

LITRE_A_MINUTE = 1e-3 / 60
UNITS: Any = pint.UnitRegistry()


def of_oxygen(oxygen):
    return displaced_part(oxygen=oxygen, oxygen_of_air=0.209)


@pytest.mark.parametrize(
    ("oxygen", "minutes"), [(0.195, 6.933), (0.16, 26.72), (0.10, 73.72), (0.06, 124.8)]
)
def test_100_litres_of_inert_gas_a_minute_in_10_m3(oxygen, minutes):
    time_s = rise_time_s(
        volume_m3=10, release_m3_per_s=100 * LITRE_A_MINUTE, start=0, danger=of_oxygen(oxygen)
    )

    assert time_s / 60 == pytest.approx(minutes, rel=1e-3)


@pytest.mark.parametrize(
    ("oxygen", "seconds"), [(0.195, 8.320), (0.16, 32.06), (0.10, 88.46), (0.06, 149.8)]
)
def test_5_m3_of_inert_gas_a_minute_in_10_m3(oxygen, seconds):
    time_s = rise_time_s(volume_m3=10, release_m3_per_s=5 / 60, start=0, danger=of_oxygen(oxygen))

    assert time_s == pytest.approx(seconds, rel=1e-3)


def test_an_opening_is_reckoned_with_as_the_quicker_case():
    """Without one the pressure rises and 19.5 % is reached after 7.179 min instead of 6.933."""
    vented = rise_time_s(
        volume_m3=10, release_m3_per_s=100 * LITRE_A_MINUTE, start=0, danger=of_oxygen(0.195)
    )

    assert vented / 60 < 10 / 0.1 * (0.209 / 0.195 - 1)


@pytest.mark.parametrize(("limit", "minutes"), [(0.05, 12.53), (0.044, 11.02)])
def test_10_litres_of_methane_a_minute_in_25_m3_to_a_tenth_of_the_limit(limit, minutes):
    time_s = rise_time_s(
        volume_m3=25, release_m3_per_s=10 * LITRE_A_MINUTE, start=0, danger=0.1 * limit
    )

    assert round(time_s / 60, 2) == minutes


def test_half_a_litre_of_hydrogen_sulfide_a_minute_in_30_m3_from_10_to_100_ppm():
    time_s = rise_time_s(
        volume_m3=30, release_m3_per_s=0.5 * LITRE_A_MINUTE, start=10e-6, danger=100e-6
    )

    assert time_s / 60 == pytest.approx(5.400, rel=1e-4)


def test_carbon_dioxide_comes_long_before_oxygen_runs_low():
    oxygen_s = oxygen_used_s(volume_m3=20, people=1, uptake_m3_per_s=LITRE_A_MINUTE, oxygen=0.195)
    carbon_dioxide_s = carbon_dioxide_built_up_s(
        volume_m3=20, people=1, output_m3_per_s=0.85 * LITRE_A_MINUTE, carbon_dioxide=0.005
    )

    assert oxygen_s / 60 == pytest.approx(280.0, rel=1e-4)
    assert carbon_dioxide_s / 60 == pytest.approx(108.2, rel=1e-3)
    assert oxygen_used_s(
        volume_m3=20, people=2, uptake_m3_per_s=LITRE_A_MINUTE, oxygen=0.195
    ) / 60 == pytest.approx(140.0, rel=1e-4)


@settings(deadline=None)
@given(
    volume_m3=st.floats(1, 500),
    release=st.floats(1e-6, 1e-2),
    start=st.floats(0, 0.2),
    more=st.floats(0.001, 0.5),
)
def test_the_rise_is_what_the_solver_finds(volume_m3, release, start, more):
    """Gas comes in, as much of the mixture goes out at the opening."""
    time_s = rise_time_s(
        volume_m3=volume_m3, release_m3_per_s=release, start=start, danger=start + more
    )
    run = solve_ivp(
        lambda _, part: release * (1 - part) / volume_m3, (0, time_s), [start], rtol=1e-9
    )

    assert run.y[0][-1] == pytest.approx(start + more, rel=1e-6)


@given(
    volume_m3=st.floats(1, 500),
    release=st.floats(1e-6, 1e-2),
    alarm=st.floats(0, 0.2),
    worse=st.floats(1, 3),
)
def test_a_larger_release_a_later_alarm_or_less_space_never_leave_more_time(
    volume_m3, release, alarm, worse
):
    def time_s(volume_m3=volume_m3, release=release, alarm=alarm):
        return rise_time_s(volume_m3=volume_m3, release_m3_per_s=release, start=alarm, danger=0.3)

    assert time_s(release=release * worse) <= time_s()
    assert time_s(alarm=alarm * worse) <= time_s()
    assert time_s(volume_m3=volume_m3 / worse) <= time_s()


def test_an_alarm_beyond_the_danger_leaves_no_time():
    assert rise_time_s(volume_m3=10, release_m3_per_s=1e-3, start=0.2, danger=0.1) == 0


@pytest.mark.parametrize(("release", "danger"), [(0, 0.1), (-1, 0.1), (math.nan, 0.1), (1e-3, 1.0)])
def test_what_cannot_be_is_refused(release, danger):
    with pytest.raises(ValueError, match="must be"):
        rise_time_s(volume_m3=10, release_m3_per_s=release, start=0, danger=danger)


def test_dimensions():
    volume, rate = UNITS.Quantity(20, "m**3"), UNITS.Quantity(1e-3, "m**3/s")
    used: Any = oxygen_used_s(volume_m3=volume, people=2, uptake_m3_per_s=rate, oxygen=0.195)
    built: Any = carbon_dioxide_built_up_s(
        volume_m3=volume, people=2, output_m3_per_s=rate, carbon_dioxide=0.005
    )

    assert used.check("[time]")
    assert built.check("[time]")
    # The rise compares with 0, which a quantity with a unit cannot: its scale stands in.
    twice = rise_time_s(volume_m3=20, release_m3_per_s=1e-3, start=0, danger=0.1)
    assert twice == pytest.approx(
        2 * rise_time_s(volume_m3=10, release_m3_per_s=1e-3, start=0, danger=0.1)
    )
