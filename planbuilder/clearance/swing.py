"""Swing of a person caught beside the plumb line of the anchor: drop, speed, how far aside.

Derived: a pendulum without loss on a taut line of one length from a fixed anchor; depths count from
the anchor down to the D-ring. A line that can slide along an edge or another line is outside this.
"""

import math

STANDARD_GRAVITY_M_PER_S2 = 9.80665


def swing_drop_m(*, depth_m: float, offset_m: float) -> float:
    """Height lost from the start *offset_m* aside to the plumb line, in m."""
    return math.hypot(offset_m, depth_m) - depth_m


def swing_angle_rad(*, depth_m: float, offset_m: float) -> float:
    """Angle of the taut line to the plumb line at the start, in rad."""
    return math.atan2(offset_m, depth_m)


def swing_speed_m_per_s(
    *, depth_m: float, offset_m: float, at_m: float, free_fall_m: float
) -> float:
    """Speed *at_m* aside of the plumb line, in m/s; the free fall before it wholly kept (a bound).

    Raises ValueError beyond the place where the swing turns.
    """
    if abs(at_m) > offset_m:
        raise ValueError(f"the swing turns {offset_m:g} m aside, got {at_m:g} m")
    line_m = math.hypot(offset_m, depth_m)
    lost_m = math.sqrt(line_m**2 - at_m**2) - depth_m
    return math.sqrt(2 * STANDARD_GRAVITY_M_PER_S2 * (max(0.0, lost_m) + free_fall_m))


def equal_fall_m(speed_m_per_s: float) -> float:
    """Height of the straight fall that ends at the same speed, in m."""
    return speed_m_per_s**2 / (2 * STANDARD_GRAVITY_M_PER_S2)


def largest_offset_m(*, depth_m: float, drop_m: float) -> float:
    """Farthest start aside, in m, from which the swing drops *drop_m* at most."""
    return math.sqrt(drop_m**2 + 2 * depth_m * drop_m)


def largest_offset_at_m(*, depth_m: float, angle_rad: float) -> float:
    """Farthest start aside, in m, with the line at *angle_rad* at most."""
    return depth_m * math.tan(angle_rad)
