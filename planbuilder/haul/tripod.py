"""Tripods: three straight legs, pinned at head and foot, without mass of their own.

Derived (statics). Leaving out the weight of the legs is on the safe side for tipping. The maker's
leg rating, where there is one, comes before any strength worked out here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbuilder.haul.linear import solve

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LegForce:
    """Push of one leg along itself, and of the ground on its foot; below 0 the foot lifts."""

    push_n: float
    thrust_n: float
    vertical_n: float


def chain_tension_n(*, thrust_n: float) -> float:
    """Tension of a chain from foot to foot all round, in N; two of them hold each foot."""
    return thrust_n / math.sqrt(3)


def winch_leg_n(*, leg_force_n: float, line_force_n: float) -> float:
    """Push in the leg that carries the winch, in N.

    The line comes down along that leg and presses it between head and winch; foot and ground do
    not feel it.
    """
    return leg_force_n + line_force_n


def leg_forces(
    *, feet: Sequence[Vector], head: Vector, head_force_n: Vector
) -> tuple[LegForce, ...]:
    """Push of each of three legs and of the ground, for any force at the head and any three feet.

    Feet may stand at different heights; z is up. Balance of the head: the three pushes and the
    force add up to nothing. A negative push means that the foot lifts and the tripod tips. Raises
    ValueError unless there are three feet that, with the head, do not lie in one plane.
    """
    along = _along(feet, head)
    return _forces(along, _pushes_n(along, head_force_n))


def hardest_legs(
    *, feet: Sequence[Vector], head: Vector, down_n: float, level_n: float
) -> tuple[LegForce, ...]:
    """Each leg at its most: the level part of the pull at the head turned to where it pushes it.

    Where a line leans or is led off, its side may be any. Raises ValueError as `leg_forces`.
    """
    return _turned_legs(feet, head, down_n, level_n)


def lightest_legs(
    *, feet: Sequence[Vector], head: Vector, down_n: float, level_n: float
) -> tuple[LegForce, ...]:
    """Each leg at its least, as `hardest_legs` at its most; below 0 the foot lifts."""
    return _turned_legs(feet, head, down_n, -level_n)


def largest_lean_rad(*, feet: Sequence[Vector], head: Vector) -> float:
    """Lean off plumb at which a pull at the head, turned the worst way, just lifts a foot, in rad.

    Feet at different heights, as on a slope, count: below 0 even a plumb pull lifts one. For level
    feet the pull then meets the ground on the circle inside their triangle. Raises ValueError as
    `leg_forces`.
    """
    plumb, level = _shares(_along(feet, head))
    return min(math.atan2(one, most) for one, most in zip(plumb, level, strict=True))


def largest_lead_m(*, height_m: float, largest_lean_rad: float, led_share: float) -> float:
    """Farthest from below the head that a line may be led off to the ground in any direction, in m.

    *led_share* is the tension of the strand led off over that of the hanging one: 1 without
    friction. There their sum leans just as far as the tripod stands. Beyond it lead the line down
    a leg, or guy the head. Infinite where even a level strand is held; 0 where a plumb pull is not.
    """
    if largest_lean_rad <= 0:
        return 0.0
    share = math.sin(largest_lean_rad) / led_share
    turned_rad = largest_lean_rad + math.asin(min(1.0, share))
    if share > 1 or turned_rad >= math.pi / 2:
        return math.inf
    return height_m * math.tan(turned_rad)


def lean_offset_m(*, height_m: float, lean_rad: float) -> float:
    """Where a line that hangs *lean_rad* off plumb pulls on the ground, from the middle, in m."""
    return height_m * math.tan(lean_rad)


def leg_buckling_n(
    *,
    elasticity_pa: float,
    second_moment_m4: float,
    length_m: float,
    safety_factor: float,
) -> float:
    """Push at which a straight leg may be loaded before it bows out, in N.

    Euler, elastic, pinned at both ends. Holds for slender legs only: a stocky one yields first.
    Extended legs count with the section of the thinner tube.
    """
    return math.pi**2 * elasticity_pa * second_moment_m4 / (length_m**2 * safety_factor)


def _turned_legs(
    feet: Sequence[Vector], head: Vector, down_n: float, level_n: float
) -> tuple[LegForce, ...]:
    """Each leg under *down_n* and its own worst, or for a negative *level_n* best, side pull."""
    along = _along(feet, head)
    plumb, level = _shares(along)
    pushes_n = [one * down_n + most * level_n for one, most in zip(plumb, level, strict=True)]
    return _forces(along, pushes_n)


def _shares(along: Sequence[Vector]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Push of each leg for 1 N straight down, and its most for 1 N level toward any side."""
    plumb = _pushes_n(along, (0.0, 0.0, -1.0))
    sides = (_pushes_n(along, (1.0, 0.0, 0.0)), _pushes_n(along, (0.0, 1.0, 0.0)))
    return plumb, tuple(math.hypot(*both) for both in zip(*sides, strict=True))


def _along(feet: Sequence[Vector], head: Vector) -> list[Vector]:
    if len(feet) != 3:  # noqa: PLR2004
        raise ValueError(f"a tripod has three feet, got {len(feet)}")
    return [_unit(foot, head) for foot in feet]


def _pushes_n(along: Sequence[Vector], head_force_n: Vector) -> tuple[float, ...]:
    return solve([[leg[i] for leg in along] for i in range(3)], [-f for f in head_force_n])


def _forces(along: Sequence[Vector], pushes_n: Sequence[float]) -> tuple[LegForce, ...]:
    return tuple(
        LegForce(
            push_n=push_n,
            thrust_n=push_n * math.hypot(leg[0], leg[1]),
            vertical_n=push_n * leg[2],
        )
        for push_n, leg in zip(pushes_n, along, strict=True)
    )


def _unit(start: Vector, end: Vector) -> Vector:
    """Unit vector from *start* to *end*."""
    length_m = math.dist(start, end)
    return (
        (end[0] - start[0]) / length_m,
        (end[1] - start[1]) / length_m,
        (end[2] - start[2]) / length_m,
    )
