"""A tripod as it stands: legs, feet at their own levels, head, and the forces in its legs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.lifting.reeving import advantage_at_drum
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.supports.head_pull import Pulled, is_winch, pulled
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.apex import apex_m
from planbuilder.haul.tripod import (
    LegForce,
    Vector,
    hardest_legs,
    largest_lean_rad,
    lightest_legs,
    winch_leg_n,
)
from planbuilder.site.supports import Tripod

FOOT_AZIMUTHS = (math.pi / 2, math.pi * 7 / 6, math.pi * 11 / 6)
AS_STANDS = "three pinned legs, feet where they stand, pull turned the worst way"


class Legs:
    """A tripod with its size, as far as the site file gives it."""

    def __init__(self, way: Way, support: Tripod) -> None:
        """Ask for length, foot circle and levels."""
        self.way, self.support, self.needs = way, support, Needs()
        key = f"support.{support.id}"
        self.length = self.needs.take(
            "L", "leg length", support.leg_length, Unit.M, f"{key}.leg_length"
        )
        self.circle = self.needs.take(
            "r", "radius of the foot circle", support.foot_radius, Unit.M, f"{key}.foot_radius"
        )
        self.needs.say(way.rig.foot_levels if way.rig else None, way.key("rig.foot_levels"))

    @property
    def feet(self) -> list[Vector]:
        """The feet on their circle, each at the level that the rig states."""
        rig, radius = self.way.rig, self.circle.value
        levels = [one.m for one in rig.foot_levels or ()] if rig else []
        return [
            (radius * math.cos(at), radius * math.sin(at), level)
            for at, level in zip(FOOT_AZIMUTHS, levels, strict=True)
        ]

    @property
    def head(self) -> Vector:
        """Where the legs meet. Raises ValueError if they do not."""
        return apex_m(feet=self.feet, leg_length_m=self.length.value)

    @property
    def largest_lean_rad(self) -> float:
        """How far the pull may lean before a foot lifts, on this ground."""
        return largest_lean_rad(feet=self.feet, head=self.head)

    def hardest(self, pulled: Pulled) -> tuple[LegForce, ...]:
        """Each leg at its most."""
        pull = pulled.at(self.head[2])
        return hardest_legs(
            feet=self.feet, head=self.head, down_n=pull.down_n, level_n=pull.level_n
        )

    def lightest(self, pulled: Pulled) -> tuple[LegForce, ...]:
        """Each leg at its least."""
        pull = pulled.at(self.head[2])
        return lightest_legs(
            feet=self.feet, head=self.head, down_n=pull.down_n, level_n=pull.level_n
        )


def tripods(scene: Scene) -> Iterator[tuple[Way, Legs]]:
    """The ways out that hang on a tripod."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, Tripod):
            yield way, Legs(way, support)


class LegCase:
    """One load case on a tripod, and what it needs."""

    def __init__(self, legs: Legs, case: str, force: Quantity) -> None:
        """Ask where a winch hangs, and where a strand goes that is led off."""
        self.legs, self.case, self.needs = legs, case, Needs()
        self.needs.also(legs.needs)
        way, rig = legs.way, legs.way.rig
        if rig and is_winch(way):
            self.needs.say(rig.winch_on_leg, way.key("rig.winch_on_leg"))
        self.pull: Pulled = pulled(way, case, force, self.needs)
        self.on_leg = bool(rig and rig.winch_on_leg) and is_winch(way) and case == "LC1"

    def push(self) -> Working:
        """The push in the hardest leg, with the winch's line where it runs down that leg."""
        most_n = max(one.push_n for one in self.legs.hardest(self.pull))
        push = derived("C_leg", "push in the hardest leg from the head", most_n, Unit.N, AS_STANDS)
        line = self._line()
        value = winch_leg_n(leg_force_n=most_n, line_force_n=line.value)
        size = (self.legs.length, self.legs.circle)
        return Working(value, "C_leg + T_leg", (push, line, *size, *self.pull.inputs))

    def _line(self) -> Quantity:
        label = "pull of a winch on the leg"
        if not self.on_leg:
            return derived("T_leg", label, 0.0, Unit.N, "no winch on a leg")
        way = self.legs.way
        line = advantage_at_drum(way, way.scene.device(way.rig.device)) if way.rig else None
        value = self.pull.force.value / (line.value if line else 1.0)
        note = "F/A_line: past the head sheave the line runs down that leg"
        return derived("T_leg", label, value, Unit.N, note, (line,) if line else ())


def leg_cases(legs: Legs) -> Iterator[LegCase]:
    """The load cases of a tripod, the lift first."""
    for case, force in load_cases(legs.way):
        yield LegCase(legs, case, force)
