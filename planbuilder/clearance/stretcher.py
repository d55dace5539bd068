"""A packed stretcher as a stiff box: through an opening, round a corner, up through a roof hatch.

All derived; verified by swept boxes in the tests. Sizes are those of stretcher and casualty packed
together. *thickness_m* is measured in the plane of the turn.
"""

import math

from planbuilder.clearance.search import GOLDEN_STOP, least_sampled, least_that_holds

# The ends of a turn, where the length that passes has no bound, are left out by this much.
NEAR_END_RAD = 1e-6


def section_diameter_m(*, width_m: float, depth_m: float) -> float:
    """Round opening that a section of *width_m* by *depth_m* passes, in m."""
    return math.hypot(width_m, depth_m)


def section_short_side_needed_m(*, width_m: float, depth_m: float, long_side_m: float) -> float:
    """Least short side of a rectangular opening that a section passes at the best turn, in m.

    Carver 1957, recalled, held against a sweep of turns. Above *long_side_m* it does not pass: the
    result is then the side of the smallest square that it passes.
    """
    depth_m, width_m = sorted((width_m, depth_m))
    if width_m <= long_side_m:
        return depth_m
    diagonal_m2 = width_m**2 + depth_m**2
    turned_m = (width_m**2 - depth_m**2) * math.sqrt(diagonal_m2 - long_side_m**2)
    short_m = (2 * width_m * depth_m * long_side_m + turned_m) / diagonal_m2
    return short_m if short_m <= long_side_m else (width_m + depth_m) / math.sqrt(2)


def slot_of_oval_m(*, long_axis_m: float, short_axis_m: float, breadth_m: float) -> float:
    """Clear width of an oval or round opening in the plane of the turn, in m.

    A stiff board of *breadth_m* across that plane leaves a chord; the better way to lay it counts.
    Zero if the board is as broad as the opening.
    """
    chords_m = [
        along_m * math.sqrt(1 - (breadth_m / across_m) ** 2)
        for along_m, across_m in ((long_axis_m, short_axis_m), (short_axis_m, long_axis_m))
        if breadth_m < across_m
    ]
    return max(chords_m, default=0.0)


def slot_of_rectangle_m(*, long_side_m: float, short_side_m: float, breadth_m: float) -> float:
    """Clear width of a rectangular opening in the plane of the turn, in m; zero: too narrow."""
    if breadth_m <= short_side_m:
        return long_side_m
    return short_side_m if breadth_m <= long_side_m else 0.0


def slot_width_needed_m(
    *, length_m: float, thickness_m: float, headroom_m: float, neck_m: float
) -> float:
    """Width of a slot that a board is raised through from a room of *headroom_m*, in m.

    The foot end slides along the floor, which is the best way. *neck_m* is the length of the slot.
    The same holds lying down, for a side manway with a clear distance of *headroom_m* before it.
    Beyond the slot there must be room for the whole length.
    """
    if length_m <= headroom_m:
        return thickness_m

    def needed_m(inside_m: float) -> float:
        up_m = headroom_m + inside_m
        run_m = math.sqrt(max(0.0, length_m**2 - up_m**2))
        return (inside_m * run_m + thickness_m * length_m) / up_m

    most_m = min(neck_m, length_m - headroom_m)
    return -least_sampled(lambda inside_m: -needed_m(inside_m), 0.0, most_m)


def longest_that_turns_m(
    *, slot_m: float, thickness_m: float, headroom_m: float, neck_m: float
) -> float:
    """Longest board that is raised through a slot of *slot_m*, in m; to a nanometre, not too long.

    The width needed grows with the length. Raises ValueError for a board as thick as the slot.
    """
    if thickness_m > slot_m:
        raise ValueError(f"a board {thickness_m:g} m thick does not pass {slot_m:g} m at all")

    def is_too_long(length_m: float) -> bool:
        needed_m = slot_width_needed_m(
            length_m=length_m, thickness_m=thickness_m, headroom_m=headroom_m, neck_m=neck_m
        )
        return needed_m > slot_m

    most_m = headroom_m
    while not is_too_long(most_m):
        most_m = 2 * most_m  # ends: the width needed is at least thickness times length by headroom
    return least_that_holds(is_too_long, headroom_m, most_m) - 2 * GOLDEN_STOP


def longest_past_corner_m(
    *, before_m: float, after_m: float, turn_rad: float, thickness_m: float
) -> float:
    """Longest board that passes a corner from a way *before_m* wide into one *after_m* wide, in m.

    *turn_rad* is how far the way turns, above 0 and below pi. Raises ValueError for a board as
    thick as a way is wide.
    """
    if not 0 < turn_rad < math.pi:
        raise ValueError(f"a corner turns more than 0 and less than pi rad, got {turn_rad:g}")
    if thickness_m >= min(before_m, after_m):
        raise ValueError(
            f"the way must be wider than what is carried ({thickness_m:g} m), "
            f"got {min(before_m, after_m):g} m"
        )

    def length_m(angle_rad: float) -> float:
        other_rad = turn_rad - angle_rad
        sides_m = (before_m - thickness_m * math.cos(angle_rad)) / math.sin(angle_rad)
        return sides_m + (after_m - thickness_m * math.cos(other_rad)) / math.sin(other_rad)

    return least_sampled(length_m, NEAR_END_RAD, turn_rad - NEAR_END_RAD)


def longest_round_bend_m(*, radius_m: float, width_m: float, thickness_m: float) -> float:
    """Longest board that passes a bend of *radius_m* to its centre line and *width_m*, in m.

    For a bend longer than the board. Raises ValueError for a board too thick for the way.
    """
    outer_m, inner_m = radius_m + width_m / 2, radius_m - width_m / 2 + thickness_m
    if thickness_m >= width_m:
        raise ValueError(
            f"the way must be wider than what is carried ({thickness_m:g} m), got {width_m:g} m"
        )
    return 2 * math.sqrt(outer_m**2 - max(0.0, inner_m) ** 2)
