"""Ventilation: the dilution equation against scipy's solver of differential equations."""

from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planbuilder.response.ventilation import (
    OXYGEN_OF_AIR,
    fresh_air_m3_per_s,
    lacking_oxygen,
    least_flow_m3_per_s,
    part_after,
    purge_time_s,
    steady_part,
)

PPM = 1e-6
FLOW = 15 / 60  # 15 m3/min
FRESH = fresh_air_m3_per_s(flow_m3_per_s=FLOW, mixing_factor=3)
UNITS: Any = pint.UnitRegistry()


def solved(time_s, *, volume_m3, flow_m3_per_s, source_m3_per_s, start, supply=0.0):
    """The part of the gas after *time_s*, by a solver that knows only the balance of gas."""
    run = solve_ivp(
        lambda _, part: (source_m3_per_s + flow_m3_per_s * (supply - part)) / volume_m3,
        (0, time_s),
        [start],
        rtol=1e-10,
        atol=1e-15,
    )
    return run.y[0][-1]


def test_purge_of_30_m3_from_400_to_10_ppm_takes_22_13_min():
    time_s = purge_time_s(
        volume_m3=30, fresh_air_m3_per_s=FRESH, start=400 * PPM, target=10 * PPM, steady=0
    )

    assert round(time_s / 60, 2) == 22.13
    assert round(time_s / 60 / 3, 3) == 7.378  # with perfect mixing


def test_a_source_that_goes_on_makes_it_25_14_min():
    source = 0.02e-3 / 60
    steady = steady_part(source_m3_per_s=source, fresh_air_m3_per_s=FRESH)
    time_s = purge_time_s(
        volume_m3=30, fresh_air_m3_per_s=FRESH, start=400 * PPM, target=10 * PPM, steady=steady
    )

    assert steady == pytest.approx(4 * PPM)
    assert round(time_s / 60, 2) == 25.14
    assert solved(
        time_s, volume_m3=30, flow_m3_per_s=FRESH, source_m3_per_s=source, start=400 * PPM
    ) == pytest.approx(10 * PPM, rel=1e-6)


def test_oxygen_from_8_to_19_5_per_cent_takes_13_32_min():
    time_s = purge_time_s(
        volume_m3=30,
        fresh_air_m3_per_s=FRESH,
        start=lacking_oxygen(0.08),
        target=lacking_oxygen(0.195),
        steady=0,
    )

    assert round(time_s / 60, 2) == 13.32


@pytest.mark.parametrize(("limit", "litres_a_minute"), [(0.05, 6000), (0.044, 6818)])
def test_10_litres_of_methane_a_minute_need_6000_or_6818_litres_of_air(limit, litres_a_minute):
    flow = least_flow_m3_per_s(source_m3_per_s=10e-3 / 60, mixing_factor=3, target=0.1 * limit)

    assert round(flow * 60e3) == litres_a_minute


def test_inert_gas_is_counted_on_the_strict_side():
    """5 m3/min, K 3, 0.1 m3/min of inert gas: 19.72 % exactly, 19.65 % by this equation."""
    fresh = fresh_air_m3_per_s(flow_m3_per_s=5 / 60, mixing_factor=3)
    lack = steady_part(source_m3_per_s=OXYGEN_OF_AIR * 0.1 / 60, fresh_air_m3_per_s=fresh)
    exact = OXYGEN_OF_AIR * fresh / (fresh + 0.1 / 60)

    assert round(exact, 4) == 0.1972
    assert exact - 0.001 < OXYGEN_OF_AIR - lack <= exact


@settings(deadline=None)
@given(
    volume_m3=st.floats(1, 500),
    flow=st.floats(0.02, 2),
    start=st.floats(50 * PPM, 0.5),
    source=st.floats(0, 1e-5),
    supply=st.floats(0, 20 * PPM),
    time_s=st.floats(1, 3600),
)
def test_what_is_left_is_what_the_solver_finds(volume_m3, flow, start, source, supply, time_s):
    steady = steady_part(source_m3_per_s=source, fresh_air_m3_per_s=flow, supply=supply)
    left = part_after(
        time_s=time_s, volume_m3=volume_m3, fresh_air_m3_per_s=flow, start=start, steady=steady
    )
    found = solved(
        time_s,
        volume_m3=volume_m3,
        flow_m3_per_s=flow,
        source_m3_per_s=source,
        start=start,
        supply=supply,
    )

    assert left == pytest.approx(found, rel=1e-5, abs=1e-11)


@given(
    volume_m3=st.floats(1, 500),
    flow=st.floats(0.02, 2),
    factor=st.floats(1, 10),
    source=st.floats(0, 1e-7),
    worse=st.floats(1, 3),
)
def test_more_space_gas_and_worse_mixing_never_shorten_a_purge(
    volume_m3, flow, factor, source, worse
):
    def time_s(**changed):
        facts = {"v": volume_m3, "q": flow, "k": factor, "g": source, "c": 400 * PPM, **changed}
        fresh = fresh_air_m3_per_s(flow_m3_per_s=facts["q"], mixing_factor=facts["k"])
        steady = steady_part(source_m3_per_s=facts["g"], fresh_air_m3_per_s=fresh)
        return purge_time_s(
            volume_m3=facts["v"],
            fresh_air_m3_per_s=fresh,
            start=facts["c"],
            target=200 * PPM,
            steady=steady,
        )

    plain = time_s()
    assert time_s(v=volume_m3 * worse) >= plain
    assert time_s(k=factor * worse) >= plain
    assert time_s(g=source * worse) >= plain
    assert time_s(c=400 * PPM * worse) >= plain
    assert time_s(q=flow / worse) >= plain * (1 - 1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: fresh_air_m3_per_s(flow_m3_per_s=0, mixing_factor=3),
        lambda: fresh_air_m3_per_s(flow_m3_per_s=1, mixing_factor=0.9),
        lambda: fresh_air_m3_per_s(flow_m3_per_s=float("nan"), mixing_factor=3),
        lambda: lacking_oxygen(0.21),
        lambda: least_flow_m3_per_s(
            source_m3_per_s=1e-6, mixing_factor=3, target=1e-5, supply=1e-5
        ),
        lambda: purge_time_s(
            volume_m3=30, fresh_air_m3_per_s=1, start=0.1, target=0.01, steady=0.01
        ),
    ],
)
def test_what_cannot_be_is_refused(call):
    with pytest.raises(ValueError, match=r"must|lies|no flow"):
        call()


def test_air_within_the_target_needs_no_time():
    assert (
        purge_time_s(volume_m3=30, fresh_air_m3_per_s=1, start=0.001, target=0.1, steady=0.01) == 0
    )


def test_dimensions():
    metre3, rate = UNITS.Quantity(30, "m**3"), UNITS.Quantity(0.2, "m**3/s")
    fresh: Any = fresh_air_m3_per_s(flow_m3_per_s=rate, mixing_factor=3)
    time: Any = purge_time_s(
        volume_m3=metre3, fresh_air_m3_per_s=fresh, start=0.1, target=0.01, steady=0.0
    )
    least: Any = least_flow_m3_per_s(source_m3_per_s=rate, mixing_factor=3, target=0.1)
    steady: Any = steady_part(
        source_m3_per_s=rate, fresh_air_m3_per_s=rate, supply=UNITS.Quantity(0.0, "")
    )

    assert time.check("[time]")
    assert least.check("[length]**3/[time]")
    assert steady.check("[]")
    assert part_after(
        time_s=time, volume_m3=metre3, fresh_air_m3_per_s=fresh, start=0.1, steady=0.0
    ) == pytest.approx(0.01)
