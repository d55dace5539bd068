"""Calculation sheets and timelines: everything an auditor needs to follow with a pencil."""

from __future__ import annotations

from dataclasses import replace

from planbuilder.checks.hazards import air_limit
from planbuilder.checks.timeline import Clock, TimedStep, Timeline
from planbuilder.findings import Compared, Finding, Mark, Quantity, Verdict
from planbuilder.plan import SpacePlan
from planbuilder.response.network import Timing
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import (
    Answer,
    Area,
    Calculation,
    ClockRow,
    InputRow,
    StepRow,
    StepWorking,
    TimelineView,
)
from planbuilder.view.numbers import Rounding, half_minutes, minutes, pair, stopwatch
from planbuilder.view.words import (
    RELATIONS,
    SHAPES,
    is_default,
    outcome_text,
    quantity_text,
    source_text,
    weight_word,
)

AREAS = {
    "haul": "Haul capacity",
    "response": "Response time",
    "clearance": "Clearance",
    "plan": "Arrangement and records",
}
CLOCK_NAMES = {
    "air": "Air to the casualty",
    "out": "Casualty out",
    "handed-over": "Handed over to the ambulance crew",
}


def answer(one: Finding, number: str, system: UnitSystem) -> Answer:
    """The words of one finding."""
    return Answer(
        id=number,
        shape=SHAPES[one.verdict],
        verdict=one.verdict.value,
        weight=weight_word(one),
        title=one.rule.title,
        rule=one.rule.id,
        about=", ".join(part for part in (one.space, one.about) if part) or "whole site",
        found=outcome_text(one, system),
        settle=one.settle_by,
        keys=", ".join(one.keys),
        source=source_text(one.rule.source),
        accepted=one.accepted,
    )


def areas(space: SpacePlan, system: UnitSystem) -> tuple[Area, ...]:
    """The findings of one space, by area, in printing order."""
    rows = []
    for area, title in AREAS.items():
        worked: list[Calculation] = []
        said: list[Answer] = []
        for number, one in enumerate(space.findings, 1):
            if one.rule.area != area:
                continue
            words = answer(one, f"{space.scene.space.id}-{number}", system)
            if isinstance(one.outcome, Compared) and not one.outcome.formula.isidentifier():
                worked.append(_calculation(one.outcome, words, system, space.scene.key("")))
            else:  # nothing to calculate: a fact, or a plain value against a limit
                said.append(replace(words, source=_with_limit(one, words.source)))
        rows.append(Area(title, tuple(worked), tuple(said)))
    return tuple(rows)


def _with_limit(one: Finding, source: str) -> str:
    """The source of the rule, and of the limit where that is another one."""
    if not isinstance(one.outcome, Compared):
        return source
    limit = source_text(one.outcome.limit.source)
    return source if limit in source else f"{source}; limit: {limit}"


def _calculation(compared: Compared, words: Answer, system: UnitSystem, here: str) -> Calculation:
    figures = pair(compared, system)
    return Calculation(
        answer=words,
        result_symbol=compared.result.symbol,
        result_label=compared.result.label,
        result=figures.result,
        formula=compared.formula,
        relation=RELATIONS[compared.relation],
        limit=figures.limit,
        limit_label=compared.limit.label,
        limit_source=source_text(compared.limit.source).replace(here, ""),
        inputs=_inputs(compared.inputs, system, here),
    )


def _inputs(inputs: tuple[Quantity, ...], system: UnitSystem, here: str) -> tuple[InputRow, ...]:
    """The numbers put in; keys of the space whose page this is go without its name (*here*)."""
    return tuple(
        InputRow(
            symbol=each.symbol,
            label=each.label,
            value=quantity_text(each, system),
            source=source_text(each.source).replace(here, ""),
            default=is_default(each),
        )
        for each in inputs
    )


def timeline_view(times: Timeline, system: UnitSystem) -> TimelineView:
    """A timeline as rows: earliest start and finish, slack, evidence."""
    timings = {one.id: one for one in times.timings}
    rows = tuple(_step_row(one, timings.get(one.step.id)) for one in times.steps)
    missing = ", ".join(times.missing)
    return TimelineView(
        title=f"Timeline of the {times.way.name} method, {times.way.method.method}",
        steps=rows,
        clocks=tuple(clock_row(times, one) for one in times.clocks),
        workings=tuple(
            StepWorking(
                title=one.step.what,
                symbol=one.usual.symbol if one.step.computed == "haul" else "t_90",
                formula=one.working.formula,
                result=minutes(one.working.value),
                inputs=_inputs(one.working.inputs, system, times.way.scene.key("")),
            )
            for one in times.steps
            if one.working is not None
        ),
        missing=f"No clock can be given; no time for: {missing}" if missing else "",
    )


def _step_row(timed: TimedStep, timing: Timing | None) -> StepRow:
    step = timed.step
    return StepRow(
        id=step.id,
        what=step.what,
        who=step.who or "not stated",
        after=", ".join(step.after) or "the hazard acting",
        usual=stopwatch(timed.usual.value),
        slow=stopwatch(timed.slow.value),
        start=stopwatch(timing.earliest_start_s, Rounding.NEAREST) if timing else "-",
        finish=stopwatch(timing.earliest_finish_s, Rounding.NEAREST) if timing else "-",
        slack=_slack(timing),
        evidence=_evidence(timed),
    )


def _slack(timing: Timing | None) -> str:
    if timing is None:
        return "-"
    return "none" if timing.critical else stopwatch(timing.total_float_s, Rounding.DOWN)


def _evidence(timed: TimedStep) -> str:
    if timed.step.computed:
        return f"computed, {timed.step.computed}"
    if timed.step.drilled_on and timed.step.source == "drill":
        return f"drill {timed.step.drilled_on.isoformat()}"
    words = {"drill": "drill, no date", "published": "published", "estimate": "estimate"}
    guess = ", spread by default" if timed.slow.source.mark is not Mark.SITE else ""
    return words[timed.step.source] + guess


def clock_row(times: Timeline, clock: Clock) -> ClockRow:
    """One clock, slow day first: what to allow, then what an ordinary day takes."""
    limit = air_limit(times.way.scene) if clock.name == "air" else None
    return ClockRow(
        name=CLOCK_NAMES[clock.name],
        slow=half_minutes(clock.slow_s),
        ordinary=half_minutes(clock.usual_s),
        limit=f"{minutes(limit.value, Rounding.DOWN)}, {limit.label}" if limit else "no limit set",
        path=" > ".join(clock.path),
    )


def worst(findings: tuple[Finding, ...], rule_id: str, about: str) -> Finding | None:
    """The worst finding of one rule for one method, if it was asked."""
    found = [one for one in findings if one.rule.id == rule_id and one.about.startswith(about)]
    order = tuple(Verdict)
    return min(found, key=lambda one: order.index(one.verdict), default=None)
