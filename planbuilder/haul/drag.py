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
