"""The task against its days and hours: still to come, told by the clock, and under one permit."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.people.openings import daily
from planbuilder.checks.scene import Scene, Working, derived, finding, output, stated
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.teams import DAY_S

OVER = Rule(
    "plan/work-is-over",
    "The work is not over",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="the plan of work that has ended is a record, no plan"),
)
HOURS = Rule(
    "plan/hours-not-stated",
    "Hours of the day between which people may be inside",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(f)(3)"),
)
SHORT = Rule(
    "plan/permit-too-short",
    "Permit good for the whole of a day's work",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="work after the end of a permit is work without one"),
)
LONG = Rule(
    "plan/permit-outlasts-task",
    "Permit good for no longer than the task",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a permit that outlasts its task is used for another one"),
)


def check_over(scene: Scene) -> Iterator[Finding]:
    """The last day of work has not gone by."""
    words = f"work ends {day_text(scene.work_ends)}, checked for {day_text(scene.on)}"
    yield finding(
        OVER,
        Stated(holds=scene.on <= scene.work_ends, because=words),
        settle_by="State the days of the work that is still to be done, and issue the plan again.",
        keys=(scene.key("task.start"), scene.key("task.finish")),
        space=scene.space,
    )


def check_hours(scene: Scene) -> Iterator[Finding]:
    """An entry has a first and a last hour, which permit, shifts and cover are held against."""
    task = scene.space.task
    if not scene.space.is_confined:
        return
    outcome: Stated | Missing = Missing(because="first entry, and when all are out, not stated")
    if task.enter_from and task.out_by:
        words = f"inside {task.enter_from.written} to {task.out_by.written} each day"
        outcome = Stated(holds=True, because=words)
    yield finding(
        HOURS,
        outcome,
        settle_by="State enter_from and out_by: between these hours the permit is good.",
        keys=(scene.key("task.enter_from"), scene.key("task.out_by")),
        space=scene.space,
    )


def check_permit(scene: Scene) -> Iterator[Finding]:
    """One permit covers the work of a day, and ends with the task."""
    permit, hours = scene.space.task.permit_for, daily(scene.space)
    if permit is None:
        return
    keys = (scene.key("task.permit_for"), scene.key("task.out_by"))
    good = stated("t_permit", "permit good for", permit, Unit.S, keys[0])
    day = whole = None
    if hours is not None:
        days = (scene.work_ends - scene.space.task.start).days
        day = derived("t_day", "work of a day", hours.stay_s, Unit.S, "enter_from to out_by")
        note = "first entry to the end of the last day"
        whole = derived("t_task", "the whole task", days * DAY_S + hours.stay_s, Unit.S, note)
    yield finding(
        SHORT,
        _permitted(good, Relation.AT_LEAST, day),
        settle_by="Have everybody out before the permit ends (out_by), or state how long the "
        "permit is good for.",
        keys=keys,
        space=scene.space,
    )
    yield finding(
        LONG,
        _permitted(good, Relation.AT_MOST, whole),
        settle_by="Let the permit end with the task; a new task takes a new one.",
        keys=keys,
        space=scene.space,
        duty=scene.limits.duty("permit.no_longer_than_task"),
    )


def _permitted(good: Quantity, relation: Relation, limit: Quantity | None) -> Compared | Missing:
    if limit is None:
        return Missing(because="hours of the work not stated")
    result = output("t", "permit good for", Unit.S)
    return Working(good.value, "t_permit", (good,)).against(relation, limit, result=result)
