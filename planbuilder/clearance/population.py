"""Share of a surveyed group that passes an opening; a note for the reader, never a verdict.

Shoulder breadth and chest depth are taken as jointly normal. Held against counts of the survey
itself, the share is right to five in a hundred.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

# Steps of the sum over breadths, from 5 deviations below the mean to 5 above.
STEPS = 1000
REACH = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Mean and deviation of shoulder breadth and chest depth in m, and how they go together."""

    breadth_m: float
    breadth_sd_m: float
    depth_m: float
    depth_sd_m: float
    correlation: float


def share_passing(group: Group, deepest_m: Callable[[float], float]) -> float:
    """Share of *group* whose depth is at most *deepest_m* of their breadth, 0 to 1.

    *deepest_m* gives the deepest body, in m, that passes with a breadth in m (below 0: none).
    """
    own_sd_m = group.depth_sd_m * math.sqrt(1 - group.correlation**2)
    total = weights = 0.0
    for step in range(STEPS + 1):
        score = REACH * (2 * step / STEPS - 1)
        weight = math.exp(-(score**2) / 2)
        mean_m = group.depth_m + group.correlation * group.depth_sd_m * score
        room_m = deepest_m(group.breadth_m + group.breadth_sd_m * score)
        total += weight * _below((room_m - mean_m) / own_sd_m)
        weights += weight
    return total / weights


def deepest_through_round_m(diameter_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through a round opening, in m; below 0: none."""
    return diameter_m if breadth_m <= diameter_m else -1.0


def deepest_through_oval_m(long_m: float, short_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through an oval opening of two axes, in m; below 0: none."""
    if breadth_m <= short_m:
        return long_m
    return short_m if breadth_m <= long_m else -1.0


def deepest_through_rectangle_m(long_m: float, short_m: float, breadth_m: float) -> float:
    """Deepest body of *breadth_m* through a rectangular opening, in m; below 0: none.

    An ellipse at the best turn: its lesser axis within the short side, and its box in the opening.
    """
    diagonal_m2 = long_m**2 + short_m**2 - breadth_m**2
    if diagonal_m2 <= 0:
        return -1.0
    box_m = math.sqrt(diagonal_m2)
    return box_m if breadth_m <= short_m else min(box_m, short_m)


def _below(score: float) -> float:
    return (1 + math.erf(score / math.sqrt(2))) / 2
