"""Ways on foot and by road. W24 and W25 are worked examples of the reference; others derived."""

import math
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from planbuilder.response.teams import cover_s
from planbuilder.response.travel import (
    MILE_M,
    off_site_s,
    road_acceleration_m_per_s2,
    road_junction_m,
    road_s,
    route_s,
    stretch_s,
)

IN = ((60, 1.2), (12, 0.5), (6, 0.25), (8, 0.15))
OUT = ((8, 0.10), (6, 0.05), (12, 0.2), (60, 0.8))


def times(way):
    return [stretch_s(length_m=length, speed_m_per_s=speed) for length, speed in way]


def test_way_in_and_way_out_w25():
    assert times(IN) == pytest.approx([50.00, 24.00, 24.00, 53.33], abs=0.005)
    assert route_s(stretches_s=times(IN), pauses_s=(), factor=1) == pytest.approx(151.3, abs=0.05)
    assert times(OUT) == pytest.approx([80, 120, 60, 75])
    assert route_s(stretches_s=times(OUT), pauses_s=(), factor=1) == pytest.approx(335.0)


def test_off_site_team_12_km_away_w24():
    """The example rounds 1.7 min a mile to 1.056 min/km: 13.32 min; unrounded it is 13.33."""
    drive_s = road_s(distance_m=12_000)
    total_s = off_site_s(call_s=64, turn_out_s=80, drive_s=drive_s, walk_in_s=180)

    assert drive_s / 60 == pytest.approx(13.32, abs=0.01)
    assert total_s / 60 == pytest.approx(18.72, abs=0.01)


def test_a_short_drive_speeds_up_half_the_way_and_slows_down_the_rest():
    """Time as the integral of distance over speed, numerically."""
    distance = road_junction_m() / 2
    rate = road_acceleration_m_per_s2()

    half, _ = quad(lambda x: 1 / math.sqrt(2 * rate * x), 0, distance / 2)

    assert road_s(distance_m=distance) == pytest.approx(2 * half, rel=1e-6)


@pytest.mark.parametrize("miles", [0, 8.01, math.nan])
def test_the_road_formula_says_where_it_ends(miles):
    with pytest.raises(ValueError, match="8 miles"):
        road_s(distance_m=miles * MILE_M)


def test_dress_makes_nobody_faster():
    with pytest.raises(ValueError, match="faster"):
        route_s(stretches_s=(10,), pauses_s=(), factor=0.9)


@given(distance=st.floats(1, 12_000), more=st.floats(0, 800))
def test_a_longer_road_is_never_quicker(distance, more):
    assert road_s(distance_m=distance + more) >= road_s(distance_m=distance)


@given(
    length=st.floats(1, 500),
    longer=st.floats(0, 500),
    speed=st.floats(0.05, 2),
    slower=st.floats(0.1, 1),
    pause=st.floats(0, 600),
    factor=st.floats(1, 3),
)
def test_a_longer_slower_way_with_pauses_is_never_quicker(
    length, longer, speed, slower, pause, factor
):
    plain = stretch_s(length_m=length, speed_m_per_s=speed)
    worse = stretch_s(length_m=length + longer, speed_m_per_s=speed * slower)

    assert worse >= plain
    assert (
        route_s(stretches_s=(worse,), pauses_s=(pause,), factor=factor)
        >= route_s(stretches_s=(plain,), pauses_s=(), factor=1) - 1e-9
    )


def test_lengths_over_speeds_and_sums_of_times_are_times():
    units: Any = pint.UnitRegistry()
    seconds = units.Quantity(1.0, "s")

    stretch = stretch_s(length_m=units.Quantity(1.0, "m"), speed_m_per_s=units.Quantity(1.0, "m/s"))
    whole = route_s(stretches_s=(stretch,), pauses_s=(), factor=1)
    journey = off_site_s(call_s=seconds, turn_out_s=seconds, drive_s=stretch, walk_in_s=seconds)
    ready = cover_s(
        notify_s=seconds, derig_s=seconds, walk_s=stretch, rig_s=seconds, don_s=0 * seconds
    )

    times: tuple[Any, ...] = (stretch, whole, journey, ready)
    assert all(one.check("[time]") for one in times)
