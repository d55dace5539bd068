"""Where a support stands against the opening: line, feet, legs, swing. Plane geometry, derived."""

import math
from collections.abc import Sequence


def centring_tolerance_m(
    *, long_side_m: float, short_side_m: float, breadth_m: float, depth_m: float, gap_m: float
) -> float:
    """How far the line may hang off the centre of an opening, in m; negative: too small anyway.

    The body keeps *gap_m* to the rim of a rectangle, shoulders along the longer side or the
    shorter, whichever leaves more.
    """
    along_m = min(long_side_m - breadth_m, short_side_m - depth_m)
    across_m = min(short_side_m - breadth_m, long_side_m - depth_m)
    return max(along_m, across_m) / 2 - gap_m


def round_tolerance_m(*, diameter_m: float, breadth_m: float, gap_m: float) -> float:
    """How far the line may hang off the centre of a round opening, in m."""
    return (diameter_m - breadth_m) / 2 - gap_m


def nearest_foot_m(*, feet: Sequence[tuple[float, float]], over: tuple[float, float]) -> float:
    """Distance in plan from the hook to the nearest foot, in m."""
    return min(math.dist(one, over) for one in feet)


def feet_to_edge_m(*, foot_m: float, corner_m: float, off_centre_m: float) -> float:
    """Least gap between a foot and the edge of the opening, in m, however the opening is turned.

    *foot_m* is from the hook to the nearest foot, *corner_m* from the centre of the opening to its
    farthest point, *off_centre_m* from the hook to that centre.
    """
    return foot_m - corner_m - off_centre_m


def leg_gap_m(*, foot_circle_m: float, head_m: float, at_height_m: float) -> float:
    """Gap between two legs of a tripod at a height, in m: sqrt(3) r (1 - z/h), 0 at the head."""
    return math.sqrt(3) * foot_circle_m * max(0.0, 1 - at_height_m / head_m)


def leg_for_gap_m(*, foot_circle_m: float, at_height_m: float, gap_m: float) -> float:
    """Length of a tripod's legs, in m, that leaves *gap_m* between two of them at a height.

    The inverse of leg_gap_m, on the same foot circle. Raises ValueError where the feet themselves
    stand no farther apart than the gap.
    """
    share = gap_m / (math.sqrt(3) * foot_circle_m)
    if not share < 1:
        raise ValueError(f"feet on a circle of {foot_circle_m:g} m leave no gap of {gap_m:g} m")
    return math.hypot(at_height_m / (1 - share), foot_circle_m)


def swing_to_land_rad(
    *, reach_m: float, opening_m: float, half_casualty_m: float, gap_m: float
) -> float:
    """Least turn of a boom, in rad, that brings a casualty clear of a round opening.

    The hook turns about the mast at *reach_m* from over the centre; the chord must clear the
    radius *opening_m*, half the casualty and a gap. Raises ValueError where no turn does.
    """
    share = (opening_m + half_casualty_m + gap_m) / (2 * reach_m)
    if share > 1:
        raise ValueError(
            f"no turn of a boom of {reach_m:g} m lands a casualty clear of the opening"
        )
    return 2 * math.asin(share)


def swept_radius_m(*, reach_m: float, half_casualty_m: float, gap_m: float) -> float:
    """How far from the mast a casualty sweeps while the boom turns, with a gap, in m."""
    return reach_m + half_casualty_m + gap_m


def turn_beyond_edge_rad(*, reach_m: float, edge_m: float) -> float:
    """How far an arm turns either way before its hook comes back over the deck, in rad.

    Derived; the arm points square over an edge *edge_m* before its post at angle nought. Raises
    ValueError unless the hook hangs beyond the edge there, and the post stands on the deck.
    """
    if not 0 <= edge_m < reach_m:
        raise ValueError(f"the edge must lie before {reach_m:g} m of reach, got {edge_m:g} m")
    return math.acos(edge_m / reach_m)
