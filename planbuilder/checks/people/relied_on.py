"""The services that a plan leans on for the rescue itself, and what of a space decides for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks.room.rings import rings, unmeasured
from planbuilder.checks.scene import Scene
from planbuilder.site.hazard import HazardKind
from planbuilder.site.people import Service
from planbuilder.tables import table
from planbuilder.units import Dimension, parse

_AIR = frozenset(
    (
        HazardKind.OXYGEN,
        HazardKind.INERT_GAS,
        HazardKind.HYDROGEN_SULFIDE,
        HazardKind.CARBON_MONOXIDE,
        HazardKind.FLAMMABLE,
    )
)


def relied_on(scene: Scene) -> Iterator[Service]:
    """Each service that a method names, once. Who only takes over afterwards stands in a step."""
    names = (way.method.service for way in scene.ways())
    yield from (scene.service(one) for one in dict.fromkeys(names) if one is not None)


def summoned(scene: Scene) -> Iterator[Service]:
    """Each service that is called, once: those relied on, and those that come in a step."""
    steps = (one.service for way in scene.ways() for one in way.method.step)
    names = [*(one.id for one in relied_on(scene)), *(one for one in steps if one is not None)]
    yield from (scene.service(one) for one in dict.fromkeys(names))


def _metres(which: str, key: str) -> float:
    return parse(table("service_questions")[which][key], Dimension.LENGTH).value


def vertical(scene: Scene) -> bool:
    """True where one is let down into the space, or hangs at a height."""
    return not (scene.space.is_confined and scene.space.opening.from_side)


def restricted(scene: Scene) -> bool | None:
    """Whether the way out narrows to what counts as restricted; None where it is not measured."""
    if not scene.space.is_confined:
        return False
    if unmeasured(scene):
        return None
    return min(one.available.value for one in rings(scene)) <= _metres("restricted", "up_to")


def elevated(scene: Scene) -> bool | None:
    """Whether the opening counts as raised; None where its height is not stated."""
    height = scene.space.opening.above_ground
    if not scene.space.is_confined:
        return True
    return None if height is None else height.m >= _metres("elevated", "from")


def obstructed(scene: Scene) -> bool | None:
    """Whether things inside are in the way; None where that is not stated.

    A bend or an obstruction of the shaft counts, whatever is said of the inside.
    """
    space = scene.space
    if space.bend or space.obstruction:
        return True
    if not space.is_confined:
        return False
    return space.shape.obstructed


def _deep(scene: Scene) -> bool | None:
    depth = scene.down[0]
    return None if depth is None else depth.m > _metres("vertical", "beyond")


def _in_the_way(scene: Scene) -> bool | None:
    narrow, blocked = restricted(scene), obstructed(scene)
    if narrow or blocked:
        return True
    return None if None in (narrow, blocked) else False


def _bad_air(scene: Scene) -> bool | None:
    return any(one.kind in _AIR for one in scene.space.hazard)


# Whether the matter arises, by the word of the table, and the key that would tell.
ARISES: dict[str, tuple[Callable[[Scene], bool | None], str]] = {
    "never": (lambda _: True, "hazard"),
    "no-air-hazard": (_bad_air, "hazard"),
    "not-deep": (_deep, "shape.depth"),
    "wide-and-open": (_in_the_way, "shape.obstructed"),
    "not-elevated": (elevated, "opening.above_ground"),
}
