"""The tables of approach distances in force at a line, and the distance that they ask for."""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planbuilder.checks.scene import Scene
from planbuilder.clearance.approach import Row, Step, tabled_distance_m
from planbuilder.findings import Bind, Mark, Quantity, Source, Unit
from planbuilder.site.surroundings import PowerLine
from planbuilder.tables import table
from planbuilder.units import Dimension, parse


@dataclass(frozen=True, slots=True, kw_only=True)
class ApproachTable:
    """A table of approach distances with its document and the country that it belongs to."""

    title: str
    country: str
    source: Source
    rows: tuple[Row, ...]
    step: Step | None
    unknown_m: float
    unknown_source: Source

    def distance(self, line: PowerLine, *, insulated: bool) -> Quantity:
        """What the table asks for at *line*. ValueError where the voltage lies above it."""
        if line.voltage is None:
            distance_m, at, source = self.unknown_m, "unknown voltage", self.unknown_source
        else:
            volts = line.voltage.v
            distance_m = tabled_distance_m(
                self.rows, self.step, voltage_v=volts, insulated=insulated
            )
            at, source = line.voltage.written, self.source
        return Quantity(
            symbol="D",
            label=f"approach distance at {at}: {self.title}",
            value=distance_m,
            unit=Unit.M,
            source=source,
        )


@functools.cache
def approach_tables() -> dict[str, ApproachTable]:
    """Every table that is shipped, by id."""
    return {name: _table(entry) for name, entry in table("approach_distances").items()}


def in_force(scene: Scene, line: PowerLine) -> list[str]:
    """The ids of the tables that hold at *line*: those of every rule set and the line's own."""
    own = (line.table,) if line.table else ()
    return list(dict.fromkeys((*scene.limits.approach_tables, *own)))


def distance_needed(scene: Scene, line: PowerLine, *, insulated: bool) -> Quantity:
    """The largest distance of all tables in force at *line*.

    ValueError where none is in force, one is not shipped, or the voltage lies above one.
    """
    names = in_force(scene, line)
    strange = [name for name in names if name not in approach_tables()]
    if strange or not names:
        known = ", ".join(approach_tables())
        message = f"no table of approach distances {' '.join(strange)}; tables: {known}"
        raise ValueError(message)
    asked = [approach_tables()[name].distance(line, insulated=insulated) for name in names]
    return max(asked, key=lambda one: one.value)


def _table(entry: Mapping[str, Any]) -> ApproachTable:
    step, unknown = entry.get("step"), entry["unknown"]
    return ApproachTable(
        title=entry["title"],
        country=entry["country"],
        source=_source(entry),
        rows=tuple(_row(one) for one in entry["row"]),
        step=_step(step) if step else None,
        unknown_m=_m(unknown["distance"]),
        unknown_source=_source(unknown),
    )


def _source(entry: Mapping[str, Any]) -> Source:
    return Source(
        mark=Mark(entry["mark"]),
        document=entry.get("document", ""),
        clause=entry.get("clause", ""),
        bind=Bind.LAW if "title" in entry else None,
        note=entry.get("note", ""),
    )


def _row(entry: Mapping[str, str]) -> Row:
    upper = entry.get("up_to") or entry.get("below")
    return Row(
        most_v=_v(upper) if upper else math.inf,
        included="below" not in entry,
        distance_m=_m(entry["distance"]),
        insulated_m=_m(entry.get("insulated", entry["distance"])),
    )


def _step(entry: Mapping[str, str]) -> Step:
    return Step(from_v=_v(entry["from"]), each_v=_v(entry["each"]), adds_m=_m(entry["adds"]))


def _m(text: str) -> float:
    return parse(text, Dimension.LENGTH).value


def _v(text: str) -> float:
    return parse(text, Dimension.VOLTAGE).value
