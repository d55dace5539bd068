"""Spread of a task's duration, from numbers that a crew can give.

Each kind gives the duration at a standard normal score *z*: 0 is the middle, 1.28 is the duration
that is reached or exceeded one time in ten. The percentile engine puts whole columns of scores in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

SPREAD_Z = 1.2815515655446004
"""90th percentile of the standard normal distribution."""


@dataclass(frozen=True, slots=True)
class Certain:
    """A duration that is known, or 0 for a moment."""

    value_s: float


@dataclass(frozen=True, slots=True)
class LogNormal:
    """The default: *usual_s* is the median, *sigma* the spread of the logarithm."""

    usual_s: float
    sigma: float


@dataclass(frozen=True, slots=True)
class Uniform:
    """A delay anywhere between nothing and *to_s*, such as until the next check call."""

    to_s: float


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """A beta distribution between *best_s* and *worst_s* with the classical mean.

    The mean is (best + 4 usual + worst)/6. Its variance, (mean - best)(worst - mean)/7, is not the
    classical ((worst - best)/6)^2: the two are never mixed.
    """

    best_s: float
    usual_s: float
    worst_s: float

    def __post_init__(self) -> None:
        """Raise ValueError unless 0 <= best <= usual <= worst and best < worst."""
        if not 0 <= self.best_s <= self.usual_s <= self.worst_s or self.best_s == self.worst_s:
            raise ValueError(
                "best, usual and worst duration must follow each other, "
                f"got {self.best_s:g}, {self.usual_s:g}, {self.worst_s:g} s"
            )

    @property
    def shape(self) -> tuple[float, float]:
        """The parameters alpha and beta, plain numbers of 1 or more."""
        width_s = self.worst_s - self.best_s
        return (
            1 + 4 * (self.usual_s - self.best_s) / width_s,
            1 + 4 * (self.worst_s - self.usual_s) / width_s,
        )


Spread = Certain | LogNormal | Uniform | ThreePoint


def slow_duration_s(*, usual_s: float, sigma: float) -> float:
    """Duration that is reached or exceeded one time in ten, in s."""
    return usual_s * math.exp(SPREAD_Z * sigma)


def spread_sigma(*, usual_s: float, slow_s: float) -> float:
    """Sigma of the log-normal through *usual_s* and *slow_s*; 0 where both are the same.

    Raises ValueError unless *slow_s* is at least *usual_s* and *usual_s* above 0.
    """
    if not slow_s >= usual_s > 0:
        raise ValueError(
            "the slow duration must not be below the usual one, and that above 0 s, "
            f"got usual {usual_s} s, slow {slow_s} s"
        )
    return math.log(slow_s / usual_s) / SPREAD_Z


def moments(spread: Spread) -> tuple[float, float]:
    """Mean in s and variance in s2 of a duration.

    Of three points, the beta distribution's own variance (mean - best)(worst - mean)/7.
    """
    match spread:
        case Certain(value_s):
            return value_s, 0.0
        case LogNormal(usual_s, sigma):
            mean_s = usual_s * math.exp(sigma**2 / 2)
            return mean_s, mean_s**2 * math.expm1(sigma**2)
        case Uniform(to_s):
            return to_s / 2, to_s**2 / 12
        case ThreePoint(best_s, usual_s, worst_s):
            mean_s = (best_s + 4 * usual_s + worst_s) / 6
            return mean_s, (mean_s - best_s) * (worst_s - mean_s) / 7


def path_by_hand_s(spreads: Iterable[Spread]) -> tuple[float, float]:
    """Mean of a chain of tasks and its 90th percentile by the sum of normals, in s.

    A check with a pencil: it holds for one chain of tasks that do not slow each other, and is
    short where chains meet or a common cause slows everything.
    """
    means, variances = zip(*(moments(one) for one in spreads), strict=True)
    return sum(means), sum(means) + SPREAD_Z * math.sqrt(sum(variances))
