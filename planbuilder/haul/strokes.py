"""A hand-hauled raise: strokes and resets, time, power of the haulers, rope, over-pull.

Derived (kinematics of the system) unless a function says otherwise.
"""

import math
from collections.abc import Sequence

# Binary fractions only: a lift of exactly four strokes must not take five.
COUNT_SLACK = 1e-9


def stroke_m(
    *,
    gaps: Sequence[tuple[float, float]],
    unusable_m: float,
    walkway_m: float | None,
    ideal_advantage: float,
) -> float:
    """Rise of the load in one stroke, in m; 0 or less where the system has no room to work.

    Each of the *gaps* is (distance between two devices at the start in m, how much of it closes
    for one unit of rise): 1 from the grab to the anchor pulley, the advantage of the first stage in
    the second stage of a compound system, 2 between the two moving pulleys of the complex 5:1.
    *unusable_m* is left of each at the end. Haulers who walk need *walkway_m* of clear way; None if
    they pull hand over hand against a capture device. Raises ValueError if nothing limits it.
    """
    rises = [(start_m - unusable_m) / closing for start_m, closing in gaps]
    if walkway_m is not None:
        rises.append(walkway_m / ideal_advantage)
    if not rises:
        raise ValueError("a stroke needs at least one gap or a walkway, got none")
    return min(rises)


def strokes_needed(*, lift_m: float, edge_m: float, stroke_m: float) -> int:
    """Whole strokes that raise the load by the lift and the *edge_m* it takes over the edge.

    There is one reset fewer than strokes. Raises ValueError unless the stroke is above 0 m.
    """
    if stroke_m <= 0:
        raise ValueError(f"a stroke must raise the load, got {stroke_m:g} m")
    return max(1, math.ceil((lift_m + edge_m) / stroke_m * (1 - COUNT_SLACK)))


def raise_time_s(
    *,
    lift_m: float,
    ideal_advantage: float,
    haul_speed_m_per_s: float,
    strokes: int,
    reset_s: float,
    edge_s: float,
    rest_s: float,
) -> float:
    """Time of the whole raise, in s: hauling, a reset between strokes, the edge, the rests.

    *edge_s* is all that the edge takes, its part of the haul included. Raises ValueError unless the
    haul strand moves and there is a stroke.
    """
    if strokes < 1:
        raise ValueError(f"a raise takes at least one stroke, got {strokes}")
    hauling_s = hauling_time_s(
        lift_m=lift_m, ideal_advantage=ideal_advantage, haul_speed_m_per_s=haul_speed_m_per_s
    )
    return hauling_s + (strokes - 1) * reset_s + edge_s + rest_s


def hauling_time_s(*, lift_m: float, ideal_advantage: float, haul_speed_m_per_s: float) -> float:
    """Time the haul strand moves, in s; it travels the advantage without losses times the lift.

    Raises ValueError unless the haul strand moves.
    """
    if haul_speed_m_per_s <= 0:
        raise ValueError(f"haul speed must be above 0 m/s, got {haul_speed_m_per_s}")
    return lift_m * ideal_advantage / haul_speed_m_per_s


def power_per_person_w(*, haul_force_n: float, haul_speed_m_per_s: float, people: int) -> float:
    """Mechanical power of each of the *people* while the haul strand moves, in W."""
    return haul_force_n * haul_speed_m_per_s / people


def rest_needed_s(
    *, power_w: float, sustained_power_w: float, hauling_s: float, pauses_s: float
) -> float:
    """Rest that keeps a hauler's mean power at *sustained_power_w*, in s.

    *pauses_s* are those that the raise has anyway and in which the haulers rest, 0 to count none.
    """
    return max(0.0, hauling_s * (power_w / sustained_power_w - 1) - pauses_s)


def main_line_m(*, lift_m: float, anchor_to_edge_m: float, knots_m: float, tails_m: float) -> float:
    """Length of the main line of a system that grips it, in m. Knots: 1 m each end, our choice."""
    return lift_m + anchor_to_edge_m + knots_m + tails_m


def haul_line_m(*, own_advantage: float, start_m: float, walkway_m: float, tails_m: float) -> float:
    """Length of a separate haul rope, in m.

    *own_advantage* is that of the system reeved with it, *start_m* the distance between its blocks
    at the start of a stroke.
    """
    return own_advantage * start_m + walkway_m + tails_m


def tackle_line_m(
    *, parts: float, attachment_depth_m: float, head_height_m: float, block_m: float, tail_m: float
) -> float:
    """Length of rope in a tackle of *parts* reeved the whole way, in m; it needs no resets.

    Derived. *attachment_depth_m* runs from the rim down to the casualty's attachment,
    *head_height_m* from the rim up to the head; *block_m* of that is blocks and connectors and no
    rope. The tail reaches the haulers.
    """
    return parts * (attachment_depth_m + head_height_m - block_m) + tail_m


def first_stroke_stretch_m(*, system_load_n: float, length_m: float, modulus_n: float) -> float:
    """How far the loaded line stretches before the casualty leaves the ground, in m.

    Derived (linear line). Taken from the first stroke; a softer rope takes more of it.
    """
    return system_load_n * length_m / modulus_n


def peak_force_n(*, people: int, strongest_pull_n: float, ideal_advantage: float) -> float:
    """Most the *people* on the rope could put on a load that is stuck, in N.

    Derived: without the losses, which can only make it less. *strongest_pull_n* of one person:
    twice the planned pull, our choice.
    """
    return people * strongest_pull_n * ideal_advantage


def most_people(
    *, ratings_n: Sequence[float], strongest_pull_n: float, ideal_advantage: float
) -> int:
    """Most people on the rope who cannot pull past the weakest of *ratings_n*; may be 0.

    Ratings at the load: grab slip, moving pulley, line, anchor. Raises ValueError if none is given.
    """
    if not ratings_n:
        raise ValueError("needs the rating of at least one part, got none")
    each_n = peak_force_n(
        people=1, strongest_pull_n=strongest_pull_n, ideal_advantage=ideal_advantage
    )
    return math.floor(min(ratings_n) / each_n * (1 + COUNT_SLACK))
