"""Free section of a shaft round a plumb line. Plane geometry, derived.

Positions are from the centre of the shaft. What reaches in from the wall is taken to fill the
whole segment beyond its innermost point: on the safe side for a pipe, exact for a ledge.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

STEPS = 40
THIRD = 1 / 3
LEVEL_M = 1e-7  # less is no gain: the search for the other coordinate is no finer


@dataclass(frozen=True, slots=True)
class Section:
    """The clear section of a shaft: *length_m* and *width_m* are both the diameter if round."""

    length_m: float
    width_m: float
    is_round: bool

    def wall_m(self, x_m: float, y_m: float) -> float:
        """Distance from a point to the wall, in m; negative outside."""
        if self.is_round:
            return self.width_m / 2 - math.hypot(x_m, y_m)
        return min(self.length_m / 2 - abs(x_m), self.width_m / 2 - abs(y_m))

    def out_to_m(self, towards_rad: float) -> float:
        """How far the section extends in a direction, in m."""
        if self.is_round:
            return self.width_m / 2
        along, across = abs(math.cos(towards_rad)), abs(math.sin(towards_rad))
        return self.length_m / 2 * along + self.width_m / 2 * across


@dataclass(frozen=True, slots=True)
class Obstruction:
    """Something on the wall: in which direction, and how far it reaches in."""

    towards_rad: float
    reaches_in_m: float

    def gap_m(self, section: Section, x_m: float, y_m: float) -> float:
        """Distance from a point to it, in m; negative: the point lies behind it."""
        out_m = x_m * math.cos(self.towards_rad) + y_m * math.sin(self.towards_rad)
        return section.out_to_m(self.towards_rad) - self.reaches_in_m - out_m


def clear_radius_m(
    *, section: Section, obstructions: Sequence[Obstruction], x_m: float, y_m: float
) -> float:
    """Least distance from a plumb line to wall or obstruction, over every depth, in m."""
    gaps = [one.gap_m(section, x_m, y_m) for one in obstructions]
    return min([section.wall_m(x_m, y_m), *gaps])


def best_plumb_m(
    *, section: Section, obstructions: Sequence[Obstruction]
) -> tuple[float, float, float]:
    """Where a plumb line has most room, and its clear radius: x, y and radius in m.

    The clear radius is concave, so a search by thirds in x, of the best by thirds in y, finds it.
    """

    def radius_m(x_m: float, y_m: float) -> float:
        return clear_radius_m(section=section, obstructions=obstructions, x_m=x_m, y_m=y_m)

    def best_y_m(x_m: float) -> float:
        return _highest(lambda y_m: radius_m(x_m, y_m), section.width_m / 2)

    half_m = (section.width_m if section.is_round else section.length_m) / 2
    best_x_m = _highest(lambda x_m: radius_m(x_m, best_y_m(x_m)), half_m)
    y_m = best_y_m(best_x_m)
    return best_x_m, y_m, radius_m(best_x_m, y_m)


def _highest(value: Callable[[float], float], half_m: float) -> float:
    """Where a concave *value* is highest between minus and plus *half_m*."""
    low_m, high_m = -half_m, half_m
    for _ in range(STEPS):
        step_m = (high_m - low_m) * THIRD
        gain_m = value(high_m - step_m) - value(low_m + step_m)
        # As good on both sides: the best lies between, and the middle of a long shaft is preferred.
        if gain_m > -LEVEL_M:
            low_m += step_m
        if gain_m < LEVEL_M:
            high_m -= step_m
    return (low_m + high_m) / 2
