"""How far one stroke of a rope system raises: every gap that closes, and the haulers' way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.lifting.rope_systems import rope_pull_or_none
from planbuilder.checks.scene import Way, Working
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.strokes import stroke_m
from planbuilder.site.equipment import ReevingKind, RopeSystem


@dataclass(frozen=True, slots=True)
class Closing:
    """A distance at the start of a stroke, and how much of it one unit of rise takes up."""

    start: Quantity
    closes: float

    @property
    def formula(self) -> str:
        """The rise that it allows, as printed."""
        room = f"{self.start.symbol} - d_0"
        return room if self.closes == 1 else f"({room})/{self.closes:g}"


def stroke(way: Way, device: RopeSystem, needs: Needs) -> Working:
    """The rise of one stroke; not a number where *needs* says what is missing."""
    unusable = way.scene.defaults.of("unusable-stroke")
    gaps = tuple(_gaps(device, needs))
    walkway = way.rig.walkway if way.rig else None
    walk = needs.take("w", "walkway of the haulers", walkway, Unit.M, way.key("rig.walkway"))
    rope = rope_pull_or_none(way.scene, device)
    advantage = needs.keep(rope.ideal if rope else None, f"device.{device.id}.reeving")
    value = needs.work(
        lambda: stroke_m(
            gaps=[(one.start.value, one.closes) for one in gaps],
            unusable_m=unusable.value,
            walkway_m=walk.value,
            ideal_advantage=advantage.value,
        )
    )
    formula = f"min({', '.join(one.formula for one in gaps)}, w/TMA)"
    return Working(value, formula, (*(one.start for one in gaps), unusable, walk, advantage))


def _gaps(device: RopeSystem, needs: Needs) -> Iterator[Closing]:
    key = f"device.{device.id}"
    first = device.reset_distance
    yield Closing(
        needs.take("D_1", "grab to anchor pulley", first, Unit.M, f"{key}.reset_distance"), 1
    )
    match device.reeving:
        case ReevingKind.COMPOUND:
            yield from _stages(device, needs)
        case ReevingKind.COMPLEX_5:
            label, apart = "between the moving pulleys", device.pulleys_apart
            yield Closing(needs.take("D_AB", label, apart, Unit.M, f"{key}.pulleys_apart"), 2)
        case ReevingKind.DESCRIBED:
            needs.say(device.gap or None, f"{key}.gap")
            for number, one in enumerate(device.gap, 1):
                name = f"{key}.gap.{number}.distance"
                start = needs.take(f"D_g{number}", f"gap {number}", one.distance, Unit.M, name)
                yield Closing(start, one.closes)


def _stages(device: RopeSystem, needs: Needs) -> Iterator[Closing]:
    """Each further stage moves as much faster as the stages before it multiply the load."""
    starts, key = device.stage_distances or [], f"device.{device.id}.stage_distances"
    for number in range(1, len(device.parts)):
        start = starts[number - 1] if number <= len(starts) else None
        label = f"grab to anchor pulley, stage {number + 1}"
        closes = math.prod(device.parts[:number])
        yield Closing(needs.take(f"D_{number + 1}", label, start, Unit.M, key), closes)
