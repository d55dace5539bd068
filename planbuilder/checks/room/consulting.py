"""Clearance: whether the operator of an overhead line nearby has been asked."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planbuilder.checks.asking import MEASURE, Needs
from planbuilder.checks.room.lengths import up
from planbuilder.checks.room.power_lines import is_off, power_lines
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.findings import (
    Bind,
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.surroundings import PowerLine
from planbuilder.tables import table
from planbuilder.units import Dimension, parse

CONSULTED = Rule(
    "clearance/line-operator-not-consulted",
    "Operator of an overhead line asked",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="HSE GS6"),
)


@dataclass(frozen=True, slots=True)
class ConsultTable:
    """Within which distance of a line its operator is asked, by what carries the line."""

    title: str
    source: Source
    within_m: Mapping[str, float]

    def distance(self, line: PowerLine) -> Quantity:
        """The distance for *line*; the largest where nobody says what carries it."""
        unknown_m = max(self.within_m.values())
        distance_m = unknown_m if line.carried_by is None else self.within_m[line.carried_by]
        label = f"within which the operator is asked, {line.carried_by or 'support not stated'}"
        return Quantity(
            symbol="D_ask", label=label, value=distance_m, unit=Unit.M, source=self.source
        )


@functools.cache
def consult_tables() -> dict[str, ConsultTable]:
    """Every table of distances for asking that is shipped, by id."""
    return {
        name: ConsultTable(
            entry["title"],
            Source(
                mark=Mark(entry["mark"]),
                document=entry["document"],
                clause=entry["clause"],
                bind=Bind.GUIDANCE,
            ),
            {by: parse(text, Dimension.LENGTH).value for by, text in entry["within"].items()},
        )
        for name, entry in table("consult_distances").items()
    }


def check_consulted(scene: Scene) -> Iterator[Finding]:
    """Where the profile or the line names such a table: the operator is asked, or it is far."""
    for line, key in power_lines(scene):
        own = (line.consult_table,) if line.consult_table else ()
        for name in dict.fromkeys((*scene.limits.consult_tables, *own)):
            if not is_off(scene, line):
                yield _asked(scene, line, key, name)


def _asked(scene: Scene, line: PowerLine, key: str, name: str) -> Finding:
    outcome: Compared | Stated | Missing
    keys: tuple[str, ...] = (f"{key}.consulted", f"{key}.consulted_on")
    settle = "Ask the operator of the line before the work, and state who was asked and when."
    if (rule := consult_tables().get(name)) is None:
        outcome, keys = Missing(because=f"no such table: {name}"), (f"{key}.consult_table",)
        settle = f"Name one of these: {', '.join(consult_tables())}."
    elif line.consulted and line.consulted_on and line.consulted_on <= scene.on:
        outcome = Stated(holds=True, because=f"asked: {line.consulted}")
    else:
        limit, needs = rule.distance(line), Needs()
        working = _nearest(line, key, needs)
        outcome = Missing(because=needs.because) if needs.missing else _far(working, limit)
        settle += f" From {up(limit.value)} m in plan on, of place and way, this table is silent."
        if needs.missing:
            settle, keys = f"{settle} Or: {MEASURE}", tuple(needs.missing)
    return finding(
        CONSULTED, outcome, settle_by=settle, keys=keys, space=scene.space, about=line.name
    )


def _nearest(line: PowerLine, key: str, needs: Needs) -> Working:
    place = needs.take("d_h", "line in plan", line.distance, Unit.M, f"{key}.distance")
    label, tail = "line in plan from the way to the place", "route_distance"
    route = needs.take("d_r", label, line.route_distance, Unit.M, f"{key}.{tail}")
    nearest_m = math.nan if needs.missing else min(place.value, route.value)
    return Working(nearest_m, "min(d_h, d_r)", (place, route))


def _far(working: Working, limit: Quantity) -> Compared:
    return working.against(
        Relation.AT_LEAST, limit, result=output("d_near", "nearest in plan", Unit.M)
    )
