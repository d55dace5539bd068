"""What the plan itself says it needs: so many helpers, and each refreshed in time."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.people.places import is_crewed
from planbuilder.checks.scene import Scene, Way, Working, counted, finding, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.method import CrewRole
from planbuilder.site.people import CertificateKind, Person
from planbuilder.site.periods import Period

HELPERS = Rule(
    "plan/helpers-not-stated",
    "The number of helpers that the plan says it needs",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a number that is stated is held against the names"),
)
REFRESHED = Rule(
    "plan/refresher-overdue",
    "Refresher course of each rescuer",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="where a rule set gives an interval"),
)
_TRAINING = (CertificateKind.RESCUER, CertificateKind.REFRESHER)


def check_helpers(scene: Scene) -> Iterator[Finding]:
    """The plan says how many people its rescue needs outside, and so many are named."""
    duty = scene.limits.duty("people.helper_number")
    for way in scene.ways():
        stated = way.method.people_needed
        if not is_crewed(way) or (stated is None and duty is None):
            continue
        outcome: Compared | Missing = Missing(because="how many helpers it needs is not stated")
        if stated is not None:
            outcome = _named(way, stated)
        yield finding(
            HELPERS,
            outcome,
            settle_by="State people_needed: attendant, leader and everybody with a part; and name "
            "that many who do not go in.",
            keys=(way.key("people_needed"), way.key("crew")),
            space=scene.space,
            about=way.name,
            duty=duty,
        )


def _named(way: Way, stated: int) -> Compared:
    space = way.scene.space
    names = {*space.attendant, *(one.person for one in way.method.crew)} - set(space.entrants)
    here = counted("n_named", "attendants and crew, each once", len(names), way.key("crew"))
    return Working(len(names), "n_named", (here,)).against(
        Relation.AT_LEAST,
        counted("n_needed", "helpers needed, as stated", stated, way.key("people_needed")),
        result=output("n", "helpers named", Unit.COUNT),
    )


def check_refreshed(scene: Scene) -> Iterator[Finding]:
    """Where a rule set gives an interval, no rescuer's training is older, to the last day."""
    limit = scene.limits.limit("training.refresher_months")
    crew = [
        one.person
        for way in scene.ways()
        if is_crewed(way)
        for one in way.method.crew
        if one.role is not CrewRole.CALLER
    ]
    if limit is None or not crew:
        return
    people = [scene.person(one) for one in dict.fromkeys(crew)]
    months = int(limit.quantity.value)
    last = {one.name: _last_training(scene, one) for one in people}
    due = {name: Period(months, "month", "").after(on) for name, on in last.items() if on}
    late = [f"{name} (due {day_text(day)})" for name, day in due.items() if day < scene.last_day]
    none = [name for name, on in last.items() if on is None]
    words = f"every {months} months; {len(people)} people refreshed in time"
    outcome: Stated | Missing = Stated(holds=True, because=words)
    if late:
        outcome = Stated(holds=False, because=f"every {months} months; late: {', '.join(late)}")
    elif none:
        outcome = Missing(because=f"no training or refresher on record: {', '.join(none)}")
    yield finding(
        REFRESHED,
        outcome,
        settle_by="Hold the refresher course and state it as a certificate of kind refresher; or "
        "name somebody else.",
        keys=tuple(f"person.{one.id}.certificate" for one in people),
        space=scene.space,
        duty=limit,
        due=min(due.values(), default=None),
    )


def _last_training(scene: Scene, person: Person) -> date | None:
    """The last day on record on which *person* was trained, or trained again, as a rescuer."""
    held = [one.issued for one in person.certificate if one.kind in _TRAINING]
    return max((one for one in held if one <= scene.on), default=None)
