"""Collects what a check needs, and answers unknown by itself where something is missing."""

from __future__ import annotations

import math
from collections.abc import Callable

from planbuilder.checks.scene import Way, Working, finding, listed, output, stated
from planbuilder.findings import (
    Compared,
    Finding,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
)
from planbuilder.units import Amount

MEASURE = "Measure or read what is missing, and state it."


class Needs:
    """The quantities of one check; those that the site file does not give are remembered."""

    def __init__(self) -> None:
        """Nothing is needed yet."""
        self.missing: list[str] = []
        self.refused = ""

    def also(self, other: Needs) -> None:
        """Whatever *other* lacks is lacking here too."""
        self.missing += other.missing
        self.refused = self.refused or other.refused

    def work(self, value: Callable[[], float]) -> float:
        """A *value* worked out on the way to the comparison, such as its limit.

        Not a number where something is missing, or where the calculation refuses its input: then
        the answer is unknown, for the reason that the calculation gave.
        """
        if self.missing or self.refused:
            return math.nan
        try:
            return value()
        except ValueError as error:
            self.refused = str(error)
            return math.nan

    def take(
        self, symbol: str, label: str, amount: Amount | None, unit: Unit, key: str
    ) -> Quantity:
        """The quantity under *key*; where it is missing, one that is not a number."""
        if amount is not None:
            return stated(symbol, label, amount, unit, key)
        self.missing.append(key)
        return Quantity(
            symbol=symbol, label=label, value=math.nan, unit=unit, source=Source.site(key)
        )

    def number(
        self, symbol: str, label: str, value: float | None, unit: Unit, key: str
    ) -> Quantity:
        """A plain number under *key*, such as a count or an efficiency."""
        if value is None:
            self.missing.append(key)
        return Quantity(
            symbol=symbol,
            label=label,
            value=math.nan if value is None else float(value),
            unit=unit,
            source=Source.site(key),
        )

    def keep(self, value: Quantity | None, key: str) -> Quantity:
        """A quantity worked out elsewhere, which is None where *key* is missing."""
        if value is not None:
            return value
        self.missing.append(key)
        return Quantity(
            symbol="", label="", value=math.nan, unit=Unit.RATIO, source=Source.site(key)
        )

    def say(self, value: object, key: str) -> None:
        """A statement under *key* that the check cannot do without."""
        if value is None:
            self.missing.append(key)

    @property
    def because(self) -> str:
        """What is missing, in words."""
        return f"{listed(self.missing)} not given"


def compare(  # noqa: PLR0913 - the parts of a comparison, by keyword
    rule: Rule,
    way: Way,
    needs: Needs,
    working: Callable[[], Working],
    relation: Relation,
    limit: Quantity,
    *,
    result: tuple[str, str, Unit],
    settle_by: str,
    keys: tuple[str, ...],
    about: str = "",
    slack: float = 0.0,
) -> Finding:
    """The finding of a *working* against a *limit*, unknown where something is missing."""

    def outcome() -> Compared:
        return working().against(relation, limit, result=output(*result), slack=slack)

    return answer(rule, way, needs, outcome, settle_by=settle_by, keys=keys, about=about)


def answer(
    rule: Rule,
    way: Way,
    needs: Needs,
    outcome: Callable[[], Compared | Stated | Missing],
    *,
    settle_by: str,
    keys: tuple[str, ...],
    about: str = "",
) -> Finding:
    """The finding of *rule*: unknown if anything needed is missing, else what *outcome* says.

    A ValueError of the calculation means input outside its range: that is unknown too.
    """
    said: Compared | Stated | Missing
    if needs.missing:
        said, settle_by, keys = Missing(because=needs.because), MEASURE, tuple(needs.missing)
    elif needs.refused:
        said = Missing(because=needs.refused)
    else:
        try:
            said = outcome()
        except ValueError as error:
            said = Missing(because=str(error))
    return finding(
        rule,
        said,
        settle_by=settle_by,
        keys=keys,
        space=way.scene.space,
        about=f"{way.name}{f', {about}' if about else ''}",
    )
