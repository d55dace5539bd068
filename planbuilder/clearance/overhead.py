"""Room under something that hangs over the rig. Plane geometry, derived.

Heights count from grade, up positive; the obstruction covers the whole place of the rig, unless it
is said where it begins.
"""

import math


def room_above_head_m(
    *, clear_above_rim_m: float, coaming_m: float, hook_height_m: float, head_above_hook_m: float
) -> float:
    """Gap between the top of the support and the obstruction, in m; negative: it does not fit."""
    return clear_above_rim_m + coaming_m - hook_height_m - head_above_hook_m


def highest_hook_m(
    *, clear_above_rim_m: float, coaming_m: float, head_above_hook_m: float, margin_m: float
) -> float:
    """Largest hook height under the obstruction, in m."""
    return clear_above_rim_m + coaming_m - margin_m - head_above_hook_m


def raising_gap_m(
    *, underside_m: float, from_hinge_m: float, hinge_height_m: float, tip_m: float
) -> float:
    """Gap between the circle of a boom's end about its hinge and an obstruction, in m.

    *underside_m* and *tip_m*, the highest point of that circle, count from grade. The obstruction
    begins *from_hinge_m* beside the hinge, 0 for one above it, and has no end. Negative: it hits.
    """
    corner_m = math.hypot(from_hinge_m, max(0.0, underside_m - hinge_height_m))
    return corner_m - (tip_m - hinge_height_m)


def raised_tip_m(
    *, hook_height_m: float, head_above_hook_m: float, hinge_height_m: float, reach_m: float
) -> float:
    """Highest point above grade of the boom's end, in m, while a mast turns up about its hinge.

    The end stands *reach_m* to the side, so it passes higher than where it stops. Raises
    ValueError for a hinge above the top of the mast.
    """
    mast_m = hook_height_m + head_above_hook_m - hinge_height_m
    if mast_m <= 0:
        raise ValueError(
            f"the hinge stands {hinge_height_m:g} m high, not below the top of the mast"
        )
    return hinge_height_m + math.hypot(mast_m, reach_m)
