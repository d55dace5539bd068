"""Planned times against drilled ones. The plan counts as one drill.

Logarithms of times are taken as normal; the plan's own time is one observation, so that a few
drills soon outweigh it (normal-inverse-gamma prediction; derived).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbuilder.response.spread import SPREAD_Z

PLAN_COUNTS = 1
PRIOR_FREEDOM = 3
OVERRUN = 1.25
LAST = 3  # the drills that are looked at for "all slower than planned"


@dataclass(frozen=True, slots=True)
class Allowance:
    """What a plan may count on after its drills, in s: every other time, and nine times in ten."""

    middle_s: float
    slow_s: float


def allowance(
    *, planned_s: float, drilled_s: Sequence[float], spread: float, t_90: Sequence[float]
) -> Allowance:
    """The time of the next attempt, after *drilled_s*, for a step planned with *planned_s*.

    *spread* is the spread of the logarithm between teams, before any drill; *t_90* holds the 90th
    percentile of Student's t by degrees of freedom from 1 on. Raises ValueError for a time of 0.
    """
    logs = _logs(drilled_s)
    count, plan = len(logs), _logs([planned_s])[0]
    mean = sum(logs) / count if logs else plan
    squares = sum((one - mean) ** 2 for one in logs)
    weight, freedom = PLAN_COUNTS + count, PRIOR_FREEDOM + count
    middle = (PLAN_COUNTS * plan + count * mean) / weight
    between = PLAN_COUNTS * count * (mean - plan) ** 2 / weight
    scale = math.sqrt((PRIOR_FREEDOM * spread**2 + squares + between) / freedom)
    slow = middle + _t(t_90, freedom) * scale * math.sqrt(1 + 1 / weight)
    return Allowance(math.exp(middle), math.exp(slow))


def next_attempt_s(drilled_s: Sequence[float], t_90: Sequence[float]) -> float:
    """What nine next attempts in ten keep to, by the drills alone, in s (prediction bound).

    Raises ValueError below three drills: their spread says too little.
    """
    logs, count = _logs(drilled_s), len(drilled_s)
    if count < LAST:
        raise ValueError(f"needs three drills or more, got {count}")
    mean = sum(logs) / count
    deviation = math.sqrt(sum((one - mean) ** 2 for one in logs) / (count - 1))
    return math.exp(mean + _t(t_90, count - 1) * deviation * math.sqrt(1 + 1 / count))


def overrun(*, planned_s: float, drilled_s: Sequence[float]) -> float:
    """Geometric mean of the drills over the plan; 1 where there is none."""
    if not drilled_s:
        return 1.0
    return math.exp(sum(_logs(drilled_s)) / len(drilled_s)) / planned_s


def contradicted(*, planned_s: float, drilled_s: Sequence[float]) -> bool:
    """Whether drills, oldest first, withdraw the planned time.

    They do when each of the last three was slower, or the last three overran by a quarter.
    """
    last = drilled_s[-LAST:]
    if len(last) == LAST and all(one > planned_s for one in last):
        return True
    return overrun(planned_s=planned_s, drilled_s=last) >= OVERRUN


def drills_needed(*, share: float, confidence: float) -> int:
    """Drills after which the slowest is, with that confidence, no quicker than that share of all.

    Distribution-free (Wilks): the smallest n with 1 - share**n >= confidence.
    """
    return math.ceil(math.log(1 - confidence) / math.log(share))


def _logs(times_s: Sequence[float]) -> list[float]:
    if any(one <= 0 for one in times_s):
        raise ValueError("a time must be above 0 s")
    return [math.log(one) for one in times_s]


def _t(t_90: Sequence[float], freedom: int) -> float:
    """Student's t; beyond the table the last row, which is above the normal *SPREAD_Z*."""
    return max(t_90[min(freedom, len(t_90)) - 1], SPREAD_Z)
