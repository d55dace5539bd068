"""When something happens in a rescue: the clock of the timeline as a number to compare with."""

from __future__ import annotations

from planbuilder.checks.scene import Way, Working, derived
from planbuilder.checks.timing.timeline import Clock, how_sampled, timeline
from planbuilder.findings import Compared, Quantity, Relation, Unit

_NAMES = {
    "air": "air to the casualty",
    "out": "casualty out",
    "handed-over": "handed over to the ambulance crew",
}


def in_time(way: Way, clock: Clock, limit: Quantity, result: Quantity) -> Compared:
    """A clock against its limit: nine times in ten it meets, on an ordinary day it is marginal."""
    times, planned, note = timeline(way), clock.planned, how_sampled(way.scene)
    steps = tuple(each for one in times.steps for each in (one.usual, one.slow))
    of = (*steps, way.scene.defaults.of("common-cause"))
    interval = f"{note}; between {planned.from_s:.0f} and {planned.to_s:.0f} s, 19 times in 20"
    slowly = derived("T_90", "nine times in ten", clock.slow_s, Unit.S, interval, of)
    usual = derived("T_50", "on an ordinary day", clock.usual_s, Unit.S, note)
    return Working(slowly.value, slowly.symbol, (slowly, usual)).against(
        Relation.AT_MOST, limit, result=result, easier=max(0.0, slowly.value - usual.value)
    )


def ordinary(way: Way, name: str) -> Quantity | None:
    """When the moment comes on an ordinary day; None where the timeline cannot tell."""
    clock = timeline(way).clock(name)
    if clock is None:
        return None
    return derived("T", f"{_NAMES[name]}, ordinary day", clock.usual_s, Unit.S, "timeline")


def slow(way: Way, name: str) -> Quantity | None:
    """When the moment comes nine times in ten, which is the time to allow."""
    clock = timeline(way).clock(name)
    if clock is None:
        return None
    return derived("T", f"{_NAMES[name]}, 9 times in 10", clock.slow_s, Unit.S, "timeline")
