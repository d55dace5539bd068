"""When something happens in a rescue: the clock of the timeline as a number to compare with."""

from __future__ import annotations

from planbuilder.checks.scene import Way, derived
from planbuilder.checks.timeline import timeline
from planbuilder.findings import Quantity, Unit

_NAMES = {
    "air": "air to the casualty",
    "out": "casualty out",
    "handed-over": "handed over to the ambulance crew",
}


def ordinary(way: Way, name: str) -> Quantity | None:
    """When the moment comes on an ordinary day; None where the timeline cannot tell."""
    clock = timeline(way).clock(name)
    if clock is None:
        return None
    return derived("T", f"{_NAMES[name]}, ordinary day", clock.usual_s, Unit.S, "timeline")


def slow(way: Way, name: str) -> Quantity | None:
    """When the moment comes on a slow day, which is the one to allow for."""
    clock = timeline(way).clock(name)
    if clock is None:
        return None
    return derived("T", f"{_NAMES[name]}, slow day", clock.slow_s, Unit.S, "timeline")
