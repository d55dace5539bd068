"""Numbers as a reader wants them: own units first, the other system behind, rounded honestly.

What is required is rounded up and what there is is rounded down, so that a printed figure never
looks better than the verdict beside it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from planbuilder.findings import Compared, Relation, Unit
from planbuilder.site.file import UnitSystem

_MOST_DECIMALS = 6
_FEET_FROM_M = 1.2192  # shorter lengths read better in inches
_KILONEWTON_FROM = 1000.0
ENDLESS = 1e6  # a factor of nothing to hold
_PER_CENT_FROM = 0.001  # smaller parts read better in parts per million


class Rounding(Enum):
    """Which way a figure goes when it is cut."""

    NEAREST = "nearest"
    UP = "up"
    DOWN = "down"


@dataclass(frozen=True, slots=True)
class Scale:
    """How a unit is printed: its name, how many make one inside unit, how many decimals."""

    name: str
    per_unit: float
    decimals: int

    def text(self, value: float, rounding: Rounding = Rounding.NEAREST) -> str:
        """*value*, an inside value, in this unit."""
        if self.per_unit == 0:
            return self.name
        number = f"{self.rounded(value, rounding):.{self.decimals}f}"
        joint = "" if self.name in ("", "%") else " "
        return f"{number}{joint}{self.name}"

    def rounded(self, value: float, rounding: Rounding) -> float:
        """*value* in this unit, cut to its decimals the way that *rounding* says."""
        scaled, step = value * self.per_unit, 10.0**self.decimals
        grain = 1e-9 * max(1.0, abs(scaled * step))
        match rounding:
            case Rounding.NEAREST:
                return round(scaled, self.decimals) + 0.0
            case Rounding.UP:
                return math.ceil(scaled * step - grain) / step + 0.0
            case Rounding.DOWN:
                return math.floor(scaled * step + grain) / step + 0.0


_US = {
    Unit.KG: Scale("lb", 1 / 0.45359237, 1),
    Unit.N: Scale("lbf", 1 / 4.4482216152605, 0),
    Unit.PA: Scale("psf", 1 / 47.88026, 0),
    Unit.PA_GAUGE: Scale("psi", 0.0254**2 / 4.4482216152605, 0),
    Unit.N_M: Scale("lbf ft", 1 / 1.3558179483, 0),
    Unit.M_PER_S: Scale("ft/min", 60 / 0.3048, 1),
    Unit.M3: Scale("ft³", 1 / 0.3048**3, 1),
    Unit.M3_PER_S: Scale("cfm", 60 / 0.3048**3, 1),
    Unit.N_PER_M: Scale("lbf/ft", 0.3048 / 4.4482216152605, 0),
}
_SI = {
    Unit.KG: Scale("kg", 1, 1),
    Unit.N: Scale("kN", 1e-3, 2),
    Unit.PA: Scale("kPa", 1e-3, 1),
    Unit.PA_GAUGE: Scale("bar", 1e-5, 0),
    Unit.N_M: Scale("N m", 1, 0),
    Unit.M_PER_S: Scale("m/min", 60, 1),
    Unit.M3: Scale("m³", 1, 2),
    Unit.M3_PER_S: Scale("m³/min", 60, 2),
    Unit.N_PER_M: Scale("N/m", 1, 0),
}
_SMALL = {  # below this size another name reads better
    Unit.M3: (10.0, Scale("L", 1e3, 0)),
    Unit.M3_PER_S: (0.01, Scale("L/min", 6e4, 0)),
}
_PLAIN = {
    Unit.RAD: Scale("deg", 180 / math.pi, 0),
    Unit.COUNT: Scale("", 1, 0),
    Unit.W: Scale("W", 1, 0),
    Unit.DAYS: Scale("days", 1, 0),
    Unit.MONTHS: Scale("months", 1, 0),
    Unit.W: Scale("W", 1, 0),
    Unit.KG_PER_M3: Scale("kg/m³", 1, 0),
    Unit.M_PER_S2: Scale("m/s²", 1, 5),
}


def scale_of(unit: Unit, system: UnitSystem, size: float) -> Scale | None:
    """How a value of about *size* is printed in *system*; None where one way serves both."""
    is_us = system is UnitSystem.US
    if unit is Unit.M:
        return _length(is_us=is_us, size=abs(size))
    if unit is Unit.N and not is_us and abs(size) < _KILONEWTON_FROM:
        return Scale("N", 1, 0)
    if unit in _SMALL and not is_us and abs(size) < _SMALL[unit][0]:
        return _SMALL[unit][1]
    return (_US if is_us else _SI).get(unit)


def _length(*, is_us: bool, size: float) -> Scale:
    if is_us:
        long = size >= _FEET_FROM_M
        return Scale("ft", 1 / 0.3048, 2) if long else Scale("in", 1 / 0.0254, 1)
    return Scale("m", 1, 2) if size >= 1 else Scale("mm", 1000, 0)


def plain_scale(unit: Unit, size: float) -> Scale:
    """How a value is printed where both systems agree."""
    if unit is Unit.FRACTION:
        return Scale("%", 100, 1) if size >= _PER_CENT_FROM else Scale("ppm", 1e6, 0)
    if unit is Unit.RATIO and size >= ENDLESS:
        return Scale("no limit", 0, 0)
    return _PLAIN.get(unit, Scale("", 1, 2))


def amount(
    value: float, unit: Unit, system: UnitSystem, rounding: Rounding = Rounding.NEAREST
) -> str:
    """A value in the reader's units with the other system behind: ``24.0 in (610 mm)``."""
    if unit is Unit.S:
        return minutes(value, rounding)
    own = scale_of(unit, system, value)
    if own is None:
        return plain_scale(unit, abs(value)).text(value, rounding)
    other = scale_of(unit, _other(system), value)
    behind = f" ({other.text(value, rounding)})" if other else ""
    return f"{own.text(value, rounding)}{behind}"


