"""Units as they are printed: which one reads best at a size, how it is cut to its decimals."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import Enum

from planbuilder.findings import Unit
from planbuilder.site.file import UnitSystem

MOST_DECIMALS = 6
_FEET_FROM_M = 1.2192  # shorter lengths read better in inches
_KILONEWTON_FROM = 1000.0
ENDLESS = 1e6  # a factor of nothing to hold
_PER_CENT_FROM = 0.001  # smaller parts read better in parts per million
_FINE = frozenset((Unit.FRACTION, Unit.M3, Unit.M3_PER_S))  # run over many powers of ten
_FIGURES = 2  # a small amount is printed with as many figures at least


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
    Unit.PA_GAUGE: (2e5, Scale("bar", 1e-5, 3)),
}
_SMALL_US = {Unit.PA_GAUGE: (2e5, replace(_US[Unit.PA_GAUGE], decimals=1))}
_PLAIN = {
    Unit.RAD: Scale("deg", 180 / math.pi, 0),
    Unit.COUNT: Scale("", 1, 0),
    Unit.COMPRESSIBILITY: Scale("", 1, 4),
    Unit.W: Scale("W", 1, 0),
    Unit.V: Scale("V", 1, 0),
    Unit.DAYS: Scale("days", 1, 0),
    Unit.MONTHS: Scale("months", 1, 0),
    Unit.W: Scale("W", 1, 0),
    Unit.KG_PER_M3: Scale("kg/m³", 1, 0),
    Unit.M_PER_S2: Scale("m/s²", 1, 5),
}


def scale_of(unit: Unit, system: UnitSystem, size: float) -> Scale | None:
    """How a value of about *size* is printed in *system*; None where one way serves both."""
    scale = _coarse(unit, system, size)
    return _fine(scale, size) if scale and unit in _FINE else scale


def _fine(scale: Scale, size: float) -> Scale:
    """The scale with as many decimals as a small *size* needs, and no noughts behind them."""
    shown = abs(size) * scale.per_unit
    if shown == 0:
        return scale
    wanted = min(_FIGURES - 1 - math.floor(math.log10(shown)), MOST_DECIMALS)
    while wanted > scale.decimals and round(shown, wanted) == round(shown, wanted - 1):
        wanted -= 1
    return replace(scale, decimals=max(wanted, scale.decimals))


def _coarse(unit: Unit, system: UnitSystem, size: float) -> Scale | None:
    is_us = system is UnitSystem.US
    if unit is Unit.M:
        return _length(is_us=is_us, size=abs(size))
    if unit is Unit.N and not is_us and abs(size) < _KILONEWTON_FROM:
        return Scale("N", 1, 0)
    small = _SMALL_US if is_us else _SMALL
    if unit in small and abs(size) < small[unit][0]:
        return small[unit][1]
    return (_US if is_us else _SI).get(unit)


def _length(*, is_us: bool, size: float) -> Scale:
    if is_us:
        long = size >= _FEET_FROM_M
        return Scale("ft", 1 / 0.3048, 2) if long else Scale("in", 1 / 0.0254, 1)
    return Scale("m", 1, 2) if size >= 1 else Scale("mm", 1000, 0)


def plain_scale(unit: Unit, size: float) -> Scale:
    """How a value is printed where both systems agree."""
    if unit is Unit.FRACTION:
        is_large = size >= _PER_CENT_FROM or size == 0
        return _fine(Scale("%", 100, 1) if is_large else Scale("ppm", 1e6, 0), size)
    if unit is Unit.RATIO and size >= ENDLESS:
        return Scale("no limit", 0, 0)
    return _PLAIN.get(unit, Scale("", 1, 2))
