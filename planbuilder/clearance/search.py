"""Least and greatest value of a function of one variable, to a nanometre."""

import math
from collections.abc import Callable

# The narrowing stops here: a nanometre (or billionth of a radian) is far below any measurement.
GOLDEN_STOP = 1e-9
GOLDEN_SHARE = (math.sqrt(5) - 1) / 2
SAMPLES = 400


def least(convex: Callable[[float], float], low: float, high: float) -> float:
    """Least value of a *convex* function between *low* and *high* (golden-section search)."""
    while high - low > GOLDEN_STOP:
        step = GOLDEN_SHARE * (high - low)
        if convex(high - step) < convex(low + step):
            high = low + step
        else:
            low = high - step
    return convex((low + high) / 2)


def least_sampled(smooth: Callable[[float], float], low: float, high: float) -> float:
    """Least value of a *smooth* function, convex or not, with both ends.

    Sampled, then narrowed between the neighbours of the best sample.
    """
    width = (high - low) / SAMPLES
    points = [low + width * step for step in range(SAMPLES + 1)]
    best = min(points, key=smooth)
    narrowed = least(smooth, max(low, best - width), min(high, best + width))
    return min(smooth(best), narrowed)


def least_that_holds(holds: Callable[[float], bool], low: float, high: float) -> float:
    """Least value from which *holds* is true, where it is at *high*; never too small."""
    while high - low > GOLDEN_STOP:
        middle = (low + high) / 2
        if holds(middle):
            high = middle
        else:
            low = middle
    return high
