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


def tripod_height_m(*, leg_length_m: float, foot_circle_m: float) -> float:
    """Height of the head over level feet, in m; *foot_circle_m* is the radius through the feet.

    Raises ValueError unless the legs are longer than that radius.
    """
    if leg_length_m <= foot_circle_m:
        raise ValueError(
            f"legs must be longer than the radius through the feet ({foot_circle_m:g} m), "
            f"got {leg_length_m:g} m"
        )
    return math.sqrt(leg_length_m**2 - foot_circle_m**2)


def leg_lean_rad(*, leg_length_m: float, foot_circle_m: float) -> float:
    """Angle between a leg and the plumb line, in rad. Raises as `tripod_height_m`."""
    height_m = tripod_height_m(leg_length_m=leg_length_m, foot_circle_m=foot_circle_m)
    return math.atan2(foot_circle_m, height_m)


def leg_force_n(*, load_n: float, lean_rad: float) -> float:
    """Push in each leg, in N, with *load_n* straight down at the head."""
    return load_n / (3 * math.cos(lean_rad))


def foot_thrust_n(*, load_n: float, lean_rad: float) -> float:
    """Outward push of each foot, in N.

    Friction or chains take it; straps from each foot to a ring in the middle carry just this.
    """
    return load_n * math.tan(lean_rad) / 3


def chain_tension_n(*, thrust_n: float) -> float:
    """Tension of a chain from foot to foot all round, in N; two of them hold each foot."""
    return thrust_n / math.sqrt(3)


def foot_friction_needed(*, lean_rad: float) -> float:
    """Friction coefficient under the feet that would do without a chain."""
    return math.tan(lean_rad)


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
    if len(feet) != 3:  # noqa: PLR2004
        raise ValueError(f"a tripod has three feet, got {len(feet)}")
    along = [_unit(foot, head) for foot in feet]
    pushes_n = solve([[leg[i] for leg in along] for i in range(3)], [-f for f in head_force_n])
    return tuple(
        LegForce(
            push_n=push_n,
            thrust_n=push_n * math.hypot(leg[0], leg[1]),
            vertical_n=push_n * leg[2],
        )
        for push_n, leg in zip(pushes_n, along, strict=True)
    )


def led_off_force_n(*, line_force_n: float, head: Vector, led_to: Vector) -> Vector:
    """Force at the head, in N, of a line that goes up to it and on to the point *led_to*.

    Without friction in the head sheave: the load pulls straight down, the haul side toward the
    point, each with *line_force_n*.
    """
    lead = _unit(head, led_to)
    return (
        line_force_n * lead[0],
        line_force_n * lead[1],
        line_force_n * (lead[2] - 1),
    )


def led_off_offset_m(*, height_m: float, lead_m: float) -> float:
    """Where the pull of a line led off meets the ground, from the middle of the feet, in m.

    The line goes from the head to a ground point *lead_m* from the middle. Two equal tensions pull
    along their bisector.
    """
    return height_m * math.tan(math.atan2(lead_m, height_m) / 2)


def largest_lead_m(*, height_m: float, foot_circle_m: float) -> float:
    """Farthest from the middle that a line may be led off to the ground in any direction, in m.

    There the pull meets the ground on the circle inside the triangle of level feet, half of
    *foot_circle_m*. Beyond it lead the line down a leg, or guy the head. Infinite for a tripod so
    flat that even a level pull stays inside.
    """
    bisector_rad = math.atan2(foot_circle_m / 2, height_m)
    if bisector_rad >= math.pi / 4:
        return math.inf
    return height_m * math.tan(2 * bisector_rad)


def lean_offset_m(*, height_m: float, lean_rad: float) -> float:
    """Where a line that hangs *lean_rad* off plumb pulls on the ground, from the middle, in m."""
    return height_m * math.tan(lean_rad)


def largest_lean_rad(*, height_m: float, foot_circle_m: float) -> float:
    """Lean of the load line that level feet stand in any direction, in rad."""
    return math.atan2(foot_circle_m / 2, height_m)


def leg_gap_m(*, leg_length_m: float, foot_circle_m: float, above_feet_m: float) -> float:
    """Distance between the axes of two legs at a height above level feet, in m.

    What passes out sideways has this less one leg's thickness. Raises ValueError as
    `tripod_height_m`, or if the height is not between feet and head.
    """
    height_m = tripod_height_m(leg_length_m=leg_length_m, foot_circle_m=foot_circle_m)
    if not 0 <= above_feet_m <= height_m:
        raise ValueError(
            f"height must be between feet and head (0 to {height_m:g} m), got {above_feet_m:g} m"
        )
    return math.sqrt(3) * foot_circle_m * (1 - above_feet_m / height_m)


def leg_buckling_n(
    *,
    elasticity_pa: float,
    second_moment_m4: float,
    length_m: float,
    length_factor: float,
    safety_factor: float,
) -> float:
    """Push at which a straight leg may be loaded before it bows out, in N.

    Euler, elastic; *length_factor* is 1 for pinned ends. Holds for slender legs only: a stocky one
    yields first. Extended legs count with the section of the thinner tube.
    """
    effective_m = length_factor * length_m
    return math.pi**2 * elasticity_pa * second_moment_m4 / (effective_m**2 * safety_factor)


def tube_second_moment_m4(*, outer_m: float, inner_m: float) -> float:
    """Second moment of area of a round tube, in m^4, from its two diameters."""
    return math.pi * (outer_m**4 - inner_m**4) / 64


def _unit(start: Vector, end: Vector) -> Vector:
    """Unit vector from *start* to *end*."""
    length_m = math.dist(start, end)
    return (
        (end[0] - start[0]) / length_m,
        (end[1] - start[1]) / length_m,
        (end[2] - start[2]) / length_m,
    )
