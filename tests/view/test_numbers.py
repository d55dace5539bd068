"""Printed figures: rounded against the plan, and never at odds with the verdict beside them."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from planbuilder.findings import Compared, Mark, Quantity, Relation, Source, Unit
from planbuilder.site.file import UnitSystem
from planbuilder.view.numbers import (
    amount,
    half_minutes,
    minutes,
    pair,
    stopwatch,
)
from planbuilder.view.scales import Rounding, scale_of

US, SI = UnitSystem.US, UnitSystem.SI
UP, DOWN, NEAREST = Rounding.UP, Rounding.DOWN, Rounding.NEAREST

# How many inside units one printed unit is: 1 ft = 0.3048 m and 1 lb = 0.45359237 kg exactly
# (1959), 1 lbf = 0.45359237 * 9.80665 N (CGPM 1901).
SIZES = {
    "m": 1.0,
    "mm": 0.001,
    "ft": 0.3048,
    "in": 0.0254,
    "kg": 1.0,
    "lb": 0.45359237,
    "N": 1.0,
    "kN": 1000.0,
    "lbf": 0.45359237 * 9.80665,
    "m/min": 1 / 60,
    "ft/min": 0.3048 / 60,
    "%": 0.01,
    "ppm": 1e-6,
    "bar": 1e5,
    "psi": 0.45359237 * 9.80665 / 0.0254**2,
    "deg": math.pi / 180,
    "h": 3600.0,
    "min": 60.0,
    "s": 1.0,
    "months": 1.0,
    "days": 1.0,
    "": 1.0,
    "m/s²": 1.0,
}


def read_back(text: str) -> list[float]:
    """The inside values that a printed figure and the one in brackets stand for."""
    return [
        sum(
            float(number) * SIZES[unit]
            for number, unit in re.findall(r"(-?[\d.]+) ?([a-zA-Zµ/²%]*)", part)
        )
        for part in re.split(r"[()]", text)
        if part.strip()
    ]


def compared(value: float, relation: Relation, limit: float, unit: Unit) -> Compared:
    """*value* held against *limit*."""

    def quantity(number: float) -> Quantity:
        source = Source(mark=Mark.MEASURED)
        return Quantity(symbol="x", label="x", value=number, unit=unit, source=source)

    return Compared(
        result=quantity(value), relation=relation, limit=quantity(limit), formula="x", inputs=()
    )


SPANS = {
    Unit.M: 100.0,
    Unit.KG: 400.0,
    Unit.N: 50_000.0,
    Unit.S: 7200.0,
    Unit.M_PER_S: 3.0,
    Unit.PA_GAUGE: 5e7,
    Unit.RATIO: 20.0,
    Unit.FRACTION: 1.0,
    Unit.COUNT: 20.0,
}
NEAR = st.sampled_from((0.0, 1e-12, 1e-5, 1e-4, 0.003, 0.05))


@st.composite
def comparisons(draw: st.DrawFn) -> Compared:
    """Results near their limits and far from them, on either side, in every unit."""
    unit = draw(st.sampled_from(sorted(SPANS)))
    span = SPANS[unit]
    limit = draw(st.floats(-span / 4 if unit is Unit.M else 0, span))
    if unit is Unit.COUNT:
        limit = round(limit)
        value = float(limit + draw(st.integers(-2, 2)))
    elif draw(st.booleans()):
        value = limit * (1 + draw(st.sampled_from((1, -1))) * draw(NEAR))
    else:
        value = draw(st.floats(0 if unit is Unit.S else -span / 4, span))
    # Six decimals tell apart what differs by two millionths, of a bar for a gauge; nobody
    # measures finer.
    gap, least = abs(value - limit), 1e5 if unit is Unit.PA_GAUGE else 1.0
    assume(gap < 1e-9 * max(1.0, abs(limit)) or gap > 2e-6 * max(least, abs(limit)))
    return compared(value, draw(st.sampled_from(Relation)), limit, unit)


def plain(relation: Relation, value: float, limit: float) -> bool:
    """The relation as a reader with a pencil takes it."""
    match relation:
        case Relation.AT_MOST:
            return value <= limit
        case Relation.LESS_THAN:
            return value < limit
        case Relation.AT_LEAST:
            return value >= limit
        case Relation.MORE_THAN:
            return value > limit


@given(comparisons(), st.sampled_from(UnitSystem))
@example(compared(0.45, Relation.AT_MOST, 0.4499, Unit.M), US)
@example(compared(902.4, Relation.AT_MOST, 900.0, Unit.S), US)  # 15 min 2.4 s against 15 min
@example(compared(899.6, Relation.AT_MOST, 900.0, Unit.S), SI)
@example(compared(1.2192, Relation.AT_LEAST, 1.2191999, Unit.M), US)
def test_the_printed_pair_says_what_the_verdict_says(one, system):
    printed = pair(one, system)
    holds = one.relation.holds(one.result.value, one.limit.value)

    for value, limit in zip(read_back(printed.result), read_back(printed.limit), strict=True):
        # Figures of one unit are compared as printed; a billionth covers reading them back.
        grain = 1e-9 * max(abs(value), abs(limit))
        if abs(value - limit) <= grain:
            assert holds is (one.relation in (Relation.AT_MOST, Relation.AT_LEAST))
        else:
            assert plain(one.relation, value, limit) is holds


def test_hours_are_told_to_the_second_where_only_seconds_decide():
    near = pair(compared(5 * 3600 + 20, Relation.AT_MOST, 5 * 3600 + 30, Unit.S), US)
    far = pair(compared(5 * 3600 + 669, Relation.AT_MOST, 5400, Unit.S), US)

    assert (near.result, near.limit) == ("5 h 20 s", "5 h 30 s")
    assert (far.result, far.limit) == ("5 h 12 min", "1 h 30 min")


def test_a_part_has_the_unit_of_its_own_size_beside_whatever_it_is_held_against():
    """0.0059 % of gas that stays is 59 ppm on every page, and not 0.1 %."""
    printed = pair(compared(58.9e-6, Relation.LESS_THAN, 0.014, Unit.FRACTION), US)
    edge = pair(compared(999.9e-6, Relation.LESS_THAN, 0.001, Unit.FRACTION), US)

    assert (printed.result, printed.limit) == ("59 ppm", "1.4%")
    assert (edge.result, edge.limit) == ("999.9 ppm", "0.10%")


@given(comparisons(), st.sampled_from(UnitSystem))
def test_what_is_required_is_rounded_up_and_what_there_is_down(one, system):
    printed = pair(one, system)
    value, limit = one.result.value, one.limit.value
    slack = 2e-9 * max(1.0, abs(value), abs(limit))

    for shown, allowed in zip(read_back(printed.result), read_back(printed.limit), strict=True):
        if shown == allowed:
            continue  # equal figures are printed to the nearest, both
        if one.relation.wants_small:
            assert shown >= value - slack
            assert allowed <= limit + slack
        else:
            assert shown <= value + slack
            assert allowed >= limit - slack


@pytest.mark.parametrize(
    ("value_s", "rounding", "text"),
    [
        (0, UP, "0 s"),
        (0.2, UP, "1 s"),
        (59.2, DOWN, "59 s"),
        (59.2, UP, "1 min"),
        (60, UP, "1 min"),
        (61, UP, "1 min 1 s"),
        (125, NEAREST, "2 min 5 s"),
        (240, DOWN, "4 min"),
        (240 - 1e-12, DOWN, "4 min"),  # a binary fraction is no second
        (239.9, DOWN, "3 min 59 s"),
        (3599, UP, "59 min 59 s"),
        (3600, UP, "1 h"),
        (3601, UP, "1 h 1 min"),
        (3601, DOWN, "1 h"),
        (311 * 60 + 9, NEAREST, "5 h 11 min"),
        (86400, UP, "24 h"),
        (-65, NEAREST, "-1 min 5 s"),
    ],
)
def test_a_time_is_minutes_and_whole_seconds(value_s, rounding, text):
    assert minutes(value_s, rounding) == text


@pytest.mark.parametrize(
    ("value_s", "rounding", "text"),
    [
        (0, UP, "0:00"),
        (4.2, UP, "0:05"),
        (4.2, DOWN, "0:04"),
        (65, NEAREST, "1:05"),
        (599.5, UP, "10:00"),
        (3661, UP, "61:01"),
    ],
)
def test_a_stopwatch_shows_minutes_and_two_figures_of_seconds(value_s, rounding, text):
    assert stopwatch(value_s, rounding) == text


@pytest.mark.parametrize(
    ("value_s", "text"),
    [
        (0, "0:00"),
        (1, "0:30"),
        (30, "0:30"),
        (30.1, "1:00"),
        (60, "1:00"),
        (185, "3:30"),
        (210.0000000001, "3:30"),
        (210.1, "4:00"),
        (1560, "26:00"),
    ],
)
def test_a_planning_time_goes_up_to_the_next_half_minute(value_s, text):
    assert half_minutes(value_s) == text


@given(st.floats(0, 1e6))
def test_a_planning_time_is_never_shorter_than_the_time_and_at_most_half_a_minute_longer(value_s):
    whole, half = half_minutes(value_s).split(":")

    shown = int(whole) * 60 + int(half)

    assert value_s - 1e-6 <= shown < value_s + 30 + 1e-6


# Worked by hand: 24 in = 0.6096 m; 21 ft = 6.4008 m; 450 lbf = 2001.7 N; 22 ft/min = 6.7056 m/min.
@pytest.mark.parametrize(
    ("value", "unit", "system", "text"),
    [
        (0.6096, Unit.M, US, "24.0 in (610 mm)"),
        (0.6096, Unit.M, SI, "610 mm (24.0 in)"),
        (6.4008, Unit.M, US, "21.00 ft (6.40 m)"),
        (6.4008, Unit.M, SI, "6.40 m (21.00 ft)"),
        (1.1, Unit.M, US, "43.3 in (1.10 m)"),
        (-0.1524, Unit.M, US, "-6.0 in (-152 mm)"),
        (84.0, Unit.KG, US, "185.2 lb (84.0 kg)"),
        (84.0, Unit.KG, SI, "84.0 kg (185.2 lb)"),
        (450 * 4.4482216152605, Unit.N, US, "450 lbf (2.00 kN)"),
        (225.0, Unit.N, SI, "225 N (51 lbf)"),
        (0.11176, Unit.M_PER_S, US, "22.0 ft/min (6.7 m/min)"),
        (125.0, Unit.S, US, "2 min 5 s"),
        (math.pi / 2, Unit.RAD, US, "90 deg"),
        (3e7, Unit.PA_GAUGE, US, "4351 psi (300 bar)"),
        (5.5e6, Unit.PA_GAUGE, SI, "55 bar (798 psi)"),
        (0.195, Unit.FRACTION, US, "19.5%"),
        (350e-6, Unit.FRACTION, SI, "350 ppm"),
        (10e-6, Unit.FRACTION, US, "10 ppm"),
        (0.0, Unit.FRACTION, US, "0.0%"),
        (2.5e-6, Unit.FRACTION, US, "2.5 ppm"),
        (0.0015, Unit.FRACTION, US, "0.15%"),
        # 0.5 L/min = 0.01766 cfm; 6.8 L = 0.2401 ft3; 9 L = 0.3178 ft3
        (0.5e-3 / 60, Unit.M3_PER_S, US, "0.018 cfm (0.5 L/min)"),
        (0.02e-3 / 60, Unit.M3_PER_S, SI, "0.02 L/min (0.00071 cfm)"),
        (0.0068, Unit.M3, US, "0.24 ft³ (6.8 L)"),
        (0.009, Unit.M3, SI, "9 L (0.32 ft³)"),
        (1.037, Unit.M3, SI, "1037 L (36.6 ft³)"),
        (3.0, Unit.COUNT, US, "3"),
        (12.0, Unit.MONTHS, US, "12 months"),
        (1.25, Unit.RATIO, US, "1.25"),
        (9.80665, Unit.M_PER_S2, SI, "9.80665 m/s²"),
        (-1e-12, Unit.M, SI, "0 mm (0.0 in)"),  # never "-0"
    ],
)
def test_an_amount_has_the_readers_unit_first_and_the_other_system_behind(
    value, unit, system, text
):
    assert amount(value, unit, system) == text


@pytest.mark.parametrize("unit", [Unit.M, Unit.KG, Unit.N, Unit.M_PER_S])
@given(size=st.floats(1e-3, 1e5), system=st.sampled_from(UnitSystem))
def test_a_scale_is_the_inverse_of_the_size_of_its_unit(unit, size, system):
    scale = scale_of(unit, system, size)

    assert scale is not None
    assert scale.per_unit * SIZES[scale.name] == pytest.approx(1.0, rel=1e-12)


@given(
    value=st.floats(-1e4, 1e4),
    unit=st.sampled_from(sorted(SPANS)),
    system=st.sampled_from(UnitSystem),
)
def test_rounding_up_is_never_below_and_rounding_down_never_above(value, unit, system):
    assume(unit is not Unit.S or value >= 0)
    highs = read_back(amount(value, unit, system, UP))
    lows = read_back(amount(value, unit, system, DOWN))

    # A billionth of what is printed counts as nothing; a gauge is printed in bar or psi.
    slack = 2e-9 * max(1e5 if unit is Unit.PA_GAUGE else 1.0, abs(value))
    assert all(one >= value - slack for one in highs)
    assert all(one <= value + slack for one in lows)
