"""Room below a fall: lanyards, self-retracting devices, rope grabs on a vertical line.

Plain sums of distances, derived. They hold for a rigid anchor and a body that ends hanging upright
from the back D-ring. Heights count from the walking surface, up positive; an anchor below the feet
has a negative height. There are two published ways of counting the body that hangs from the line:
by the D-ring (stretch of the harness and D-ring above the soles) or by the whole body height, which
holds the stretch already. *hanging_m* is one or the other, and never a sum of both.
"""

import math

# Binary fractions only: a lanyard that is just taut must count as connected.
TAUT_SLACK_M = 1e-9


def hanging_by_dring_m(*, harness_stretch_m: float, hanging_dring_m: float) -> float:
    """Line's end to soles, in m: stretch with D-ring shift, and the D-ring above the soles."""
    return harness_stretch_m + hanging_dring_m


def hanging_by_whole_body_m(*, stature_m: float) -> float:
    """Line's end to soles, in m: the whole height of the body, with no stretch beside it.

    The published sum is free fall, deceleration, height of the worker, margin (recalled). It asks
    for more than the D-ring sum where stature exceeds stretch over 0.18: 1.67 m for 0.30 m.
    """
    return stature_m


def lanyard_free_fall_m(
    *, connector_m: float, offset_m: float, anchor_height_m: float, dring_height_m: float
) -> float:
    """Vertical fall of the D-ring until the connector is taut, in m.

    *connector_m* is everything between anchor and D-ring with the absorber unopened; *offset_m*
    the horizontal distance between them; *dring_height_m* the D-ring in the posture of the work.
    Raises ValueError if the connector is too short to connect.
    """
    if abs(offset_m) >= connector_m:
        raise ValueError(
            f"cannot connect: the offset must be below the connector length {connector_m:g} m, "
            f"got {offset_m:g} m"
        )
    taut_m = math.sqrt(connector_m**2 - offset_m**2)
    fall_m = taut_m - (anchor_height_m - dring_height_m)
    if fall_m < -TAUT_SLACK_M:
        raise ValueError(
            "cannot connect: with this offset the anchor may be at most "
            f"{dring_height_m + taut_m} m high, got {anchor_height_m:g} m"
        )
    return max(0.0, fall_m)


def lanyard_clearance_below_anchor_m(
    *,
    connector_m: float,
    deceleration_m: float,
    hanging_m: float,
    margin_m: float,
) -> float:
    """Clear height needed below the anchor, in m; the posture before the fall drops out.

    *deceleration_m*: by 29 CFR 1926.502(d)(16)(iv) at most 3.5 ft; EN 355 allows 1.75 m.
    """
    return connector_m + deceleration_m + hanging_m + margin_m


def clearance_below_surface_m(*, below_anchor_m: float, anchor_height_m: float) -> float:
    """Clear height needed below the walking surface, in m."""
    return below_anchor_m - anchor_height_m


def lowest_anchor_m(
    *,
    connector_m: float,
    deceleration_m: float,
    hanging_m: float,
    margin_m: float,
    available_m: float,
) -> float:
    """Lowest anchor height, in m, that fits the *available_m* below the walking surface."""
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=connector_m,
        deceleration_m=deceleration_m,
        hanging_m=hanging_m,
        margin_m=margin_m,
    )
    return below_anchor_m - available_m


def retractor_distance_m(
    *, anchor_height_m: float, dring_height_m: float, offset_m: float
) -> float:
    """Line between a self-retracting device and the D-ring, in m; offset gives a swing fall."""
    return math.hypot(offset_m, anchor_height_m - dring_height_m)


def retractor_clearance_m(
    *,
    line_out_m: float,
    arrest_m: float,
    hanging_m: float,
    margin_m: float,
    anchor_height_m: float,
) -> float:
    """Clear height needed below the walking surface with a self-retracting device, in m.

    The drop of a swing fall is counted through *line_out_m*. *arrest_m* is the device's marked
    arrest distance with its locking travel; it holds only with the device above the D-ring, unless
    the device is marked for less.
    """
    return line_out_m + arrest_m + hanging_m + margin_m - anchor_height_m


def lowest_retractor_anchor_m(*, offset_m: float, dring_height_m: float, drop_m: float) -> float:
    """Lowest height of a self-retracting device, in m, whose swing falls *drop_m* at most.

    Derived: at a height z over the D-ring the swing drops sqrt(x^2 + z^2) - z, less the higher it
    hangs. Raises ValueError if there is no room for a drop: then no height is enough.
    """
    if drop_m <= 0:
        raise ValueError("no anchor is high enough, not even straight above")
    return dring_height_m + max(0.0, (offset_m**2 - drop_m**2) / (2 * drop_m))


def rope_grab_free_fall_m(
    *, lanyard_m: float, grab_height_m: float, dring_height_m: float, locking_m: float
) -> float:
    """Vertical fall of the D-ring until a grab on a vertical line holds, in m; plumb.

    *locking_m* is how far the grab slides before it holds. Raises ValueError if the lanyard is too
    short to connect.
    """
    taut_m = lanyard_free_fall_m(
        connector_m=lanyard_m,
        offset_m=0.0,
        anchor_height_m=grab_height_m,
        dring_height_m=dring_height_m,
    )
    return taut_m + locking_m


def rope_stretch_m(*, strain: float, anchor_height_m: float, grab_height_m: float) -> float:
    """Stretch of the vertical line between its anchor and the grab, in m, at the arrest force.

    It grows with the length of rope, and so is worst far below the anchor, near the ground. Raises
    ValueError if the grab stands above the anchor.
    """
    if grab_height_m > anchor_height_m:
        raise ValueError(
            f"the grab must be below the rope's anchor at {anchor_height_m:g} m, "
            f"got {grab_height_m:g} m"
        )
    return strain * (anchor_height_m - grab_height_m)


def lowest_grab_m(*, grab_height_m: float, strain: float, rope_m: float, lack_m: float) -> float:
    """Lowest height of the grab, in m, that makes good a *lack_m* of room below.

    *grab_height_m* is where the grab is planned, *rope_m* the rope above it. Each metre
    higher gains a metre, and the stretch of a metre of rope. Raises ValueError if even a grab at
    the anchor is too low.
    """
    rise_m = lack_m / (1 + strain)
    if rise_m > rope_m:
        raise ValueError("no grab on this rope is high enough, not even at its anchor")
    return grab_height_m + rise_m
