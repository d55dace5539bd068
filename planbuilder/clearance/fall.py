"""Room below a fall: lanyards and self-retracting devices.

Plain sums of distances, derived. They hold for a rigid anchor and a body that ends hanging upright
from the back D-ring. Heights count from the walking surface, up positive; an anchor below the feet
has a negative height. *hanging_dring_m* is the D-ring above the soles, hanging. All of the harness
method: never mix in terms of the whole-body-height method, which counts about 0.3 m twice.
"""

import math

# Binary fractions only: a lanyard that is just taut must count as connected.
TAUT_SLACK_M = 1e-9


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
    harness_stretch_m: float,
    hanging_dring_m: float,
    margin_m: float,
) -> float:
    """Clear height needed below the anchor, in m; the posture before the fall drops out.

    *deceleration_m*: by 29 CFR 1926.502(d)(16)(iv) at most 3.5 ft; EN 355 allows 1.75 m.
    """
    return connector_m + deceleration_m + harness_stretch_m + hanging_dring_m + margin_m


def clearance_below_surface_m(*, below_anchor_m: float, anchor_height_m: float) -> float:
    """Clear height needed below the walking surface, in m."""
    return below_anchor_m - anchor_height_m


def lowest_anchor_m(
    *,
    connector_m: float,
    deceleration_m: float,
    harness_stretch_m: float,
    hanging_dring_m: float,
    margin_m: float,
    available_m: float,
) -> float:
    """Lowest anchor height, in m, that fits the *available_m* below the walking surface."""
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=connector_m,
        deceleration_m=deceleration_m,
        harness_stretch_m=harness_stretch_m,
        hanging_dring_m=hanging_dring_m,
        margin_m=margin_m,
    )
    return below_anchor_m - available_m


def fall_factor(*, free_fall_m: float, connector_m: float) -> float:
    """Free fall over connector length: 0 taut overhead, 1 at D-ring level, 2 at most."""
    return free_fall_m / connector_m


def retractor_distance_m(
    *, anchor_height_m: float, dring_height_m: float, offset_m: float
) -> float:
    """Line between a self-retracting device and the D-ring, in m; offset gives a swing fall."""
    return math.hypot(offset_m, anchor_height_m - dring_height_m)


def retractor_clearance_m(
    *,
    line_out_m: float,
    arrest_m: float,
    harness_stretch_m: float,
    hanging_dring_m: float,
    margin_m: float,
    anchor_height_m: float,
) -> float:
    """Clear height needed below the walking surface with a self-retracting device, in m.

    The drop of a swing fall is counted through *line_out_m*. *arrest_m* is the device's marked
    arrest distance with its locking travel; it holds only with the device above the D-ring, unless
    the device is marked for less.
    """
    hanging_m = line_out_m + arrest_m + harness_stretch_m + hanging_dring_m + margin_m
    return hanging_m - anchor_height_m
