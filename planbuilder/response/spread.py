"""Spread of a task's duration: what it usually takes against one time in ten.

Log-normal, derived: *usual_s* is its median and *slow_s* its 90th percentile, the two numbers a
crew can give. sigma is the standard deviation of the logarithm, a plain number.
"""

import math

SPREAD_Z = 1.2815515655446004
"""90th percentile of the standard normal distribution."""


def slow_duration_s(*, usual_s: float, sigma: float) -> float:
    """Duration that is reached or exceeded one time in ten, in s."""
    return usual_s * math.exp(SPREAD_Z * sigma)


def spread_sigma(*, usual_s: float, slow_s: float) -> float:
    """Sigma of the log-normal through *usual_s* and *slow_s*.

    Raises ValueError unless *slow_s* is above *usual_s* and *usual_s* above 0.
    """
    if not slow_s > usual_s > 0:
        raise ValueError(
            "the slow duration must be above the usual one, and that above 0 s, "
            f"got usual {usual_s} s, slow {slow_s} s"
        )
    return math.log(slow_s / usual_s) / SPREAD_Z
