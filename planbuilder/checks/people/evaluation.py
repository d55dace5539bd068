"""The evaluation of a rescue service, question by question, and how old it is."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.people.relied_on import ARISES, relied_on
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.evaluation import Answered, Question
from planbuilder.site.people import Service
from planbuilder.site.periods import Period
from planbuilder.tables import table

APP_F = Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="A, B")
UNANSWERED = Rule(
    "plan/evaluation-unanswered",
    "Every question to the rescue service answered, with evidence, name and day",
    Weight.BLOCKS,
    APP_F,
)
SHORT = Rule(
    "plan/service-falls-short",
    "What the rescue service lacks is remedied by the start of the work",
    Weight.BLOCKS,
    APP_F,
)
OPEN = Rule(
    "plan/service-remedy-open",
    "What the rescue service has still to put right",
    Weight.WARNS,
    APP_F,
)
NOT_ASKED = Rule(
    "plan/evaluation-not-applicable",
    "Questions to the rescue service set aside only where they do not arise",
    Weight.BLOCKS,
    APP_F,
)
STALE = Rule(
    "plan/evaluation-stale",
    "Evaluation of the rescue service in date to the last day of the work",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="people, vehicles and hours of a service change"),
)


def check_answered(scene: Scene) -> Iterator[Finding]:
    """Each question is answered by somebody, on a day that is not to come, with evidence."""
    for service in relied_on(scene):
        full = {one.question for one in service.answer if _is_full(one)}
        blank = [one for one in Question if one not in full]
        later = [one.question for one in service.answer if one.on and one.on > scene.on]
        outcome: Stated | Missing = Stated(
            holds=True, because=f"{service.name}: all {len(Question)} questions answered"
        )
        if later:
            words = f"{service.name}: answered on a day to come: {', '.join(later)}"
            outcome = Stated(holds=False, because=words)
        elif blank:
            outcome = Missing(because=f"{service.name}: no full answer to {', '.join(blank)}")
        yield finding(
            UNANSWERED,
            outcome,
            settle_by=f"Put the questions to {service.name}, beginning with: "
            f"{table('service_questions')[(later or blank or list(Question))[0]]['asked']} "
            "State answer, evidence, by and on of each.",
            keys=(f"service.{service.id}.answer",),
            space=scene.space,
            about=service.name,
            duty=scene.limits.duty("service.evaluate"),
        )


def _is_full(one: Answered) -> bool:
    return None not in (one.answer, one.evidence, one.by, one.on)


def check_shortfalls(scene: Scene) -> Iterator[Finding]:
    """A "no" is put right, on a stated day, before anybody goes in."""
    starts = scene.space.task.start
    for service in relied_on(scene):
        lacks = [one for one in service.answer if one.answer == "no"]
        late = [one for one in lacks if one.remedy_by is None or one.remedy_by > starts]
        if not service.answer:
            continue  # no record: that it is blank is said already
        words = ", ".join(map(_remedy, late)) or "nothing is left as it is"
        yield finding(
            SHORT,
            Stated(holds=not late, because=f"{service.name}: {words}"),
            settle_by=f"Have it put right by {day_text(starts)} and state remedy_by, or name "
            "another service.",
            keys=(f"service.{service.id}.answer", scene.key("task.start")),
            space=scene.space,
            about=service.name,
            duty=scene.limits.duty("service.evaluate"),
        )


def check_remedies(scene: Scene) -> Iterator[Finding]:
    """A "no" that is to be put right before the work is followed up until it is a "yes"."""
    for service in relied_on(scene):
        if not service.answer:
            continue
        lacks = [one for one in service.answer if one.answer == "no"]
        words = ", ".join(map(_remedy, lacks)) or "no question is answered no"
        yield finding(
            OPEN,
            Stated(holds=not lacks, because=f"{service.name}: {words}"),
            settle_by="See that it was done, and answer the question anew: yes, with evidence.",
            keys=(f"service.{service.id}.answer",),
            space=scene.space,
            about=service.name,
            due=min((one.remedy_by for one in lacks if one.remedy_by), default=None),
        )


def _remedy(one: Answered) -> str:
    return f"{one.question}: no, " + (
        f"to be put right by {day_text(one.remedy_by)}" if one.remedy_by else "no day of remedy"
    )


def check_not_asked(scene: Scene) -> Iterator[Finding]:
    """A question is set aside only where the plan's own data say that it does not arise."""
    for service in relied_on(scene):
        aside = [one.question for one in service.answer if one.answer == "n-a"]
        if not aside:
            continue
        outcome, keys = _set_aside(scene, service, aside)
        yield finding(
            NOT_ASKED,
            outcome,
            settle_by="Answer these with yes or no; what the plan itself says of the space makes "
            "the question arise.",
            keys=(f"service.{service.id}.answer", *keys),
            space=scene.space,
            about=service.name,
            duty=scene.limits.duty("service.evaluate"),
        )


def _set_aside(
    scene: Scene, service: Service, aside: list[Question]
) -> tuple[Stated | Missing, tuple[str, ...]]:
    """Whether none of those questions arises here, and the keys that decide."""
    asked = {one: ARISES[table("service_questions")[one]["not_asked"]] for one in aside}
    arise = [one for one, (test, _) in asked.items() if test(scene)]
    unclear = [one for one, (test, _) in asked.items() if test(scene) is None]
    keys = tuple(dict.fromkeys(scene.key(asked[one][1]) for one in arise or unclear))
    if arise:
        words = f"{service.name}: these arise here: {', '.join(arise)}"
        return Stated(holds=False, because=words), keys
    if unclear:
        words = f"{service.name}: not known whether these arise: {', '.join(unclear)}"
        return Missing(because=words), keys
    return Stated(holds=True, because=f"{service.name}: {', '.join(aside)} do not arise"), keys


def check_stale(scene: Scene) -> Iterator[Finding]:
    """The oldest part of the evaluation is still good on the last day of the work."""
    limit = scene.limits.of("service.evaluation_months")
    for service in relied_on(scene):
        days = [one.on for one in service.answer if one.on]
        days += [service.evaluated_on] if service.evaluated_on else []
        outcome: Stated | Missing = Missing(because=f"{service.name}: no day of evaluation")
        good_to = None
        if days:
            good_to = Period(int(limit.quantity.value), "month", "").after(min(days))
            words = (
                f"{service.name}: evaluated {day_text(min(days))}, good to {day_text(good_to)}, "
                f"needed to {day_text(scene.last_day)}"
            )
            holds = max(days) <= scene.on and scene.last_day <= good_to
            outcome = Stated(holds=holds, because=words)
        yield finding(
            STALE,
            outcome,
            settle_by=f"Evaluate {service.name} anew: {limit.quantity.written} at the most.",
            keys=(f"service.{service.id}.evaluated_on", f"service.{service.id}.answer"),
            space=scene.space,
            about=service.name,
            duty=limit,
            due=good_to,
        )
