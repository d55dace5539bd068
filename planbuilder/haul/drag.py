"""Dragging a casualty along the floor of a vessel, pipe or tunnel."""

import math


def drag_force_n(*, weight_n: float, friction: float, upslope_rad: float) -> float:
    """Pull along the floor that keeps the casualty sliding, in N.

    Derived (sliding friction): W (mu cos a + sin a), *upslope_rad* above 0 where the floor rises in
    the direction of the pull. Below 0 the casualty slides off by itself and must be held back by
    that much. Friction of a clothed body on steel or concrete 0.5, on a slick drag sheet 0.25: both
    our own choice, no source. Not for a person stuck or buried. Raises ValueError unless the slope
    is at most the steepest that is still a floor, where cot a = mu: past it lift, do not drag.
    """
    steepest_rad = math.atan2(1.0, friction)
    if abs(upslope_rad) > steepest_rad:
        raise ValueError(
            f"with friction {friction} a floor slopes at most {steepest_rad:.3f} rad, "
            f"got {upslope_rad:g}"
        )
    return weight_n * (friction * math.cos(upslope_rad) + math.sin(upslope_rad))


def drag_over_lips_n(
    *, weight_n: float, friction: float, upslope_rad: float, edge_factor: float
) -> float:
    """Pull on the rope that drags the casualty and runs out over edges, in N.

    Derived: the drag force times the factor of the edges. 0 where the casualty slides by itself
    and must be held back. Raises the same as `drag_force_n`.
    """
    drag_n = drag_force_n(weight_n=weight_n, friction=friction, upslope_rad=upslope_rad)
    return max(0.0, drag_n) * edge_factor


def slide_pull_n(*, weight_n: float, friction: float, angle_rad: float) -> float:
    """Pull on a line *angle_rad* off plumb at which a casualty on a level floor slides, in N.

    Derived (friction balance): mu W/(sin + mu cos). Never above `lift_pull_n`, and equal to it on a
    plumb line only: on any floor a casualty who lies aside is dragged before being lifted, unless
    something holds them. Raises ValueError unless the friction is above 0 and the angle at least 0
    and below a quarter turn.
    """
    if friction <= 0 or not 0 <= angle_rad < math.pi / 2:
        raise ValueError(
            f"needs friction above 0 and 0 to pi/2 rad, got {friction} and {angle_rad:g} rad"
        )
    return friction * weight_n / (math.sin(angle_rad) + friction * math.cos(angle_rad))


def lift_pull_n(*, weight_n: float, angle_rad: float) -> float:
    """Pull on a line *angle_rad* off plumb that lifts a casualty who is held aside, in N: W/cos.

    Raises ValueError unless the angle is at least 0 and below a quarter turn.
    """
    if not 0 <= angle_rad < math.pi / 2:
        raise ValueError(f"angle must be 0 to pi/2 rad, got {angle_rad:g} rad")
    return weight_n / math.cos(angle_rad)
