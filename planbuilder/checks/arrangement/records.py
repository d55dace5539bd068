"""Dates: is the plan current, are certificates and inspections, on the last day of work."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Rule,
    Source,
    Stated,
    Verdict,
    Weight,
)
from planbuilder.site.method import CrewRole
from planbuilder.site.people import Certificate, Person
from planbuilder.site.supports import Inspected

WITHOUT_RECORD = (CrewRole.CALLER,)  # parts for which no certificate is asked
GENERAL = "29 CFR 1910.146"
CURRENT = Rule(
    "plan/out-of-date",
    "Plan valid on every day of the work",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(14)"),
)
CERTIFICATE = Rule(
    "plan/certificate-expired",
    "Certificates valid on the last day of work",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(g), (k)(2)(i)-(iii)"),
)
INSPECTION = Rule(
    "plan/inspection-overdue",
    "Inspections valid on the last day of work",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(18)"),
)
EQUIPMENT = Rule(
    "plan/equipment-overdue",
    "Inspections of harnesses, monitors and other equipment",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(18)"),
)


def check_current(scene: Scene) -> Iterator[Finding]:
    """The plan is issued before the work starts and valid until it ends; the day is not past."""
    facts, task = scene.site.plan, scene.space.task
    holds = facts.issued <= task.start and scene.last_day <= facts.valid_until
    words = (
        f"valid {day_text(facts.issued)} to {day_text(facts.valid_until)}; work "
        f"{day_text(task.start)} to {day_text(scene.work_ends)}; checked for {day_text(scene.on)}"
    )
    yield finding(
        CURRENT,
        Stated(holds=holds, because=words),
        settle_by="Review the plan, issue a new revision and set valid_until beyond the work.",
        keys=("plan.issued", "plan.valid_until", scene.key("task.start")),
        space=scene.space,
        due=facts.valid_until,
    )


def check_certificates(scene: Scene) -> Iterator[Finding]:
    """Every certificate of everybody who is counted on runs beyond the last day of work."""
    crew = [one for way in scene.ways() for one in way.method.crew]
    asked = [
        *scene.space.attendant,
        *([scene.space.relief_attendant] if scene.space.relief_attendant else []),
        *scene.space.entrants,
        *(one.person for one in crew if one.role not in WITHOUT_RECORD),
    ]
    for person_id in dict.fromkeys([*asked, *(one.person for one in crew)]):
        person = scene.person(person_id)
        if not person.certificate and person_id not in asked:
            continue  # nothing is asked of a caller, and there is nothing that could run out
        yield finding(
            CERTIFICATE,
            _certificates(person, scene),
            settle_by=f"Renew the certificate, or name somebody else instead of {person.name}.",
            keys=(f"person.{person.id}.certificate",),
            space=scene.space,
            about=person.name,
            due=min((one.expires for one in person.certificate), default=None),
        )


def is_current(one: Certificate, scene: Scene) -> bool:
    """Whether a certificate is on record today and runs to the last day of work."""
    return one.issued <= scene.on and scene.last_day <= one.expires


def _certificates(person: Person, scene: Scene) -> Stated | Missing:
    if not person.certificate:
        return Missing(because=f"{person.name}: no certificate on record")
    wrong = [one for one in person.certificate if not is_current(one, scene)]
    if wrong:
        listed = ", ".join(f"{one.kind} to {day_text(one.expires)}" for one in wrong)
        return Stated(holds=False, because=f"{person.name}: {listed}")
    first = min(person.certificate, key=lambda one: one.expires)
    words = f"{person.name}: first to expire is {first.kind}, {day_text(first.expires)}"
    return Stated(holds=True, because=words)


def check_inspections(scene: Scene) -> Iterator[Finding]:
    """Everything that this space's rescue hangs on was inspected within its interval."""
    for table, item_id, item in _items(scene):
        yield finding(
            INSPECTION,
            _inspection(item, scene),
            settle_by=f"Have {item.name} inspected, or use another one, and state date and "
            "interval.",
            keys=(f"{table}.{item_id}.inspected", f"{table}.{item_id}.inspection_interval"),
            space=scene.space,
            about=item.name,
            due=_due_day(item),
        )


def _items(scene: Scene) -> Iterator[tuple[str, str, Inspected]]:
    supports: dict[str, None] = {}
    devices: dict[str, None] = {}
    sets: dict[str, None] = {}
    for way in scene.ways():
        if way.method.breathing_set:
            sets[way.method.breathing_set] = None
        supports.update(dict.fromkeys(one.id for one in scene.supports_of(way)))
        devices.update(dict.fromkeys(one.id for one in scene.devices_of(way)))
    if scene.space.fall and scene.space.fall.device:
        devices[scene.space.fall.device] = None
    if scene.space.fall and scene.space.fall.lifeline:
        supports[scene.space.fall.lifeline] = None
    yield from (("support", one, scene.support(one)) for one in supports)
    yield from (("device", one, scene.device(one)) for one in devices)
    yield from (("equipment", one, scene.equipment(one)) for one in sets)


def _inspection(item: Inspected, scene: Scene) -> Stated | Missing:
    due = _due_day(item)
    if item.inspected is None or due is None:
        return Missing(because=f"{item.name}: inspection date or interval not given")
    words = (
        f"{item.name}: inspected {day_text(item.inspected)}, good to {day_text(due)}, "
        f"needed to {day_text(scene.last_day)}"
    )
    return Stated(holds=item.inspected <= scene.on and scene.last_day <= due, because=words)


def check_equipment(scene: Scene) -> Iterator[Finding]:
    """Everything in the equipment list was inspected within its interval."""
    items = scene.site.equipment
    answers = [(one, _inspection(one, scene)) for one in items]
    late = [one for one, answer in answers if answer.verdict is Verdict.FAILS]
    blank = [one for one, answer in answers if answer.verdict is Verdict.UNKNOWN]
    outcome: Stated | Missing = Missing(because="no equipment is listed")
    if late:
        words = ", ".join(f"{one.name} ({_due(one)})" for one in late)
        ends = f"on {day_text(scene.last_day)}, the last day of work"
        outcome = Stated(holds=False, because=f"out of date {ends}: {words}")
    elif blank:
        names = ", ".join(one.name for one in blank)
        outcome = Missing(because=f"inspection date or interval not given: {names}")
    elif items:
        first = min(items, key=lambda one: _due_day(one) or scene.last_day)
        words = f"{len(items)} items in date; first due is {first.name}, {_due(first)}"
        outcome = Stated(holds=True, because=words)
    keys = tuple(f"equipment.{one.id}.inspected" for one in (late or blank or items))
    yield finding(
        EQUIPMENT,
        outcome,
        settle_by="Have them inspected so that they are in date to the last day of work, or take "
        "others."
        if late
        else "List harnesses, monitors, radios, sets and aid kits, each with the date of its "
        "inspection and the interval.",
        keys=keys or ("equipment",),
        space=scene.space,
        due=min(filter(None, map(_due_day, items)), default=None),
    )


def _due_day(item: Inspected) -> date | None:
    if item.inspected is None or item.inspection_interval is None:
        return None
    return item.inspection_interval.after(item.inspected)


def _due(item: Inspected) -> str:
    day = _due_day(item)
    return f"due {day_text(day)}" if day else "no date"
