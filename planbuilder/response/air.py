"""How much air a rescuer breathes, how long a supply lasts, and when to turn back.

Volumes are free air. Rates are those of people at work under a set; they differ from person to
person, so that a mission is planned with somebody who needs more than nine in ten others.
"""

import math
from collections.abc import Iterable

from planbuilder.response.spread import SPREAD_Z


def worst_breather_factor(spread: float) -> float:
    """How many times the usual rate somebody breathes whom one in ten exceeds, a plain number.

    Log-normal; *spread* is the standard deviation of the logarithm between people at one pace.
    """
    return math.exp(SPREAD_Z * spread)


def breathed_m3(phases: Iterable[tuple[float, float]]) -> float:
    """Air breathed in *phases* of (rate in m3/s, time in s), in m3."""
    return sum(rate * time_s for rate, time_s in phases)


def lasts_s(*, volume_m3: float, rate_m3_per_s: float) -> float:
    """How long a volume lasts at a rate, in s. One or many users: the rate is that of all."""
    return volume_m3 / rate_m3_per_s


def rated_volume_m3(*, rated_s: float, rate_m3_per_s: float) -> float:
    """Free air behind the minutes marked on a set, in m3: 40 L/min (42 CFR 84.88(b))."""
    return rated_s * rate_m3_per_s


def turn_back_share(*, in_m3: float, out_m3: float) -> float:
    """The part of the usable air that must be left when turning back without work inside.

    r/(1 + r) with r the air for the way out over that for the way in, whatever the distance.
    r = 1 leaves a half, r = 2 two thirds: the rule of thirds. Derived.
    """
    return out_m3 / (in_m3 + out_m3)


def crews_needed(*, work_s: float, away_s: float) -> int:
    """Crews that keep one of them at work all the time: each works, then is away (way and rest)."""
    return math.ceil((work_s + away_s) / work_s)
