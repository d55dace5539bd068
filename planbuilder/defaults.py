"""Numbers used when the site file gives none: named, printed, and changeable by name."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.tables import table
from planbuilder.units import Dimension, QuantityError, parse

_DIMENSIONS = {
    Unit.M: Dimension.LENGTH,
    Unit.KG: Dimension.MASS,
    Unit.N: Dimension.FORCE,
    Unit.S: Dimension.TIME,
    Unit.M_PER_S: Dimension.SPEED,
    Unit.RAD: Dimension.ANGLE,
    Unit.M3_PER_S: Dimension.FLOW,
    Unit.PA_GAUGE: Dimension.PRESSURE,
    Unit.FRACTION: Dimension.FRACTION,
}
_WHOLE = {Unit.COUNT, Unit.DAYS, Unit.MONTHS}
_UNWRITTEN = {Unit.COUNT, Unit.RATIO}


@dataclass(frozen=True, slots=True)
class Defaults:
    """Every default of the tool, with what named people have changed."""

    by_name: Mapping[str, Quantity]
    bounds: Mapping[str, tuple[float, float]]

    def of(self, name: str) -> Quantity:
        """The default of that name. KeyError if there is none."""
        return self.by_name[name]

    def changed(self, name: str, value: Quantity) -> Defaults:
        """These defaults with one of them replaced."""
        return replace(self, by_name={**self.by_name, name: value})

    def overridden(self, name: str, text: str, source_note: str) -> Defaults:
        """These defaults with the one of that name having the value that *text* gives.

        Its source is the override. Raises QuantityError where the text is not a number of the
        default's kind, or lies beyond what the quantity can be in the physical world.
        """
        default = self.of(name)
        value = _read(text, default.unit)
        least, most = self.bounds[name]
        if not least <= value <= most:
            unit = "" if default.unit in _UNWRITTEN else f" {default.unit}"
            message = f"must lie between {least:g} and {most:g}{unit}"
            raise QuantityError(message)
        source = Source(mark=Mark.SITE, key=default.source.key, note=source_note)
        return self.changed(name, replace(default, value=value, source=source, written=text))


@cache
def tool_defaults() -> Defaults:
    """The defaults as shipped: read once, and never changed."""
    entries = table("defaults")
    return Defaults(
        {name: _quantity(name, entry) for name, entry in entries.items()},
        {name: (entry["least"], entry["most"]) for name, entry in entries.items()},
    )


def _read(text: str, unit: Unit) -> float:
    dimension = _DIMENSIONS.get(unit)
    if dimension is not None:
        return parse(text, dimension).value
    value = _plain_number(text)
    if unit in _WHOLE and not value.is_integer():
        message = "must be a whole number"
        raise QuantityError(message)
    return value


def _plain_number(text: str) -> float:
    try:
        value = float(text)
    except ValueError as error:
        message = "must be a plain number"
        raise QuantityError(message) from error
    if not math.isfinite(value):
        message = "must be a finite number"
        raise QuantityError(message)
    return value


def _quantity(name: str, entry: Mapping[str, Any]) -> Quantity:
    return Quantity(
        symbol=entry["symbol"],
        label=entry["label"],
        value=float(entry["value"]),
        unit=Unit(entry["unit"]),
        source=Source(
            mark=Mark(entry["mark"]),
            document=entry.get("document", ""),
            key=name,
            note=entry.get("note", ""),
        ),
    )
