"""A stretch so low that it is crawled: the clear width and height that lying people need.

All derived. Whoever is dragged lies flat on the floor and is not turned on edge, so that width and
height count by themselves. What a round pipe has to leave is in `outline.py`.
"""


def flat_width_m(*, breadth_m: float, set_width_m: float, allowance_m: float) -> float:
    """Clear width for one lying person with a set of *set_width_m* on the back, in m."""
    return max(breadth_m, set_width_m) + allowance_m


def flat_height_m(*, depth_m: float, set_depth_m: float, allowance_m: float) -> float:
    """Clear height for one lying person with a set of *set_depth_m* on the back, in m."""
    return depth_m + set_depth_m + allowance_m


def beside_width_m(*, breadth_m: float, other_m: float, allowance_m: float) -> float:
    """Clear width for two people lying side by side, each with clothing and movement, in m."""
    return breadth_m + other_m + 2 * allowance_m
