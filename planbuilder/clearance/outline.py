"""What opening a body passes, seen along the way through: an ellipse, with a block on its back.

All derived. x runs across the body, y from back to front; the block, such as a breathing set,
touches the ellipse at the middle of the back, a second body the middle of the front. Sizes include
clothing and movement; shoulders and block do not give way.
"""

import functools
import math
from dataclasses import dataclass

from planbuilder.clearance.search import least

# Binary fractions only: an outline exactly as wide as the opening passes.
EQUAL_SLACK_M = 1e-9

# Turns tried from 0 to 45 degrees. From one to the next a width of 1 m changes by less than 0.9 mm.
SWEEP_STEPS = 900


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """Full axes of the body's ellipse and sides of the block on its back (0 and 0: no block).

    *front_breadth_m* and *front_depth_m* are a second body held in front (0 and 0: nobody).
    """

    breadth_m: float
    depth_m: float
    set_width_m: float
    set_depth_m: float
    front_breadth_m: float = 0.0
    front_depth_m: float = 0.0

    @property
    def has_set(self) -> bool:
        """True if there is a block on the back."""
        return self.set_width_m > 0 or self.set_depth_m > 0

    @property
    def is_plain(self) -> bool:
        """True if there is one body and nothing else."""
        return not self.has_set and self.front_breadth_m <= 0 and self.front_depth_m <= 0

    @property
    def bodies(self) -> tuple[tuple[float, float, float], ...]:
        """Half breadth, half depth and centre of each body, in m."""
        own = (self.breadth_m / 2, self.depth_m / 2, 0.0)
        if self.front_breadth_m <= 0 and self.front_depth_m <= 0:
            return (own,)
        centre_m = (self.depth_m + self.front_depth_m) / 2
        return own, (self.front_breadth_m / 2, self.front_depth_m / 2, centre_m)


def enclosing_diameter_m(outline: Outline) -> float:
    """Diameter of the smallest circle round *outline*, in m: the round opening it needs.

    Of one body alone the longer axis. Else the centre lies on the line of symmetry and the
    distance to the farthest point is convex along it, so a golden-section search finds the least
    (to 1e-9 m, never too small).
    """
    if outline.is_plain:
        return max(outline.breadth_m, outline.depth_m)
    front_m = outline.depth_m / 2 + outline.front_depth_m
    back_m = -outline.depth_m / 2 - outline.set_depth_m
    return 2 * least(lambda centre_m: _farthest_m(outline, centre_m), back_m, front_m)


def width_at_rad(outline: Outline, angle_rad: float) -> float:
    """Width of *outline* measured along a line at *angle_rad* from the body's breadth, in m.

    Support function one way plus the other; alike in all quarters, left and right being alike.
    """
    across, along = abs(math.cos(angle_rad)), abs(math.sin(angle_rad))
    half_depth_m = outline.depth_m / 2
    halves_m = [
        (math.hypot(half_breadth * across, half_depth * along), centre * along)
        for half_breadth, half_depth, centre in outline.bodies
    ]
    front_m = max(half + shift for half, shift in halves_m)
    back_m = max(half - shift for half, shift in halves_m)
    if not outline.has_set:
        return front_m + back_m
    block_m = outline.set_width_m / 2 * across
    front_m = max(front_m, block_m - half_depth_m * along)
    back_m = max(back_m, block_m + (half_depth_m + outline.set_depth_m) * along)
    return front_m + back_m


@functools.cache
def short_side_needed_m(outline: Outline, *, long_side_m: float) -> float:
    """Least short side of a rectangular opening with *long_side_m* that *outline* passes, in m.

    The body may turn about its long axis; the best turn counts. A result above *long_side_m* means
    that it passes at no turn: it is then the side of the smallest square that it passes. One body
    alone exact: max(min(B, D), sqrt(B^2 + D^2 - L^2)). Else a sweep over the turns: never too
    small, and at most as if the opening were 1 mm tighter each way.
    """
    if outline.is_plain:
        return _body_short_side_m(outline, long_side_m)
    widths_m = [
        width_at_rad(outline, step * math.pi / (4 * SWEEP_STEPS))
        for step in range(2 * SWEEP_STEPS + 1)
    ]
    limit_m = long_side_m + EQUAL_SLACK_M
    # A quarter turn on, the outline is as wide as at 90 degrees less the angle.
    boxes_m = (sorted((widths_m[step], widths_m[-1 - step])) for step in range(SWEEP_STEPS + 1))
    return min(short if long <= limit_m else long for short, long in boxes_m)


def _body_short_side_m(outline: Outline, long_side_m: float) -> float:
    """Short side needed by the ellipse alone; its box has the same diagonal at every turn."""
    diagonal_m2 = outline.breadth_m**2 + outline.depth_m**2
    square_m = math.sqrt(diagonal_m2 / 2)
    if long_side_m < square_m:
        return square_m
    across_m = math.sqrt(max(0.0, diagonal_m2 - long_side_m**2))
    return max(min(outline.breadth_m, outline.depth_m), across_m)


def _farthest_m(outline: Outline, centre_m: float) -> float:
    """Distance from (0, *centre_m*) to the farthest point of the outline."""
    body_m = max(
        _farthest_of_ellipse_m(half_breadth, half_depth, centre_m - own)
        for half_breadth, half_depth, own in outline.bodies
    )
    if not outline.has_set:
        return body_m
    back_m = -outline.depth_m / 2
    block_m = max(
        math.hypot(outline.set_width_m / 2, y_m - centre_m)
        for y_m in (back_m, back_m - outline.set_depth_m)
    )
    return max(body_m, block_m)


def _farthest_of_ellipse_m(half_breadth_m: float, half_depth_m: float, centre_m: float) -> float:
    sines = [-1.0, 1.0]
    if half_breadth_m > half_depth_m:
        # Points (a cos t, b sin t): their squared distance is a parabola in sin t, open downwards.
        peak = -half_depth_m * centre_m / (half_breadth_m**2 - half_depth_m**2)
        sines.append(max(-1.0, min(1.0, peak)))
    return max(
        math.hypot(half_breadth_m * math.sqrt(1 - sine**2), half_depth_m * sine - centre_m)
        for sine in sines
    )
