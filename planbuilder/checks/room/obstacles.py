"""What a fallen person could meet: under the fall and the hang, or on the way of the swing."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.falling import measure
from planbuilder.checks.scene import Scene
from planbuilder.findings import Quantity, Unit
from planbuilder.site.fall import Fall


@dataclass(frozen=True, slots=True)
class Met:
    """A thing that could be met: its top under the walking surface, and how far aside it is."""

    what: str
    below: Quantity
    aside: Quantity


def obstacles(scene: Scene, fall: Fall, needs: Needs) -> tuple[Met, ...]:
    """Every obstacle that the site file names."""
    met = []
    for number, one in enumerate(fall.obstacle, 1):
        key = scene.key(f"fall.obstacle[{number}]")
        below = needs.take(
            "h_below", f"free height down to {one.what}", one.below, Unit.M, f"{key}.below"
        )
        aside = needs.take("u", f"{one.what}, aside", one.aside, Unit.M, f"{key}.aside")
        met.append(Met(one.what, below, aside))
    return tuple(met)


def body_room(scene: Scene) -> tuple[Quantity, Quantity]:
    """Shoulder breadth, and the gap to keep beside a body that swings."""
    return largest(scene, "shoulder-breadth"), scene.defaults.of("swing-gap")


def is_under(scene: Scene, one: Met, offset_m: float) -> bool:
    """True if *one* lies below the start of the fall, or below the plumb line where it ends."""
    breadth, gap = body_room(scene)
    room_m = breadth.value / 2 + gap.value
    return min(abs(one.aside.value), abs(one.aside.value - offset_m)) <= room_m


def nearest(scene: Scene, fall: Fall, needs: Needs) -> Quantity:
    """The free height down to whatever is hit first: the lower level, or an obstacle above it."""
    what = fall.hits_first or "the lower level"
    levels = [
        needs.take(
            "h_below", f"free height down to {what}", fall.below, Unit.M, scene.key("fall.below")
        )
    ]
    if fall.obstacle:
        offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
        met = obstacles(scene, fall, needs)
        if not needs.missing:
            levels += [one.below for one in met if is_under(scene, one, offset.value)]
    return min(levels, key=lambda one: one.value)