def _other(system: UnitSystem) -> UnitSystem:
    return UnitSystem.SI if system is UnitSystem.US else UnitSystem.US


def minutes(value_s: float, rounding: Rounding = Rounding.UP) -> str:
    """A time as minutes and whole seconds: ``2 min 5 s``. A time that is needed is rounded up."""
    whole = int(Scale("s", 1, 0).rounded(value_s, rounding))
    sign, whole = ("-" if whole < 0 else ""), abs(whole)
    if whole < 60:  # noqa: PLR2004
        return f"{sign}{whole} s"
    rest = f" {whole % 60} s" if whole % 60 else ""
    return f"{sign}{whole // 60} min{rest}"


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
    size = max(abs(result.value), abs(limit.value))
    texts = [
        _pair_in(scale, (result.value, limit.value), ways, relation, holds=holds)
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
        return [Scale("s", 1, 0) if unit is Unit.S else plain_scale(unit, size)]
    return [own, other]


def _pair_in(
    scale: Scale,
    values: tuple[float, float],
    ways: tuple[Rounding, Rounding],
    relation: Relation,
    *,
    holds: bool,
) -> Pair:
    for decimals in range(scale.decimals, _MOST_DECIMALS + 1):
        finer = replace(scale, decimals=decimals)
        cut = [finer.rounded(value, way) for value, way in zip(values, ways, strict=True)]
        if relation.holds(*cut) is holds:
            return Pair(*(_text(finer, v, w) for v, w in zip(values, ways, strict=True)))
    # Equal but for binary fractions: both to the nearest say the same.
    return Pair(*(_text(scale, value, Rounding.NEAREST) for value in values))


def _text(scale: Scale, value: float, rounding: Rounding) -> str:
    is_time = scale.name == "s" and scale.decimals == 0
    return minutes(value, rounding) if is_time else scale.text(value, rounding)
