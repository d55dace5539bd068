"""Where the load line stands between the feet of a portable base.

With the line inside the polygon of the feet at every permitted angle the load cannot tip the base,
whatever its size; derived (statics). Level ground and a plumb line: slope and lean use the margin.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

# Feet are placed to the nanometre, so that binary fractions make no corner where there is none.
FOOT_DECIMALS = 9

# A base smaller than this has its feet in one line for all that anyone can measure.
LEAST_AREA_M2 = 1e-6

Foot = tuple[float, float]


def line_inside_base_m(
    *,
    feet: Sequence[Foot],
    reach_m: float,
    swing_from_rad: float,
    swing_to_rad: float,
) -> float:
    """Least distance from the load line to an edge of the base over the swing, in m.

    Negative: outside, by that much past the line of an edge. *feet* are (x forward to the opening,
    y to the left) from the mast; the hook hangs at *reach_m* from the mast, at angles from x
    counted to the left. Exact: for an edge at distance d with outward normal at angle n it is
    d - reach cos(a - n), least at the permitted a nearest to n. Raises ValueError if fewer than
    three feet span an area, or the swing runs backwards.
    """
    return _worst(feet, reach_m, swing_from_rad, swing_to_rad)[0]


def worst_swing_rad(
    *,
    feet: Sequence[Foot],
    reach_m: float,
    swing_from_rad: float,
    swing_to_rad: float,
) -> float:
    """Angle within the swing at which the load line is least inside the base, in rad.

    Same terms, and raises the same, as `line_inside_base_m`.
    """
    return _worst(feet, reach_m, swing_from_rad, swing_to_rad)[1]


def _worst(
    feet: Sequence[Foot], reach_m: float, swing_from_rad: float, swing_to_rad: float
) -> tuple[float, float]:
    """Least distance inside the base and the swing angle where it occurs."""
    if swing_from_rad > swing_to_rad:
        raise ValueError(
            f"swing must not end before it starts, got {swing_from_rad:g} to {swing_to_rad:g} rad"
        )
    corners = _hull(feet)
    cases = []
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        along_x, along_y = there[0] - here[0], there[1] - here[1]
        normal_rad = math.atan2(-along_x, along_y)
        edge_m = (along_y * here[0] - along_x * here[1]) / math.hypot(along_x, along_y)
        at_rad = _nearest_rad(normal_rad, swing_from_rad, swing_to_rad)
        cases.append((edge_m - reach_m * math.cos(at_rad - normal_rad), at_rad))
    return min(cases)


def _nearest_rad(target_rad: float, from_rad: float, to_rad: float) -> float:
    """Angle between *from_rad* and *to_rad* nearest to *target_rad*, whole turns aside."""
    turns = math.ceil((from_rad - target_rad) / math.tau)
    first_rad = target_rad + turns * math.tau
    if first_rad <= to_rad:
        return first_rad
    return max(from_rad, to_rad, key=lambda end_rad: math.cos(end_rad - target_rad))


def _hull(feet: Sequence[Foot]) -> list[Foot]:
    """Corners of the convex hull, counter-clockwise (monotone chain); inner feet drop out."""
    placed = sorted({(round(x, FOOT_DECIMALS), round(y, FOOT_DECIMALS)) for x, y in feet})
    corners = _chain(placed)[:-1] + _chain(placed[::-1])[:-1]
    fan = pairwise(corners[1:])
    if sum(_turn_m2(corners[0], one, next_one) for one, next_one in fan) / 2 < LEAST_AREA_M2:
        raise ValueError(
            f"a base needs three feet or more that are not in one line, got {list(feet)}"
        )
    return corners


def _chain(placed: Sequence[Foot]) -> list[Foot]:
    """Hull corners met on the way through *placed*, always turning left."""
    chain: list[Foot] = []
    for foot in placed:
        while len(chain) > 1 and _turn_m2(chain[-2], chain[-1], foot) <= 0:
            chain.pop()
        chain.append(foot)
    return chain


def _turn_m2(start: Foot, middle: Foot, end: Foot) -> float:
    """Twice the signed area of the triangle; above 0 where the way turns left at *middle*."""
    return (middle[0] - start[0]) * (end[1] - start[1]) - (middle[1] - start[1]) * (
        end[0] - start[0]
    )
