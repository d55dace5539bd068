"""Hydrogen sulfide: how long a level may last before the toxic load reaches a printed threshold.

Load by C^n * t = k through a level for the general public that is printed for one hour. It is a
no-death threshold for bystanders, not a time in which workers stay able to act, and holds from
10 minutes to 8 hours only. From 100 ppm on it says nothing: there the planning class decides.
"""

import math

LOAD_EXPONENT = 4.36
"""Exponent of the level in the load (guideline-level documents, recalled)."""
THRESHOLD_FRACTION = 50e-6
THRESHOLD_S = 3600.0
"""The no-death threshold of the guideline levels: 50 ppm for 60 min (recalled)."""
SHORTEST_S, LONGEST_S = 600.0, 28_800.0
"""The range in which the exponent was fitted."""

# Binary fractions only: the end of the range must count as inside.
_EQUAL = 1e-9


def load_time_s(
    fraction: float,
    *,
    threshold_fraction: float = THRESHOLD_FRACTION,
    threshold_s: float = THRESHOLD_S,
) -> float:
    """Time after which the load of *fraction* equals that of the threshold, in s.

    Never longer than 8 h, where the range ends. Raises ValueError where it is shorter than 10 min.
    """
    if fraction <= 0:
        return LONGEST_S
    time_s = threshold_s * math.pow(threshold_fraction / fraction, LOAD_EXPONENT)
    if time_s < SHORTEST_S * (1 - _EQUAL):
        raise ValueError(
            "the load formula holds from 10 min on, and this level reaches its threshold sooner"
        )
    return min(time_s, LONGEST_S)
