"""Numbers used when the site file gives none: named, printed, and changeable by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
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
}


@dataclass(frozen=True, slots=True)
class Defaults:
    """Every default of the tool, with what named people have changed."""

    by_name: Mapping[str, Quantity]

    def of(self, name: str) -> Quantity:
        """The default of that name. KeyError if there is none."""
        return self.by_name[name]

    def changed(self, name: str, value: Quantity) -> Defaults:
        """These defaults with one of them replaced."""
        return Defaults({**self.by_name, name: value})


def tool_defaults() -> Defaults:
    """The defaults as shipped."""
    return Defaults({name: _quantity(name, entry) for name, entry in table("defaults").items()})


def overridden(default: Quantity, text: str, source_note: str) -> Quantity:
    """*default* with the value that *text* gives, its source being the override.

    Raises QuantityError where the text is not a number of the default's kind.
    """
    dimension = _DIMENSIONS.get(default.unit)
    value = parse(text, dimension).value if dimension else _plain_number(text)
    if value < 0:
        message = "must not be negative"
        raise QuantityError(message)
    source = Source(mark=Mark.SITE, key=default.source.key, note=source_note)
    return replace(default, value=value, source=source, written=text)


def _plain_number(text: str) -> float:
    try:
        value = float(text)
    except ValueError as error:
        message = "must be a plain number"
        raise QuantityError(message) from error
    if not 0 <= value < 1e6:  # noqa: PLR2004 - also refuses NaN and infinity
        message = "must be a plain number from 0 to 1000000"
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
