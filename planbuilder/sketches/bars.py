"""A rescue in time as bars: zero is the hazard acting. Seconds along, one row a step.

A bar runs from the earliest start for the usual time; its tail runs on to the time that is reached
or exceeded one time in ten. Below stand the clocks from the ordinary day to nine times in ten.
"""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.timing.timeline import Timeline

ROOM = 1.6  # of the limit, or 1.15 of the first clocks: what lies beyond gets an arrow
ROOM_BEHIND = 1.15


@dataclass(frozen=True, slots=True)
class Bar:
    """One step: when it starts, its usual and its slow end, and if it often decides the clock."""

    name: str
    start_s: float
    usual_end_s: float
    slow_end_s: float
    decides: bool


@dataclass(frozen=True, slots=True)
class Moment:
    """One clock: on an ordinary day, and nine times in ten."""

    name: str
    ordinary_s: float
    planned_s: float


@dataclass(frozen=True, slots=True)
class Bars:
    """The picture of one method. *end_s* is where the paper ends; later bars are cut there."""

    bars: tuple[Bar, ...]
    moments: tuple[Moment, ...]
    limit_s: float
    end_s: float


def bars(times: Timeline, limit_s: float) -> Bars | None:
    """The picture of *times* beside the limit for air, or None where no clock can be given."""
    if not times.clocks:
        return None
    deciding = set(times.clocks[0].deciding)
    rows = tuple(
        Bar(
            name=one.id,
            start_s=one.earliest_start_s,
            usual_end_s=one.earliest_finish_s,
            slow_end_s=one.earliest_start_s
            + max(times.step(one.id).slow.value, times.step(one.id).usual.value),
            decides=one.id in deciding,
        )
        for one in times.timings
    )
    moments = tuple(Moment(one.name, one.usual_s, one.slow_s) for one in times.clocks)
    shown = [one.planned_s for one in moments if one.name != "handed-over"] or [limit_s]
    end_s = max(ROOM * limit_s, ROOM_BEHIND * max(shown))
    return Bars(rows, moments, limit_s, end_s)
