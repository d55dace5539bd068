"""Anchors of several legs that meet in one joint: what each leg and its anchor carries.

Derived (statics of one point, legs straight and without mass). Keep the angle between two legs at
90 degrees or less and never above 120, where each leg carries the whole load. A fixed anchor whose
load can swing is planned with the whole load on each leg.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from planbuilder.haul.linear import solve

# Binary fractions only: a leg that the joint just reaches is not slack.
STRETCH_SLACK = 1e-12
PLANE = 2
STEPS_ROUND = 72


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedLeg:
    """A leg tied to the joint at both ends.

    *direction* is the unit vector from the anchor to the joint: two numbers where all legs and the
    load lie in one plane, else three. *stiffness_n_per_m* is E A over length.
    """

    stiffness_n_per_m: float
    direction: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FixedAnchor:
    """Tension of each leg in the order given, 0 if slack, and how far the joint moves."""

    tensions_n: tuple[float, ...]
    joint_shift_m: tuple[float, ...]


def two_equal_legs_n(*, load_n: float, between_rad: float) -> float:
    """Tension of each of two legs alike, in N, with *between_rad* between them.

    Raises ValueError unless the angle is at least 0 and below a half turn.
    """
    if not 0 <= between_rad < math.pi:
        raise ValueError(f"angle between two legs must be 0 to below pi rad, got {between_rad:g}")
    return load_n / (2 * math.cos(between_rad / 2))


def two_legs_n(*, load_n: float, first_rad: float, second_rad: float) -> tuple[float, float]:
    """Tensions of two legs on either side of the load line, in N.

    Law of sines. The angles run from the load line, produced past the joint, to each leg. Raises
    ValueError if one is negative, or unless together they are above 0 and below a half turn: two
    legs side by side share the load in a way that statics cannot tell.
    """
    between_rad = first_rad + second_rad
    if min(first_rad, second_rad) < 0 or not 0 < between_rad < math.pi:
        raise ValueError(
            "legs must stand on either side of the load line, with above 0 and below pi rad "
            f"between them, got {first_rad:g} and {second_rad:g} rad"
        )
    per_sine_n = load_n / math.sin(between_rad)
    return per_sine_n * math.sin(second_rad), per_sine_n * math.sin(first_rad)


def leg_direction(*, lean_rad: float, toward_rad: float | None) -> tuple[float, ...]:
    """Unit vector of a leg from its anchor to the joint; the last part points down.

    *lean_rad* runs from the plumb line to the leg. Without *toward_rad* all legs lie in one plane,
    and a lean below 0 is to the other side. Raises ValueError unless the leg comes from above.
    """
    if not -math.pi / 2 < lean_rad < math.pi / 2:
        raise ValueError(f"lean of a leg must be below pi/2 rad, got {lean_rad:g}")
    out, down = math.sin(lean_rad), math.cos(lean_rad)
    if toward_rad is None:
        return out, down
    return out * math.cos(toward_rad), out * math.sin(toward_rad), down


def widest_between_rad(directions: Sequence[Sequence[float]]) -> float:
    """Widest angle between two of several legs, from their unit vectors, in rad."""
    return max(
        math.acos(max(-1.0, min(1.0, math.fsum(a * b for a, b in zip(one, other, strict=True)))))
        for one, other in combinations(directions, 2)
    )


def fixed_anchor(*, legs: Sequence[FixedLeg], load_n: Sequence[float]) -> FixedAnchor:
    """Tensions of fixed legs that can pull but not push, and the shift of the joint.

    Stiffness method, small movements: short stiff legs carry the most, and a pull off the axis can
    slacken a leg. The legs left taut are found by trying the sets of them, which has one answer
    (least energy). *load_n* has as many components as the directions. Raises ValueError if no set
    holds the load: it pulls outside the fan of legs, and the joint swings until other legs answer.
    """
    for count in range(len(legs), len(load_n) - 1, -1):
        for taut in combinations(range(len(legs)), count):
            shift_m = _joint_shift_m([legs[place] for place in taut], load_n)
            if shift_m is not None and _agrees(legs, taut, shift_m):
                return FixedAnchor(
                    tensions_n=tuple(_tension_n(leg, shift_m) for leg in legs),
                    joint_shift_m=shift_m,
                )
    raise ValueError(
        f"the load {tuple(load_n)} N pulls outside the fan of {len(legs)} legs: they cannot hold "
        "it where the joint is"
    )


def swung_legs_n(*, legs: Sequence[FixedLeg], load_n: float, lean_rad: float) -> tuple[float, ...]:
    """Most that each fixed leg carries while the pull leans up to *lean_rad* any way, in N.

    Exact while no leg goes slack, for then every tension grows with each part of the pull. Else
    `fixed_anchor` in steps of 5 degrees all round, at the whole lean and at half of it: misses
    1 - cos(lean / 4) at most, 0.1 % at 10 degrees. Raises ValueError as `fixed_anchor`.
    """
    axes, leans = len(legs[0].direction), (lean_rad / 2, lean_rad) if lean_rad else ()
    taut_n = _swung_taut_n(legs, load_n, lean_rad)
    if taut_n is not None:
        return taut_n
    pulls = [(*[0.0] * (axes - 1), 1.0), *(way for lean in leans for way in _leaning(lean, axes))]
    tensions_n = [
        fixed_anchor(legs=legs, load_n=[load_n * part for part in pull]).tensions_n
        for pull in pulls
    ]
    return tuple(map(max, zip(*tensions_n, strict=True)))


def _swung_taut_n(
    legs: Sequence[FixedLeg], load_n: float, lean_rad: float
) -> tuple[float, ...] | None:
    """The same where all legs stay taut whichever way the pull leans; None where one does not."""
    axes, most_n = len(legs[0].direction), []
    shifts = [
        _joint_shift_m(legs, [load_n if axis == own else 0.0 for axis in range(axes)])
        for own in range(axes)
    ]
    for leg in legs:
        parts_n = [leg.stiffness_n_per_m * _stretch_m(leg, one) for one in shifts if one]
        if len(parts_n) < axes:
            return None  # the legs leave the joint free to move
        level_n, plumb_n = math.hypot(*parts_n[:-1]), parts_n[-1]
        if plumb_n * math.cos(lean_rad) < level_n * math.sin(lean_rad):
            return None
        at_rad = min(lean_rad, math.atan2(level_n, plumb_n))
        most_n.append(plumb_n * math.cos(at_rad) + level_n * math.sin(at_rad))
    return tuple(most_n)


def _leaning(lean_rad: float, axes: int) -> Iterator[tuple[float, ...]]:
    """Unit vectors of pulls that lean so far: two in a plane, else all round."""
    if axes == PLANE:
        yield from (leg_direction(lean_rad=way * lean_rad, toward_rad=None) for way in (-1, 1))
        return
    for step in range(STEPS_ROUND):
        toward_rad = step * math.tau / STEPS_ROUND
        yield leg_direction(lean_rad=lean_rad, toward_rad=toward_rad)


def sliding_leg_ratio(*, friction: float, between_rad: float) -> float:
    """Most that one leg of a sliding anchor can carry over the other.

    Belt friction of the sling round the connector, which turns by pi less *between_rad*. Perfect
    sharing would be 1.
    """
    return math.exp(friction * (math.pi - between_rad))


def sliding_leg_n(*, load_n: float, friction: float, between_rad: float) -> float:
    """Most that one leg of a sliding anchor of two legs can carry, in N.

    Two tensions whose vector sum is the load, in any ratio up to `sliding_leg_ratio`. Past a right
    angle between the legs the worst ratio is the one that sets the other leg square to the load.
    """
    ratio = sliding_leg_ratio(friction=friction, between_rad=between_rad)
    if math.cos(between_rad) < 0:
        ratio = min(ratio, -1 / math.cos(between_rad))
    return load_n * ratio / math.sqrt(1 + ratio * ratio + 2 * ratio * math.cos(between_rad))


def sliding_drop_m(*, held_leg_m: float, failed_leg_m: float, held_lean_rad: float) -> float:
    """How far the connector of a sliding anchor drops when the other leg fails, in m, at most.

    Down to the lowest point where the whole sling can hang from the anchor left. *failed_leg_m* is
    the sling on the failed side, up to a knot that stops the connector if there is one;
    *held_lean_rad* runs from the load line to the leg that holds. This is slack: see the shock it
    makes.
    """
    return held_leg_m + failed_leg_m - held_leg_m * math.cos(held_lean_rad)


def _joint_shift_m(taut: Sequence[FixedLeg], load_n: Sequence[float]) -> tuple[float, ...] | None:
    """Shift of the joint with just the legs *taut*; None if they leave it free to move."""
    axes = range(len(load_n))
    stiffness = [
        [
            math.fsum(leg.stiffness_n_per_m * leg.direction[i] * leg.direction[j] for leg in taut)
            for j in axes
        ]
        for i in axes
    ]
    try:
        return solve(stiffness, load_n)
    except ValueError:
        return None


def _agrees(legs: Sequence[FixedLeg], taut: Sequence[int], shift_m: tuple[float, ...]) -> bool:
    """True if the shift stretches the legs at the places *taut* and no other."""
    slack_m = STRETCH_SLACK * max(map(abs, shift_m))
    return all(
        _stretch_m(leg, shift_m) * (1 if place in taut else -1) >= -slack_m
        for place, leg in enumerate(legs)
    )


def _stretch_m(leg: FixedLeg, shift_m: tuple[float, ...]) -> float:
    """How much longer the shift makes the leg; below 0 it goes slack."""
    return math.fsum(along * moved for along, moved in zip(leg.direction, shift_m, strict=True))


def _tension_n(leg: FixedLeg, shift_m: tuple[float, ...]) -> float:
    """Tension of a leg after the shift; nothing if it is slack."""
    return leg.stiffness_n_per_m * max(0.0, _stretch_m(leg, shift_m))
