"""Traffic, wind and what runs near the opening: lengths in m, speeds in m/s, angles in rad."""

import math

_MPH = 0.44704  # exact
_FT = 0.3048  # exact
_STEP_FT = 5.0
_REACTION_S = 2.5
_BRAKING_FT_PER_S2 = 11.2
_SLOW_MPH = 40.0  # the quadratic taper holds up to here
_EXACT_ENOUGH = 1e-9


def buffer_needed_m(*, speed_m_per_s: float) -> float:
    """Free length ahead of a place of work beside traffic, in m: the stopping sight distance.

    MUTCD buffer space, recalled: 1.47 V t + 1.075 V^2/a in ft, V in mph, t 2.5 s, a 11.2 ft/s2,
    in whole steps of 5 ft.
    """
    mph = speed_m_per_s / _MPH
    exact_ft = 1.47 * mph * _REACTION_S + 1.075 * mph**2 / _BRAKING_FT_PER_S2
    return math.ceil(exact_ft / _STEP_FT) * _STEP_FT * _FT


def is_slow(speed_m_per_s: float) -> bool:
    """True up to 40 mph, where a taper grows with the square of the speed."""
    return speed_m_per_s / _MPH <= _SLOW_MPH + _EXACT_ENOUGH


def slow_taper_m(*, speed_m_per_s: float, lane_width_m: float) -> float:
    """Length over which a lane closes, in m, up to 40 mph: W S^2/60 in ft and mph; recalled."""
    return lane_width_m * (speed_m_per_s / _MPH) ** 2 / 60


def fast_taper_m(*, speed_m_per_s: float, lane_width_m: float) -> float:
    """Length over which a lane closes, in m, above 40 mph: W S in ft and mph; recalled."""
    return lane_width_m * speed_m_per_s / _MPH


def angle_between_rad(*, bearing_rad: float, other_rad: float) -> float:
    """The smaller angle between two bearings of 0 to a full turn, in rad: 0 to a half turn."""
    apart = abs(bearing_rad - other_rad)
    return min(apart, 2 * math.pi - apart)
