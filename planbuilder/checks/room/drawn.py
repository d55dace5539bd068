"""Where feet, mast and hook of a rig stand in the layout of its space."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Way, derived, stated
from planbuilder.clearance.ground_plan import Point, moved
from planbuilder.findings import Quantity, Unit
from planbuilder.site.rig import Rig
from planbuilder.site.supports import LeggedBaseDavit, Tripod
from planbuilder.units import Length

HALF_TURN_RAD = math.pi
_THIRDS_RAD = (0.0, 2 * math.pi / 3, 4 * math.pi / 3)


def corners(outline: Sequence[tuple[Length, Length]]) -> tuple[Point, ...]:
    """An outline of the site file in metres."""
    return tuple((x.m, y.m) for x, y in outline)


@dataclass(frozen=True, slots=True)
class OnFeet:
    """A rig whose support stands on feet round the opening."""

    way: Way
    rig: Rig
    support: Tripod | LeggedBaseDavit

    def feet(self, needs: Needs) -> Callable[[], tuple[Point, ...]]:
        """Its feet in the layout; what that takes is asked for."""
        own = self._own_feet(needs)
        mast, turn = self.mast(needs), self._turn()
        return lambda: moved(own(), turn_rad=turn.value, to=mast())

    def mast(self, needs: Needs) -> Callable[[], Point]:
        """The origin of its feet: the mast of a davit; the hook of a tripod, over the centre."""
        towards = self._towards(needs)
        if isinstance(self.support, Tripod):
            return lambda: (0.0, 0.0)
        reach = needs.take("a", "reach", self.rig.reach, Unit.M, self.way.key("rig.reach"))
        return lambda: (
            reach.value * math.cos(towards.value),
            reach.value * math.sin(towards.value),
        )

    def half_pad(self) -> Quantity:
        """From the middle of a foot to the corner of its pad; nothing where no pad is stated."""
        wide = self.support.pad_width
        long = getattr(self.support, "pad_length", None) or wide
        wide = wide or long
        label = "middle of a foot to the corner of its pad"
        if wide is None or long is None:
            return derived("b_p", label, 0.0, Unit.M, "no pad stated")
        half_m = math.hypot(wide.m, long.m) / 2
        note = f"half the diagonal of {wide.written} x {long.written}"
        return derived("b_p", label, half_m, Unit.M, note)

    def off_centre(self) -> Quantity:
        """How far the hook, and its support with it, misses the centre of the opening."""
        amount, label = self.rig.off_centre, "line off the centre"
        if amount is None:
            return derived("e", label, 0.0, Unit.M, "the hook hangs over the centre")
        return stated("e", label, amount, Unit.M, self.way.key("rig.off_centre"))

    def _towards(self, needs: Needs) -> Quantity:
        key = self.way.key("rig.stands_towards")
        label = "direction of the support"
        return needs.take("theta", label, self.rig.stands_towards, Unit.RAD, key)

    def _turn(self) -> Quantity:
        """The boom of a davit points back at the opening; a tripod's first axis lies as stated."""
        towards = self._towards(Needs())
        if isinstance(self.support, Tripod):
            return towards
        back_rad = towards.value + HALF_TURN_RAD
        return derived("theta_0", "direction of the boom", back_rad, Unit.RAD, "theta + pi")

    def _own_feet(self, needs: Needs) -> Callable[[], tuple[Point, ...]]:
        support, key = self.support, f"support.{self.support.id}"
        if support.feet:
            own = corners(support.feet)
            return lambda: own
        if isinstance(support, LeggedBaseDavit):
            needs.say(None, f"{key}.feet")
            return lambda: ()
        label = "radius of the foot circle"
        radius = needs.take("r", label, support.foot_radius, Unit.M, f"{key}.foot_radius")
        return lambda: tuple(
            (radius.value * math.cos(at), radius.value * math.sin(at)) for at in _THIRDS_RAD
        )


def on_feet(scene: Scene) -> Iterator[OnFeet]:
    """The rigs on feet of their own."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if way.rig is not None and isinstance(support, Tripod | LeggedBaseDavit):
            yield OnFeet(way, way.rig, support)
