"""How long the way takes: on foot by stretches, by road, and from a call to the opening.

The way out with a casualty is worked out from its own speeds, never from the way in.
"""

import math
from collections.abc import Sequence

MILE_M = 1609.344

# Rating-schedule travel formula: 0.65 min + 1.7 min a mile, fire engines in US cities, 0.5 to
# 8 miles. Where the road is too short to reach full speed, the square-root form of RAND R-1449.
ROAD_START_S = 0.65 * 60
ROAD_SPEED_M_PER_S = MILE_M / (1.7 * 60)
ROAD_LONGEST_M = 8 * MILE_M


def stretch_s(*, length_m: float, speed_m_per_s: float) -> float:
    """Time for one stretch of the way at the speed of the slowest member, in s."""
    return length_m / speed_m_per_s


def route_s(*, stretches_s: Sequence[float], pauses_s: Sequence[float], factor: float) -> float:
    """Time for a whole way, in s: its stretches and its pauses (gate, lift), times a *factor*.

    The factor (1 or more) stands for dress and sight that the speeds do not have in them (derived).
    Raises ValueError below 1.
    """
    if factor < 1:
        raise ValueError(f"dress and bad sight make nobody faster, got a factor of {factor:g}")
    return factor * (sum(stretches_s) + sum(pauses_s))


def road_s(*, distance_m: float) -> float:
    """Driving time of an unladen emergency vehicle in town, in s.

    Beyond the junction t = v/a + D/v, the straight line of the rating-schedule formula; up to it
    t = 2 sqrt(D/a), with equal slopes where they meet (RAND R-1449). Raises ValueError beyond
    8 miles, where a driven time is needed. Not for a work van, and not for unmade roads.
    """
    if not 0 < distance_m <= ROAD_LONGEST_M:
        raise ValueError(
            "the road formula holds up to 8 miles (12.9 km); drive the way and state driven"
        )
    if distance_m <= road_junction_m():
        return 2 * math.sqrt(distance_m / road_acceleration_m_per_s2())
    return ROAD_START_S + distance_m / ROAD_SPEED_M_PER_S


def road_acceleration_m_per_s2() -> float:
    """Acceleration that the straight line implies, in m/s2: full speed over its start time."""
    return ROAD_SPEED_M_PER_S / ROAD_START_S


def road_junction_m() -> float:
    """Distance within which full speed is not reached, in m: v^2/a."""
    return ROAD_SPEED_M_PER_S * ROAD_START_S


def off_site_s(*, call_s: float, turn_out_s: float, drive_s: float, walk_in_s: float) -> float:
    """Time from the call until an outside team stands at the opening, in s, before any task of it.

    Handling of the call, turn-out, drive, and the walk from gate to opening with its kit.
    """
    return call_s + turn_out_s + drive_s + walk_in_s
