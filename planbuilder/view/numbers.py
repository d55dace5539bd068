"""Numbers as a reader wants them: own units first, the other system behind, rounded honestly.

What is required is rounded up and what there is is rounded down, so that a printed figure never
looks better than the verdict beside it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from planbuilder.findings import EQUAL_SLACK, Compared, Relation, Unit
from planbuilder.site.file import UnitSystem
from planbuilder.view.scales import (
    ENDLESS,
    MOST_DECIMALS,
    Rounding,
    Scale,
    plain_scale,
    scale_of,
)

_MINUTE, _HOUR = 60, 3600
_ICE_K = 273.15


def amount(
    value: float, unit: Unit, system: UnitSystem, rounding: Rounding = Rounding.NEAREST
) -> str:
    """A value in the reader's units with the other system behind: ``24.0 in (610 mm)``."""
    if unit is Unit.S:
        return minutes(value, rounding)
    if unit is Unit.K:
        return _warmth(value, system)
    own = scale_of(unit, system, value)
    if own is None:
        return plain_scale(unit, abs(value)).text(value, rounding)
    other = scale_of(unit, _other(system), value)
    behind = f" ({other.text(value, rounding)})" if other else ""
    return f"{own.text(value, rounding)}{behind}"


def _warmth(value_k: float, system: UnitSystem) -> str:
    """A temperature as thermometers show it, and in K as gas sums want it."""
    celsius = value_k - _ICE_K
    shown = [f"{celsius:.1f} °C", f"{celsius * 1.8 + 32:.1f} °F"]
    own, other = reversed(shown) if system is UnitSystem.US else shown
    return f"{own} ({other}, {value_k:.2f} K)"


def _other(system: UnitSystem) -> UnitSystem:
    return UnitSystem.SI if system is UnitSystem.US else UnitSystem.US


def minutes(value_s: float, rounding: Rounding = Rounding.UP, *, to_second: bool = False) -> str:
    """A time as minutes and whole seconds: ``2 min 5 s``. A time that is needed is rounded up.

    From an hour on in hours and whole minutes, unless it is told *to_second*: ``5 h 11 min``.
    """
    whole = _whole_s(value_s, rounding, to_second=to_second)
    sign, whole = ("-" if whole < 0 else ""), abs(whole)
    parts = {
        "h": whole // _HOUR,
        "min": whole % _HOUR // _MINUTE,
        "s": whole % _MINUTE,
    }
    return sign + (
        " ".join(f"{number} {name}" for name, number in parts.items() if number) or "0 s"
    )


def _whole_s(value_s: float, rounding: Rounding, *, to_second: bool) -> int:
    """A time in s, cut to the second, or from an hour on to the minute."""
    whole = int(Scale("s", 1, 0).rounded(value_s, rounding))
    if to_second or abs(whole) < _HOUR:
        return whole
    return _MINUTE * int(Scale("min", 1 / _MINUTE, 0).rounded(value_s, rounding))


def stopwatch(value_s: float, rounding: Rounding = Rounding.UP) -> str:
    """A time as a stopwatch shows it, for tables: ``1:05``."""
    whole = int(Scale("s", 1, 0).rounded(value_s, rounding))
    return f"{whole // 60}:{whole % 60:02d}"


def half_minutes(value_s: float) -> str:
    """A planning time rounded up to the next half minute: ``3:30``."""
    halves = math.ceil(value_s / 30 - 1e-9)
    return f"{halves // 2}:{'30' if halves % 2 else '00'}"


@dataclass(frozen=True, slots=True)
class Pair:
    """A result and its limit, printed so that they show what the verdict says."""

    result: str
    limit: str


def pair(compared: Compared, system: UnitSystem) -> Pair:
    """The printed result and limit; decimals are added until they agree with the verdict."""
    result, limit, relation = compared.result, compared.limit, compared.relation
    up, down = Rounding.UP, Rounding.DOWN
    ways = (up, down) if relation.wants_small else (down, up)
    if result.unit is Unit.RATIO and result.value >= ENDLESS:
        return Pair("no limit", plain_scale(Unit.RATIO, limit.value).text(limit.value))
    holds = relation.holds(result.value, limit.value)
    values = (result.value, limit.value)
    if result.unit is Unit.S:
        return _times(values, ways, relation, holds=holds)
    if result.unit is Unit.FRACTION:  # each in the unit that it has on any other page
        own, other = (plain_scale(Unit.FRACTION, abs(one)) for one in values)
        return _pair_in((own, other), values, ways, relation, holds=holds)
    size = max(abs(result.value), abs(limit.value))
    texts = [
        _pair_in((scale, scale), values, ways, relation, holds=holds)
        for scale in _scales(result.unit, system, size)
    ]
    first, behind = texts[0], texts[1:]
    return Pair(
        first.result + "".join(f" ({one.result})" for one in behind),
        first.limit + "".join(f" ({one.limit})" for one in behind),
    )


def _scales(unit: Unit, system: UnitSystem, size: float) -> list[Scale]:
    own, other = scale_of(unit, system, size), scale_of(unit, _other(system), size)
    if own is None or other is None:
        return [plain_scale(unit, size)]
    return [own, other]


def _pair_in(
    scales: tuple[Scale, Scale],
    values: tuple[float, float],
    ways: tuple[Rounding, Rounding],
    relation: Relation,
    *,
    holds: bool,
) -> Pair:
    smallest = max(one.per_unit for one in scales)  # compared as printed, in the smaller unit
    for more in range(MOST_DECIMALS + 1):
        finer = [replace(one, decimals=min(one.decimals + more, MOST_DECIMALS)) for one in scales]
        parts = list(zip(finer, values, ways, strict=True))
        cut = [one.rounded(value, way) * (smallest / one.per_unit) for one, value, way in parts]
        if relation.holds(*cut) is holds:
            return Pair(*(one.text(value, way) for one, value, way in parts))
    # Equal but for binary fractions: both to the nearest say the same.
    result, limit = (one.text(value) for one, value in zip(scales, values, strict=True))
    return Pair(result, limit)


def _times(
    values: tuple[float, float],
    ways: tuple[Rounding, Rounding],
    relation: Relation,
    *,
    holds: bool,
) -> Pair:
    pairs = list(zip(values, ways, strict=True))
    for to_second in (False, True):
        cut = [_whole_s(value, way, to_second=to_second) for value, way in pairs]
        if relation.holds(*cut) is holds:
            return Pair(*(minutes(value, way, to_second=to_second) for value, way in pairs))
    if math.isclose(*values, rel_tol=EQUAL_SLACK, abs_tol=EQUAL_SLACK):
        return Pair(*(minutes(value, Rounding.NEAREST, to_second=True) for value in values))
    second = Scale("s", 1, 1)
    return _pair_in((second, second), values, ways, relation, holds=holds)
