"""Delay from the hazard acting until somebody notices, when contact is checked now and then.

The clock of a rescue starts when the hazard acts. With a check every so often the delay is uniform
between nothing and the interval (derived). Continuous contact has its own, sensor-given delay.
"""

# Nine times in ten the delay is no longer than this share of the interval.
SLOW_SHARE = 0.9


def usual_delay_s(check_interval_s: float) -> float:
    """Middle and mean delay until the next check, in s."""
    return check_interval_s / 2


def slow_delay_s(check_interval_s: float) -> float:
    """Delay that is exceeded one time in ten, in s."""
    return check_interval_s * SLOW_SHARE
