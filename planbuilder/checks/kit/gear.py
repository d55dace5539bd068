"""What a method takes in hand, and what the whole space leans on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planbuilder.checks.scene import Scene, Way
from planbuilder.site.equipment import Equipment, Serves
from planbuilder.site.supports import Inspected, Structure

TABLES = ("equipment", "device", "support")


@dataclass(frozen=True, slots=True)
class Gear:
    """A thing of the site file, with where it stands there."""

    table: str
    id: str
    item: Inspected

    def key(self, tail: str) -> str:
        """The site-file key of one of its facts."""
        return f"{self.table}.{self.id}.{tail}"

    @property
    def count(self) -> int:
        """How many there are of it."""
        return self.item.quantity if isinstance(self.item, Equipment) else 1


def used_by(way: Way) -> tuple[Gear, ...]:
    """What *way* takes in hand: rig, set, stretcher, and what its steps use."""
    scene, method = way.scene, way.method
    air = (method.breathing_set, method.air.backup_set, method.air.escape_set)
    steps = (one for step in method.step for one in step.uses)
    return _each_once(
        (
            *(Gear("support", one.id, one) for one in scene.supports_of(way)),
            *(Gear("device", one.id, one) for one in scene.devices_of(way)),
            *(found(scene, one) for one in (*air, method.stretcher) if one is not None),
            *(found(scene, one) for one in steps),
        )
    )


def used_here(scene: Scene) -> tuple[Gear, ...]:
    """Everything that the rescue of this space, or the arrest of a fall in it, leans on."""
    gear = [one for way in scene.ways() for one in used_by(way)]
    fall = scene.space.fall
    if fall is not None and fall.device is not None:
        gear.append(Gear("device", fall.device, scene.device(fall.device)))
    return _each_once((*gear, *(serving(scene, Serves.HARNESS, Serves.LANYARD))))


def serving(scene: Scene, *wanted: Serves) -> Iterator[Gear]:
    """The equipment that serves as one of *wanted*."""
    for one in scene.site.equipment:
        if any(each in one.serves for each in wanted):
            yield Gear("equipment", one.id, one)


def is_built_in(one: Gear) -> bool:
    """Whether it is a part of the building, which nobody fetches and no maker numbers."""
    return isinstance(one.item, Structure)


def found(scene: Scene, wanted: str) -> Gear:
    """The thing of that id; ids are looked for in the order of TABLES."""
    return next(
        Gear(table, one.id, one)
        for table in TABLES
        for one in getattr(scene.site, table)
        if one.id == wanted
    )


def _each_once(gear: Iterable[Gear]) -> tuple[Gear, ...]:
    return tuple({(one.table, one.id): one for one in gear}.values())
