"""Drills against the plan: what they contradict, what they prove, where and by whom they were."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.checks.timing.drilled import (
    Drilled,
    clock_text,
    clock_times,
    drills_of,
    step_times,
    student_t,
)
from planbuilder.checks.timing.likeness import likeness
from planbuilder.checks.timing.timeline import Timeline, timeline
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Rule,
    Source,
    Stated,
    Weight,
)
from planbuilder.response.drills import LAST, drills_needed, next_attempt_s, overrun
from planbuilder.site.people import Drill
from planbuilder.site.periods import Period

GENERAL = "29 CFR 1910.146"
PRACTICE = Source(mark=Mark.READ, document=GENERAL, clause="(k)(2)(iv)")
OWN = Source(mark=Mark.CHOICE, note="the plan counts as one drill")
STALE = Rule("plan/drill-stale", "Practice rescue for this space", Weight.WARNS, PRACTICE)
CONTRADICT = Rule(
    "response/drills-contradict-plan", "Planned times against drilled ones", Weight.BLOCKS, OWN
)
TIMED = Rule("response/drill-not-timed", "Drills timed", Weight.WARNS, OWN)
FEW = Rule("response/too-few-drills", "Enough drills to speak of nine in ten", Weight.WARNS, OWN)
EASIER = Rule(
    "response/drill-easier-than-plan",
    "Drills held where it is no easier",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(2)(iv), representative spaces"),
)
CREW = Rule("response/drill-crew-changed", "The crew that drilled is the crew", Weight.WARNS, OWN)
SURE = 0.9


def check_drill(scene: Scene) -> Iterator[Finding]:
    """A practice rescue for this space lies within the practice interval, and went well."""
    limit = scene.limits.of("training.practice_months")
    practised = scene.limits.duty("rescue.practised")
    months = int(limit.quantity.value)
    passed = [one for one in scene.site.drill if scene.space.id in one.space and one.passed]
    past = [one for one in passed if one.on <= scene.on]
    counted = [one for one in past if not one.real_rescue or _real_ones_count(scene)]
    like = [one for one in counted if likeness(scene, one).is_like]
    last = max((one.on for one in like), default=None)
    good_to = Period(months, "month", "").after(last) if last else None
    outcome = _not_like(scene, past, counted)
    if last and good_to:
        words = f"last practice {day_text(last)}, good to {day_text(good_to)}"
        outcome = Stated(holds=scene.last_day <= good_to, because=words)
    yield finding(
        STALE,
        outcome,
        settle_by=f"Practise this rescue in this or a like space; every {months} months at "
        "least, and state it as a drill.",
        keys=("drill",),
        space=scene.space,
        duty=limit if last or limit.binds or practised is None else practised,
        due=good_to,
    )


def _real_ones_count(scene: Scene) -> bool:
    """Whether a rule set lets a real rescue stand for a practice."""
    permission = scene.limits.permission("training.real_rescue_counts")
    return permission is not None and permission.allowed


def _not_like(scene: Scene, past: list[Drill], counted: list[Drill]) -> Stated | Missing:
    """Why none of the drills of this space is a practice for it."""
    unclear = [one.id for one in counted if not likeness(scene, one).easier]
    if unclear:
        words = f"how hard the place was is not stated: {', '.join(unclear)}"
        return Missing(because=words)
    if counted:
        return Stated(holds=False, because="practised only where it is easier than here")
    if past:
        words = "only real rescues, which no rule set in force counts as practice"
        return Stated(holds=False, because=words)
    return Missing(because="no practice rescue on record for this space")


def check_contradicted(scene: Scene) -> Iterator[Finding]:
    """Times that drills have shown to be too short are withdrawn from the plan."""
    for way in scene.ways():
        times = timeline(way)
        for name, planned_s, drilled in _compared(times):
            if not drilled.times_s:
                continue
            spread = scene.defaults.of("task-spread")
            holds = not drilled.withdraws(planned_s)
            allowed_s = drilled.allows(planned_s, spread).slow_s
            yield finding(
                CONTRADICT,
                Stated(holds=holds, because=_sentence(planned_s, drilled, holds=holds)),
                settle_by=f"Plan {_half_minutes(allowed_s)} for nine times in ten, or find what "
                "holds the drills up, put it right and drill again.",
                keys=(way.key("step"), "drill"),
                space=scene.space,
                about=f"{way.name}, {name}",
            )


def _compared(times: Timeline) -> Iterator[tuple[str, float, Drilled]]:
    """What is planned, its usual time from the alarm on, and what the drills took for it."""
    way = times.way
    for one in times.steps:
        planned = one.step.usual  # as the file states it, whatever the timeline made of it
        if planned is not None and one.step.computed is None:
            yield one.step.id, planned.s, step_times(way, one.step.id, planned.s)
    notice_s = times.detection.usual.value if times.detection else 0.0
    for clock in times.clocks:
        planned_s = clock.plain_s - notice_s
        if planned_s > 0:
            yield clock.name.replace("-", " "), planned_s, clock_times(way, clock.name, planned_s)


def _sentence(planned_s: float, drilled: Drilled, *, holds: bool) -> str:
    last = ", ".join(drilled.written[-LAST:])
    count = len(drilled.written)
    ratio = overrun(planned_s=planned_s, drilled_s=drilled.times_s[-LAST:])
    words = f"planned {clock_text(planned_s)}; last {min(count, LAST)} of {count} drills: {last}"
    words += f"; {ratio:.2f} times the plan"
    if count >= LAST and not holds:
        alone = next_attempt_s(drilled.times_s, student_t())
        words += f"; by the drills alone nine in ten keep to {clock_text(alone)}"
    return words if holds else f"{words}; the planned time is withdrawn"


def check_timed(scene: Scene) -> Iterator[Finding]:
    """A drill that was not timed, or not until what, can contradict nothing and proves nothing."""
    for way in scene.ways():
        drills = drills_of(way)
        blank = [one.id for one in drills if one.took is None or one.reached is None]
        if not drills:
            continue  # the practice rule asks for one
        yield finding(
            TIMED,
            Missing(because=f"no time, or not until what: {', '.join(blank)}")
            if blank
            else Stated(holds=True, because="every drill timed, from the alarm to what it reached"),
            settle_by="Time drills from the alarm; state took, and reached: air, out or "
            "handed-over.",
            keys=tuple(f"drill.{one}.took" for one in blank) or ("drill",),
            space=scene.space,
            about=way.name,
        )


def check_enough(scene: Scene) -> Iterator[Finding]:
    """Steps that often decide the time to air and were timed in fewer than three drills."""
    for way in scene.ways():
        times = timeline(way)
        clock = times.clock("air")
        if clock is None:
            continue
        stated = [one for one in clock.deciding if times.step(one).step.computed is None]
        counts = {one: len(step_times(way, one, 1.0).times_s) for one in stated}
        few = [f"{one} ({count})" for one, count in counts.items() if count < LAST]
        most = drills_needed(share=SURE, confidence=SURE)
        words = (
            f"timed in fewer than {LAST} drills: {', '.join(few)}"
            if few
            else f"every deciding step timed {LAST} times or more; the slowest of {most} would "
            "stand for nine in ten"
        )
        yield finding(
            FEW,
            Stated(holds=not few, because=words),
            settle_by="Time these steps in drills and state them under drill.step.",
            keys=("drill",),
            space=scene.space,
            about=way.name,
        )


def check_place(scene: Scene) -> Iterator[Finding]:
    """A drill in an easier place shows less than it seems to."""
    for way in scene.ways():
        for drill in drills_of(way):
            found = likeness(scene, drill)
            blank = ", ".join(found.unknown)
            outcome: Stated | Missing = Missing(because=f"of its place, not stated: {blank}")
            if found.easier:
                outcome = Stated(holds=False, because=f"easier: {', '.join(found.easier)}")
            elif not found.unknown:
                outcome = Stated(holds=True, because="no easier than this space")
            yield finding(
                EASIER,
                outcome,
                settle_by="Drill in this space, or in one with no wider opening and no less depth, "
                "entered the same way, as high up and as cluttered, in sets where the plan needs "
                "them; state held_in, or opening, depth, from_side, above_ground, obstructed and "
                "sets_worn.",
                keys=(f"drill.{drill.id}.held_in",),
                space=scene.space,
                about=f"{way.name}, {drill.id}",
            )


def check_crew(scene: Scene) -> Iterator[Finding]:
    """Some of the people who would do it have done it."""
    for way in scene.ways():
        drills = drills_of(way)
        if not drills or not way.method.crew:
            continue
        yield finding(
            CREW,
            _crew(way, drills),
            settle_by="Drill with the people named in the plan, or name those who drilled.",
            keys=(way.key("crew"), "drill"),
            space=scene.space,
            about=way.name,
        )


def _crew(way: Way, drills: tuple[Drill, ...]) -> Stated | Missing:
    drilled = {person for one in drills for person in one.people}
    if not drilled:
        return Missing(because="who took part is not stated")
    crew = {one.person for one in way.method.crew}
    fresh = sorted(way.scene.person(one).name for one in crew - drilled)
    words = f"never drilled this: {', '.join(fresh)}" if fresh else "everybody has drilled"
    return Stated(holds=not fresh, because=words)


def _half_minutes(time_s: float) -> str:
    halves = math.ceil(time_s / 30 - 1e-9)
    return f"{halves // 2}:{'30' if halves % 2 else '00'}"
