"""Text with a unit to SI floats, and back to what a reader wants. pint runs once per unit.

pint's own string parser is an expression evaluator ("12,5 ft" becomes 125 ft there), so numbers
are read by a strict pattern and only the unit's name goes to pint.
"""

from __future__ import annotations

import difflib
import functools
import math
import re
from dataclasses import dataclass
from enum import StrEnum
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

STANDARD_GRAVITY_M_PER_S2 = 9.80665
LONGEST_TEXT = 60

_NUMBER = r"(?:\d{1,4}[ -])?\d{1,4}/\d{1,4}|[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_UNIT = r"[A-Za-z%°'\"′″](?:[A-Za-z%°/³]|3(?=/|\s*$))*"
_PART = re.compile(rf"\s*,?\s*({_NUMBER})\s*({_UNIT})(?=\s|,|\d|$)")
_SPELLINGS = {
    "'": "ft",
    "′": "ft",
    '"': "in",
    "″": "in",
    "%": "percent",
    "°": "deg",
    "°C": "degC",
    "°F": "degF",
}
_DEGREES = ("degC", "degF", "°C", "°F")  # a scale with a zero of its own, not a factor


class Dimension(StrEnum):
    """What kind of thing a number measures; the value is the inside unit."""

    LENGTH = "m"
    MASS = "kg"
    FORCE = "N"
    TIME = "s"
    ANGLE = "rad"
    SPEED = "m/s"
    PRESSURE = "Pa"
    VOLUME = "m3"
    FLOW = "m3/s"
    TEMPERATURE = "K"
    VOLTAGE = "V"
    FRACTION = "1"


EXAMPLES = {
    Dimension.LENGTH: '"24 in" or "6.4 m"',
    Dimension.MASS: '"92 kg" or "203 lb"',
    Dimension.FORCE: '"450 lbf", "2 kN" or "140 kg"',
    Dimension.TIME: '"4 min 30 s"',
    Dimension.ANGLE: '"90 deg"',
    Dimension.SPEED: '"4 m/min" or "13 ft/min"',
    Dimension.PRESSURE: '"96 kPa", "2000 psf" or "300 bar"',
    Dimension.VOLUME: '"6.8 L" or "20 m3"',
    Dimension.FLOW: '"15 m3/min", "500 cfm" or "40 L/min"',
    Dimension.TEMPERATURE: '"15 degC" or "59 degF"',
    Dimension.VOLTAGE: '"12.5 kV" or "240 V"',
    Dimension.FRACTION: '"10 ppm" or "19.5 %"',
}


class QuantityError(ValueError):
    """A text that is not a quantity of the wanted kind; the message says what is allowed."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A value in its inside unit, with the words as written in the site file."""

    value: float
    written: str


class Length(Amount):
    """A length."""

    __slots__ = ()

    @property
    def m(self) -> float:
        """In metres."""
        return self.value


class Mass(Amount):
    """A mass."""

    __slots__ = ()

    @property
    def kg(self) -> float:
        """In kilograms."""
        return self.value


class Force(Amount):
    """A force, or the weight of a mass that a rating plate states."""

    __slots__ = ()

    @property
    def n(self) -> float:
        """In newtons."""
        return self.value


class Duration(Amount):
    """A stretch of time."""

    __slots__ = ()

    @property
    def s(self) -> float:
        """In seconds."""
        return self.value


class Angle(Amount):
    """A plane angle."""

    __slots__ = ()

    @property
    def rad(self) -> float:
        """In radians."""
        return self.value


class Speed(Amount):
    """A speed."""

    __slots__ = ()

    @property
    def m_per_s(self) -> float:
        """In metres a second."""
        return self.value


class Pressure(Amount):
    """A pressure or stress."""

    __slots__ = ()

    @property
    def pa(self) -> float:
        """In pascals."""
        return self.value


class Volume(Amount):
    """A volume."""

    __slots__ = ()

    @property
    def m3(self) -> float:
        """In cubic metres."""
        return self.value


class Flow(Amount):
    """A volume a time."""

    __slots__ = ()

    @property
    def m3_per_s(self) -> float:
        """In cubic metres a second."""
        return self.value


class Temperature(Amount):
    """A temperature."""

    __slots__ = ()

    @property
    def k(self) -> float:
        """In kelvins."""
        return self.value


class Voltage(Amount):
    """A voltage."""

    __slots__ = ()

    @property
    def v(self) -> float:
        """In volts."""
        return self.value


class Fraction(Amount):
    """A part of a whole: per cent, parts per million."""

    __slots__ = ()

    @property
    def ratio(self) -> float:
        """As a plain ratio, 1 % = 0.01."""
        return self.value


_CLASSES: dict[Dimension, type[Amount]] = {
    Dimension.LENGTH: Length,
    Dimension.MASS: Mass,
    Dimension.FORCE: Force,
    Dimension.TIME: Duration,
    Dimension.ANGLE: Angle,
    Dimension.SPEED: Speed,
    Dimension.PRESSURE: Pressure,
    Dimension.VOLUME: Volume,
    Dimension.FLOW: Flow,
    Dimension.TEMPERATURE: Temperature,
    Dimension.VOLTAGE: Voltage,
    Dimension.FRACTION: Fraction,
}


@functools.cache
def registry() -> pint.UnitRegistry[float]:
    """The units of ``units.txt``, and no others. Imports pint, so only when a unit is met."""
    import pint  # noqa: PLC0415 - 70 ms that --help must not pay

    text = resources.files("planbuilder").joinpath("units.txt").read_text(encoding="utf-8")
    return pint.UnitRegistry(text.splitlines())


@functools.cache
def factor(unit: str) -> tuple[Dimension, float]:
    """What one *unit* measures and how many inside units it is.

    Raises QuantityError for an unknown unit, or one of a kind that no site file needs.
    """
    try:
        one = registry().Quantity(1.0, registry().Unit(_SPELLINGS.get(unit, unit)))
    except Exception as error:
        near = difflib.get_close_matches(unit, _names(), 1, 0.6)
        hint = f', did you mean "{near[0]}"?' if near else ""
        message = f'unknown unit "{unit}"{hint}'
        raise QuantityError(message) from error
    if one.dimensionless:
        angle = unit.startswith(("deg", "rad", "°"))
        return (Dimension.ANGLE if angle else Dimension.FRACTION), one.m_as("")
    for dimension in (d for d in Dimension if d is not Dimension.FRACTION):
        if dimension is not Dimension.ANGLE and one.is_compatible_with(dimension.value):
            return dimension, one.m_as(dimension.value)
    message = f'"{unit}" is not a unit that a site file needs'
    raise QuantityError(message)


@functools.cache
def _names() -> list[str]:
    return sorted(str(name) for name in registry()._units)  # noqa: SLF001 - no public list


def parse(text: str, dimension: Dimension) -> Amount:
    """The amount that *text* says, such as "24 in", "12 ft 6 in" or "4 min 30 s".

    A force may also be written as a mass ("140 kg"): rating plates do; its weight under
    standard gravity is meant. Raises QuantityError when the text is not a quantity of this
    dimension, or not finite.
    """
    if len(text) > LONGEST_TEXT:
        message = f"is longer than {LONGEST_TEXT} characters; write it as {EXAMPLES[dimension]}"
        raise QuantityError(message)
    if dimension is Dimension.TEMPERATURE:
        return Temperature(_temperature_k(text), text.strip())
    parts = _parts(text, dimension)
    value = math.copysign(sum(map(abs, parts)), parts[0])  # the sign is for all of "-1 ft 6 in"
    if not math.isfinite(value):
        message = f"must be a finite number, such as {EXAMPLES[dimension]}"
        raise QuantityError(message)
    return _CLASSES[dimension](value, text.strip())


def _temperature_k(text: str) -> float:
    """Kelvins of "15 degC": one number on a scale that has a zero of its own."""
    part = _PART.fullmatch(text.rstrip())
    if not part or part[2] not in (*_DEGREES, "K"):
        message = f"must be a number and a unit, such as {EXAMPLES[Dimension.TEMPERATURE]}"
        raise QuantityError(message)
    value = (
        registry()
        .Quantity(_number(part[1]), registry().Unit(_SPELLINGS.get(part[2], part[2])))
        .m_as("K")
    )
    if not 0 < value < math.inf:
        message = "must lie above absolute zero, and be finite"
        raise QuantityError(message)
    return value


def _parts(text: str, dimension: Dimension) -> list[float]:
    values: list[float] = []
    size = math.inf
    position, end = 0, len(text.rstrip())
    while position < end:
        part = _PART.match(text, position)
        if not part or (values and part[1][0] in "+-"):
            message = f"must be a number and a unit, such as {EXAMPLES[dimension]}"
            raise QuantityError(message)
        larger, size = size, _factor_for(part[2], dimension)
        if values and not _divides(size, larger):
            message = f'"{part[2]}" cannot follow here; write it as {EXAMPLES[dimension]}'
            raise QuantityError(message)
        values.append(_number(part[1]) * size)
        position = part.end()
    if not values:
        message = f"is empty; write it as {EXAMPLES[dimension]}"
        raise QuantityError(message)
    return values


def _divides(size: float, larger: float) -> bool:
    """Whether a unit is a whole part of the one before it, as inches are of feet."""
    times = larger / size
    return times > 1.5 and math.isclose(times, round(times), rel_tol=1e-9)  # noqa: PLR2004 - 2 up


def _number(text: str) -> float:
    """A decimal number, or a fraction as tapes have it: 3/16, 2 1/2."""
    if "/" not in text:
        return float(text)
    whole, _, fraction = text.replace("-", " ").rpartition(" ")
    over, under = fraction.split("/")
    if int(under) == 0:
        message = "divides by zero"
        raise QuantityError(message)
    return int(whole or 0) + int(over) / int(under)


def _factor_for(unit: str, wanted: Dimension) -> float:
    found, size = factor(unit)
    if found is wanted:
        return size
    if wanted is Dimension.FORCE and found is Dimension.MASS:
        return size * STANDARD_GRAVITY_M_PER_S2
    message = f'"{unit}" is not a unit of the wanted kind; write it as {EXAMPLES[wanted]}'
    raise QuantityError(message)
