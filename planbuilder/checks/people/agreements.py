"""What was agreed with a rescue service, what it was told, and whether it knows the space as is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.people.relied_on import relied_on
from planbuilder.checks.scene import Scene, finding, listed
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.people import Service

SERVICE = Rule(
    "plan/service-not-evaluated",
    "Outside rescue service asked, evaluated and shown the space",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(1)(i)-(v)"),
)
WRITTEN = Rule(
    "plan/service-agreement-not-written",
    "Written agreement with the rescue service",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="who was only asked may decline on the day"),
)
CHANGED = Rule(
    "plan/space-changed-since-visit",
    "The rescue service has seen the space as it is now",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a plan made at a visit holds for the space of that visit"),
)
# What is wanted on record: the words, the keys of its days, the duty that asks for it.
_RECORDS = (
    ("asked and evaluated", ("agreed_on", "evaluated_on"), "service.evaluate"),
    ("told of the hazards", ("told_hazards_on",), "service.told_hazards"),
    ("shown the space", ("shown_spaces_on",), "service.access"),
)


def check_service(scene: Scene) -> Iterator[Finding]:
    """A service that the plan leans on has agreed, was evaluated, told and shown the space."""
    for service in relied_on(scene):
        for what, names, duty in _RECORDS:
            days = {name: getattr(service, name) for name in names}
            yield finding(
                SERVICE,
                _recorded(service, what, days, scene.on),
                settle_by="Ask the service, evaluate it for this space, tell it of the hazards, "
                "show it the space, and state the dates.",
                keys=tuple(f"service.{service.id}.{one}" for one in names),
                space=scene.space,
                about=f"{service.name}, {what}",
                duty=scene.limits.duty(duty),
            )


def _recorded(
    service: Service, what: str, days: dict[str, date | None], today: date
) -> Stated | Missing:
    blank = [name for name, day in days.items() if day is None]
    later = [name for name, day in days.items() if day is not None and day > today]
    if later:
        return Stated(holds=False, because=f"{service.name}: {listed(later)} is still to come")
    if blank:
        return Missing(because=f"{service.name}: no record of {listed(blank)}")
    last = max(day for day in days.values() if day is not None)
    return Stated(holds=True, because=f"{service.name}: {what}, {day_text(last)}")


def check_written(scene: Scene) -> Iterator[Finding]:
    """Where a rule set speaks of a written agreement, there is one."""
    duty = scene.limits.duty("service.written_agreement")
    if duty is None:
        return
    for service in relied_on(scene):
        outcome: Stated | Missing = Missing(because=f"{service.name}: not stated")
        if service.agreed_in_writing is not None:
            word = "in writing" if service.agreed_in_writing else "not in writing"
            outcome = Stated(
                holds=service.agreed_in_writing, because=f"{service.name}: agreed {word}"
            )
        yield finding(
            WRITTEN,
            outcome,
            settle_by=f"Have {service.name} sign what it will do here; state agreed_in_writing.",
            keys=(f"service.{service.id}.agreed_in_writing",),
            space=scene.space,
            about=service.name,
            duty=duty,
        )


def check_changed(scene: Scene) -> Iterator[Finding]:
    """Nothing of the space was changed after the service was there."""
    changed = scene.space.changed_on
    for service in relied_on(scene):
        seen = service.shown_spaces_on
        if changed is None or seen is None:
            continue  # that it was never shown is said already
        words = f"{service.name}: shown {day_text(seen)}, space changed {day_text(changed)}"
        yield finding(
            CHANGED,
            Stated(holds=changed <= seen, because=words),
            settle_by=f"Show {service.name} what was changed, and state the new shown_spaces_on.",
            keys=(f"service.{service.id}.shown_spaces_on", scene.key("changed_on")),
            space=scene.space,
            about=service.name,
        )
