"""Timelines: what to allow, what it rests on, every step, and the picture."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.checks.kit.gear import found
from planbuilder.checks.scene import Way
from planbuilder.checks.timing.drilled import step_times
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.checks.timing.timeline import Clock, TimedStep, Timeline, how_sampled, spread_at
from planbuilder.findings import Finding, Mark, Verdict
from planbuilder.plan import SpacePlan
from planbuilder.response.network import Timing
from planbuilder.response.spread import path_by_hand_s
from planbuilder.site.file import UnitSystem
from planbuilder.site.method import Step
from planbuilder.sketches.bars import bars
from planbuilder.view.chart import Chart, chart
from planbuilder.view.model import ClockRow, StepRow, StepWorking, TimelineView
from planbuilder.view.numbers import half_minutes, minutes, stopwatch
from planbuilder.view.scales import Rounding
from planbuilder.view.sheets import input_rows, worst
from planbuilder.view.words import SHAPES

SHORT_NAMES = {"air": "AIR", "out": "OUT", "handed-over": "HANDED OVER", "contact": "CONTACT"}
CLOCK_NAMES = {
    "air": "Air to the casualty",
    "out": "Casualty out",
    "handed-over": "Handed over to the ambulance crew",
    "contact": "Somebody with the casualty",
}
AIR_RULES = ("response/air-too-late", "response/fallback-too-late")
PROOF = "response/times-not-drilled"
SHOWN_DRILLS = 3
OTHER_CAUSES = (0.0, 0.6)  # how much it matters what share of the spread is common


def timeline_view(space: SpacePlan, times: Timeline, system: UnitSystem) -> TimelineView:
    """A timeline as rows: earliest start and finish, slack, evidence."""
    timings = {one.id: one for one in times.timings}
    missing = ", ".join(times.missing)
    return TimelineView(
        title=f"Timeline of the {times.way.name} method, {times.way.method.method}",
        steps=tuple(_step_row(times, one, timings.get(one.step.id)) for one in times.steps),
        clocks=tuple(clock_row(space, times, one) for one in times.clocks),
        charts=_charts(times),
        evidence=evidence(times),
        sampled=_sampled(times),
        workings=tuple(
            StepWorking(
                title=one.step.what,
                symbol="t_90" if one.step.computed == "detection" else one.usual.symbol,
                formula=one.working.formula,
                result=minutes(one.working.value),
                inputs=input_rows(one.working.inputs, system, times.way.scene.key("")),
            )
            for one in times.steps
            if one.working is not None
        ),
        missing=f"No clock can be given; no time for: {missing}" if missing else "",
    )


def _charts(times: Timeline) -> tuple[Chart, ...]:
    picture = bars(times, air_limit(times.way.scene).value)
    if picture is None:
        return ()
    clocks = "; ".join(
        f"{CLOCK_NAMES[one.name]}: allow {half_minutes(one.slow_s)}" for one in times.clocks
    )
    limit = stopwatch(picture.limit_s, Rounding.DOWN)
    bars_said = "; ".join(
        f"{one.name} {stopwatch(one.start_s, Rounding.NEAREST)} to {stopwatch(one.usual_end_s)}"
        + (", often decides" if one.decides else "")
        for one in picture.bars
    )
    said = f"Timeline of the {times.way.name} method. {clocks}. Limit {limit}. Steps: {bars_said}."
    return (chart(picture, SHORT_NAMES, said),)


def evidence(times: Timeline) -> str:
    """How many of the steps were timed in drills, and how many are guessed."""
    stated = [one.step for one in times.steps if one.step.computed is None]
    drilled = sum(one.source == "drill" and one.drilled_on is not None for one in stated)
    computed = len(times.steps) - len(stated)
    words = f"{drilled} of {len(stated)} steps timed in drills"
    guessed = len(stated) - drilled
    words += f", {guessed} estimated or taken from print" if guessed else ""
    return f"{words}; {computed} computed." if computed else f"{words}."


def _sampled(times: Timeline) -> str:
    clock = times.clock("air")
    if clock is None:
        return ""
    others = [spread_at(times, rho)["air"].percentiles[90].value_s for rho in OTHER_CAUSES]
    low, high = (half_minutes(one) for one in others)
    return (
        f"{how_sampled(times.way.scene)}. 90th percentile of the time to air "
        f"{clock.slow_s:.0f} s, between {clock.planned.from_s:.0f} and {clock.planned.to_s:.0f} s "
        f"19 times in 20. With no common cause allow {low}, with 0.6 allow {high}."
    )


def _uses(times: Timeline, step: Step) -> str:
    names = ", ".join(found(times.way.scene, one).item.name for one in step.uses)
    return f" [uses {names}]" if names else ""


def doers(way: Way, step: Step) -> str:
    """Who does a step, by name, or in the words of the plan."""
    people = ", ".join(way.scene.person(one).name for one in step.by)
    return people or step.who or "not stated"


def _step_row(times: Timeline, timed: TimedStep, timing: Timing | None) -> StepRow:
    step = timed.step
    busy = times.waits.get(step.id, ())
    after = ", ".join(step.after) or "the hazard acting"
    return StepRow(
        id=step.id,
        what=f"{step.what}{_uses(times, step)}",
        who=doers(times.way, step),
        after=f"{after}; same people as {', '.join(busy)}" if busy else after,
        usual=stopwatch(timed.usual.value),
        slow=stopwatch(timed.slow.value),
        start=stopwatch(timing.earliest_start_s, Rounding.NEAREST) if timing else "-",
        finish=stopwatch(timing.earliest_finish_s, Rounding.NEAREST) if timing else "-",
        slack=_slack(times.floats.get(step.id)),
        decides=_decides(times, step.id),
        evidence=_evidence(times.way, timed),
    )


def _slack(timing: Timing | None) -> str:
    if timing is None:
        return "-"
    if timing.critical:
        return "none"
    total, free = (
        stopwatch(one, Rounding.DOWN) for one in (timing.total_float_s, timing.free_float_s)
    )
    return total if total == free else f"{total}, free {free}"


def _decides(times: Timeline, step_id: str) -> str:
    """How often the step decides the first clock that it matters to."""
    for clock in times.clocks:
        share = clock.spreading.criticality.get(step_id)
        if share is not None:
            return f"{share:.0%}, {clock.name}".replace("-", " ")
    return "never"


def _evidence(way: Way, timed: TimedStep) -> str:
    step = timed.step
    if step.computed:
        return f"computed, {step.computed}"
    if timed.usual.source.mark is Mark.DERIVED:  # what drills put in place of the stated time
        return timed.usual.source.note
    if step.drilled_on and step.source == "drill":
        took = ", ".join(step_times(way, step.id, timed.usual.value).written[-SHOWN_DRILLS:])
        return f"drill {day_text(step.drilled_on)}{f'; took {took}' if took else ''}"
    words = {
        "drill": "drill, no date",
        "published": "published",
        "estimate": "estimate",
        "tool": f"estimate of this tool, not measured, grade {step.grade}",
    }
    guess = ", spread by default" if timed.slow.source.key == "task-spread" else ""
    return words[step.source] + guess


def clock_row(space: SpacePlan, times: Timeline, clock: Clock) -> ClockRow:
    """One clock: what to allow nine times in ten, then what an ordinary day takes."""
    by_hand = [times.step(one).spread for one in clock.path]
    mean_s, slow_s = path_by_hand_s(by_hand)
    names = [one.step.what for one in times.where_minutes_are(clock)]
    return ClockRow(
        name=CLOCK_NAMES[clock.name],
        slow=half_minutes(clock.slow_s),
        ordinary=half_minutes(clock.usual_s),
        limit=_limit(times) if clock.name == "air" else "no limit set",
        owner=_owner(times) if clock.name == "air" else "",
        judged=_judged(space, times) if clock.name == "air" else "",
        path=" > ".join(clock.path),
        by_hand=f"usual times along the path {stopwatch(clock.plain_s)}; means "
        f"{stopwatch(mean_s)}, nine in ten by the sum of normals {stopwatch(slow_s)}",
        buy="; ".join(names),
    )


def _limit(times: Timeline) -> str:
    limit = air_limit(times.way.scene)
    return f"{minutes(limit.value, Rounding.DOWN)}, {limit.label}"


def _owner(times: Timeline) -> str:
    rescue = times.way.scene.space.rescue
    if rescue.limit_accepted_by and rescue.limit_accepted_on:
        return f"chosen by {rescue.limit_accepted_by} on {day_text(rescue.limit_accepted_on)}"
    return "chosen by nobody yet"


def _judged(space: SpacePlan, times: Timeline) -> str:
    """The verdict on the time to air; met without proof is met on paper only."""
    found = next(
        (one for rule in AIR_RULES if (one := worst(space.findings, rule, times.way.name))), None
    )
    if found is None:
        return ""
    words = f"{SHAPES[found.verdict]} {found.verdict}"
    if found.verdict in (Verdict.FAILS, Verdict.UNKNOWN):
        return words
    return words if _is_proven(space.findings, times.way.name) else f"{words} on paper, not proven"


def _is_proven(findings: tuple[Finding, ...], way_name: str) -> bool:
    proof = worst(findings, PROOF, way_name)
    return proof is not None and proof.verdict is Verdict.MEETS
