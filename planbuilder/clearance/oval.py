"""Oval openings: an ellipse of two full axes. All derived.

An obround or an oval with fuller corners of the same length and width passes more: judged as an
ellipse, it errs on the safe side.
"""

import functools
import math

from planbuilder.clearance.outline import EQUAL_SLACK_M, Outline, enclosing_diameter_m
from planbuilder.clearance.search import least_that_holds


@functools.cache
def short_axis_needed_m(outline: Outline, *, long_axis_m: float) -> float:
    """Least short axis of an oval opening with *long_axis_m* that *outline* passes, in m.

    A result above *long_axis_m* means that it does not pass: it is then the round opening needed.
    One body alone exact: an ellipse in an ellipse lies best along its axes. With a set or a second
    body, breadth or depth along the long axis; turns between are not tried, so that the result is
    never too small.
    """
    if outline.is_plain:
        short_m, long_m = sorted((outline.breadth_m, outline.depth_m))
        return short_m if long_m <= long_axis_m + EQUAL_SLACK_M else long_m
    circle_m = enclosing_diameter_m(outline)
    if circle_m > long_axis_m + EQUAL_SLACK_M:
        return circle_m
    return min(_by_stretching_m(outline, long_axis_m, along=along) for along in (True, False))


def _by_stretching_m(outline: Outline, long_axis_m: float, *, along: bool) -> float:
    """Stretched until the oval is a circle, body ellipses stay ellipses and blocks blocks."""

    def passes(short_m: float) -> bool:
        factor = long_axis_m / short_m
        across, deep = (1.0, factor) if along else (factor, 1.0)
        stretched = Outline(
            breadth_m=outline.breadth_m * across,
            depth_m=outline.depth_m * deep,
            set_width_m=outline.set_width_m * across,
            set_depth_m=outline.set_depth_m * deep,
            front_breadth_m=outline.front_breadth_m * across,
            front_depth_m=outline.front_depth_m * deep,
        )
        return enclosing_diameter_m(stretched) <= long_axis_m + EQUAL_SLACK_M

    return least_that_holds(passes, long_axis_m / 1000, long_axis_m)


def section_short_axis_needed_m(*, width_m: float, depth_m: float, long_axis_m: float) -> float:
    """Least short axis of an oval opening that a box of *width_m* by *depth_m* passes, in m.

    Its sides along the axes, either way; never too small. Above *long_axis_m*: does not pass.
    """
    needs_m = [
        across_m / math.sqrt(1 - (along_m / long_axis_m) ** 2)
        for along_m, across_m in ((width_m, depth_m), (depth_m, width_m))
        if along_m < long_axis_m
    ]
    best_m = min(needs_m, default=math.inf)
    return best_m if best_m <= long_axis_m else math.hypot(width_m, depth_m)
