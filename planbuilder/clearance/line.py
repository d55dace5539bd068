"""A line that leaves plumb: from the head past the rim to a casualty who lies aside.

Derived (plane geometry and statics). Offsets count from the axis of the opening in the vertical
plane of the line, heights from the walking surface up, depths from there down. The rim that counts
is the lower edge of the neck: a line that goes outward on its way down comes nearest to it there.
"""

import math


def line_at_m(
    *, head_off_m: float, casualty_off_m: float, head_height_m: float, depth_m: float, at_m: float
) -> float:
    """How far aside a straight line is at the depth *at_m*, in m; the casualty is *depth_m* down.

    Raises ValueError unless that depth lies between head and casualty.
    """
    if not -head_height_m < at_m < depth_m:
        raise ValueError("the rim must lie below the head and above the casualty")
    share = (head_height_m + at_m) / (head_height_m + depth_m)
    return head_off_m + (casualty_off_m - head_off_m) * share


def farthest_casualty_m(
    *, head_off_m: float, room_m: float, head_height_m: float, depth_m: float, at_m: float
) -> float:
    """Farthest that a casualty lies aside with the line *room_m* aside at the depth *at_m*, in m.

    0 where even a plumb line is beyond it. Raises as `line_at_m` does.
    """
    if not -head_height_m < at_m < depth_m:
        raise ValueError("the rim must lie below the head and above the casualty")
    if room_m < head_off_m:
        return 0.0
    times = (head_height_m + depth_m) / (head_height_m + at_m)
    return head_off_m + (room_m - head_off_m) * times


def rim_turn_rad(
    *,
    head_off_m: float,
    rim_m: float,
    casualty_off_m: float,
    head_height_m: float,
    depth_m: float,
    at_m: float,
) -> float:
    """Turn of a line that bears on the rim *rim_m* aside, in rad; 0 where it does not reach it."""
    above_rad = math.atan2(rim_m - head_off_m, head_height_m + at_m)
    below_rad = math.atan2(casualty_off_m - rim_m, depth_m - at_m)
    return max(0.0, below_rad - above_rad)


def side_force_n(*, weight_n: float, angle_rad: float) -> float:
    """Pull along the floor that holds a casualty aside at lift-off, in N: W tan of the angle."""
    return weight_n * math.tan(angle_rad)
