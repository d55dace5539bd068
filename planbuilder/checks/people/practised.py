"""The place in which a rescue service was seen at work: as hard as this one, or harder."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.people.relied_on import (
    elevated,
    obstructed,
    relied_on,
    restricted,
    vertical,
)
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.evaluation import Practised
from planbuilder.site.people import Service

EASIER = Rule(
    "response/service-practice-easier",
    "The rescue service was seen at work in a place no easier than this",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="B"),
)
# Each pair: the harder word, and what in the plan makes it the one wanted, with its key.
_KINDS = {
    "inside": ("obstructed", obstructed, "shape.obstructed"),
    "opening": ("restricted", restricted, "opening"),
    "raised": ("elevated", elevated, "opening.above_ground"),
    "way_in": ("vertical", vertical, "opening.from_side"),
}


def check_practised(scene: Scene) -> Iterator[Finding]:
    """In each respect the place of the practice was as hard as this one, or harder."""
    for service in relied_on(scene):
        outcome, keys = _compared(scene, service)
        yield finding(
            EASIER,
            outcome,
            settle_by=f"See {service.name} at work here, or in a place that is as narrow, as "
            "raised, as obstructed and as steep to enter, and state practised.",
            keys=keys,
            space=scene.space,
            about=service.name,
        )


def _compared(scene: Scene, service: Service) -> tuple[Stated | Missing, tuple[str, ...]]:
    seen, table = service.practised or Practised(), f"service.{service.id}.practised"
    easier, unknown = [], []
    for name, (harder, test, key) in _KINDS.items():
        wanted, said = test(scene), getattr(seen, name)
        if said == harder or wanted is False:
            continue
        if said is not None and wanted:
            easier.append(f"{harder} here, practised {said}")
        else:
            unknown.append(f"{table}.{name}" if said is None else scene.key(key))
    if seen.on is not None and seen.on > scene.on:
        words = f"{service.name}: practice of {day_text(seen.on)} is still to come"
        return Stated(holds=False, because=words), (f"{table}.on",)
    if easier:
        return Stated(holds=False, because=f"{service.name}: {', '.join(easier)}"), (table,)
    if seen.on is None:
        unknown.insert(0, f"{table}.on")
    if unknown:
        names = ", ".join(one.rpartition(".")[2].replace("_", " ") for one in unknown)
        return Missing(because=f"{service.name}: not stated: {names}"), tuple(unknown)
    words = f"{service.name}: seen {day_text(seen.on)} in a place as hard" if seen.on else ""
    return Stated(holds=True, because=words), (table,)
