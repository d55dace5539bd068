"""What the drills of a space showed: times of its steps and clocks."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.scene import Way, once_a_way
from planbuilder.findings import Quantity
from planbuilder.response.drills import Allowance, allowance, contradicted
from planbuilder.site.people import Drill
from planbuilder.tables import table
from planbuilder.units import Duration


@dataclass(frozen=True, slots=True)
class Drilled:
    """The times that drills took for one thing that is planned, oldest first.

    A drill that was broken off counts with the longest time that is known: it took longer.
    """

    times_s: tuple[float, ...]
    written: tuple[str, ...]

    def withdraws(self, planned_s: float) -> bool:
        """Whether these drills contradict *planned_s*."""
        return contradicted(planned_s=planned_s, drilled_s=self.times_s)

    def allows(self, planned_s: float, spread: Quantity) -> Allowance:
        """What may be counted on after these drills."""
        return allowance(
            planned_s=planned_s,
            drilled_s=self.times_s,
            spread=spread.value,
            t_90=student_t(),
        )


def clock_text(time_s: float) -> str:
    """A time as a stopwatch shows it, up to the next second: times in a row read best so."""
    whole = math.ceil(time_s - 1e-9)
    return f"{whole // 60}:{whole % 60:02d}"


def student_t() -> tuple[float, ...]:
    """The 90th percentile of Student's t by degrees of freedom, from 1."""
    return tuple(table("student_t")["p90"])


@once_a_way
def drills_of(way: Way) -> tuple[Drill, ...]:
    """The drills of this method in or for this space, on record today, oldest first."""
    scene = way.scene
    held = (
        one
        for one in scene.site.drill
        if scene.space.id in one.space and one.way == way.name and one.on <= scene.on
    )
    return tuple(sorted(held, key=lambda one: one.on))


def step_times(way: Way, step_id: str, planned_s: float) -> Drilled:
    """How long the step of that id took in the drills of *way*."""

    def took(drill: Drill) -> Duration | None:
        return next((one.took for one in drill.step if one.id == step_id), None)

    return _drilled(way, took, planned_s)


def clock_times(way: Way, clock: str, planned_s: float) -> Drilled:
    """How long it took in the drills of *way* from the alarm until *clock* was reached."""
    return _drilled(way, lambda drill: drill.took if drill.reached == clock else None, planned_s)


def _drilled(way: Way, took: Callable[[Drill], Duration | None], planned_s: float) -> Drilled:
    realism = way.scene.defaults.of("drill-realism").value
    timed = [(drill, time) for drill in drills_of(way) if (time := took(drill)) is not None]
    times_s = [time.s * (1.0 if drill.real_conditions else realism) for drill, time in timed]
    longest_s = max((planned_s, *times_s))
    return Drilled(
        tuple(
            own_s if drill.passed else longest_s
            for (drill, _), own_s in zip(timed, times_s, strict=True)
        ),
        tuple(
            clock_text(time.s) if drill.passed else f"more than {clock_text(time.s)}"
            for drill, time in timed
        ),
    )
