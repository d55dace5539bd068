"""Rescue services: what they can do, whether they say when they cannot, how soon they act."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Way, Working, finding, output
from planbuilder.checks.timing.hazards import fastest
from planbuilder.checks.timing.moments import ordinary
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
from planbuilder.response.classes import PlanningClass
from planbuilder.response.public import QUICKEST_PUBLIC_RESCUE_S
from planbuilder.site.method import CrewRole, MethodKind, Posture
from planbuilder.site.people import Capability, Service, ServiceKind

STUDY = Source(
    mark=Mark.READ, document="Public response study", note="officers' estimates, 48 to 173 min"
)
NUMBER_ONLY = Rule(
    "response/public-number-only",
    "More than the public emergency number where harm is quick",
    Weight.BLOCKS,
    STUDY,
)
QUICK = Rule(
    "response/public-rescue-too-quick",
    "Time planned for a rescue by the public service",
    Weight.BLOCKS,
    STUDY,
)
CAPABLE = Rule(
    "response/service-not-capable",
    "Service confirmed as equipped and in practice for this rescue",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(1)(ii)-(iii)"),
)
AWAY = Rule(
    "response/unavailability-not-reported",
    "The service says when it cannot come",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="cover that is lost without a word is counted on"),
)
TARGET = Rule(
    "response/target-is-no-record",
    "Times of a service from its records, not its targets",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a target says what is aimed at, for the drive alone"),
)
_HANDS_ON = frozenset((CrewRole.HAUL, CrewRole.ENTRY, CrewRole.BACK_UP))


def _services(scene: Scene) -> Iterator[tuple[Way, Service]]:
    for way in scene.ways():
        if way.method.service is not None:
            yield way, scene.service(way.method.service)


def _alone(way: Way, service: Service) -> bool:
    """True where nobody but the public service puts a hand to the rescue."""
    own = any(one.role in _HANDS_ON for one in way.method.crew)
    return service.kind is ServiceKind.PUBLIC and not own


def check_public_number_only(scene: Scene) -> Iterator[Finding]:
    """Where harm takes seconds or minutes, calling the public service is not the whole rescue."""
    way, worst = next(scene.ways()), fastest(scene)
    if worst.planning_class > PlanningClass.SUSPENSION or way.method.service is None:
        return
    service = scene.service(way.method.service)
    if service.kind is not ServiceKind.PUBLIC:
        return
    waits_here = way.method.posture is Posture.STANDBY
    hazard = worst.hazard.kind.replace("-", " ")
    alone = "alone" if _alone(way, service) else "with a crew of your own"
    words = f"{hazard}; {service.name} {alone}, {way.method.posture.replace('-', ' ')}"
    yield finding(
        NUMBER_ONLY,
        Stated(holds=waits_here or not _alone(way, service), because=words),
        settle_by="Name who starts the rescue at once: your own crew, or a service that stands by "
        "here. Arrival of an engine is not rescue; published estimates are 48 to 173 minutes.",
        keys=(way.key("service"), way.key("crew"), way.key("posture")),
        space=scene.space,
    )


def check_public_too_quick(scene: Scene) -> Iterator[Finding]:
    """A rescue by entry that the public service does alone takes its published time."""
    least = Quantity(
        symbol="T_least",
        label="quickest published estimate",
        value=QUICKEST_PUBLIC_RESCUE_S,
        unit=Unit.S,
        source=STUDY,
    )
    for way, service in _services(scene):
        if way.method.method is not MethodKind.ENTRY or not _alone(way, service):
            continue
        out = ordinary(way, "out")
        outcome: Compared | Missing = Missing(because='no step reaches = "out", or one has no time')
        if out is not None:
            outcome = Working(out.value, out.symbol, (out,)).against(
                Relation.AT_LEAST, least, result=output("T_out", "casualty out", Unit.S)
            )
        yield finding(
            QUICK,
            outcome,
            settle_by="Plan with the published time, 48 minutes at the least, unless drills with "
            "this service here have shown less and your own crew has a part in them.",
            keys=(way.key("step"), f"service.{service.id}.kind"),
            space=scene.space,
            about=way.name,
        )


def check_capability(scene: Scene) -> Iterator[Finding]:
    """A service has confirmed in writing that it can do this kind of rescue."""
    kind = Capability.CONFINED_SPACE if scene.space.is_confined else Capability.HEIGHT
    what = kind.replace("-", " ")
    for way, service in _services(scene):
        outcome: Stated | Missing = Missing(
            because=f"{service.name}: no written confirmation for {what} rescue"
        )
        if service.capable_of and kind not in service.capable_of:
            named = ", ".join(one.replace("-", " ") for one in service.capable_of)
            words = f"{service.name}: confirmed for {named}, not for {what}"
            outcome = Stated(holds=False, because=words)
        elif service.capable_of and service.confirmed_on:
            words = f"{service.name}: {what} rescue confirmed {day_text(service.confirmed_on)}"
            outcome = Stated(holds=service.confirmed_on <= scene.on, because=words)
        yield finding(
            CAPABLE,
            outcome,
            settle_by=f"Have {service.name} confirm in writing skill, equipment and practice for "
            f"{what} rescue; state capable_of and confirmed_on. An ambulance service does not "
            "normally go in: name who will.",
            keys=(f"service.{service.id}.capable_of", f"service.{service.id}.confirmed_on"),
            space=scene.space,
            about=way.name,
        )


def check_unavailability(scene: Scene) -> Iterator[Finding]:
    """The service reports when it cannot come, and is called before each shift."""
    for way, service in _services(scene):
        facts = {
            "reports_unavailability": service.reports_unavailability,
            "called_each_shift": service.called_each_shift,
        }
        blank = [name.replace("_", " ") for name, value in facts.items() if value is None]
        refused = [name.replace("_", " ") for name, value in facts.items() if value is False]
        outcome: Stated | Missing = Stated(
            holds=True, because=f"{service.name}: reports when away, called before each shift"
        )
        if refused:
            words = f"{service.name}: not agreed: {', '.join(refused)}"
            outcome = Stated(holds=False, because=words)
        elif blank:
            outcome = Missing(because=f"{service.name}: not stated: {', '.join(blank)}")
        yield finding(
            AWAY,
            outcome,
            settle_by="Agree that the service says at once when it cannot come, and call it at "
            "the start of each shift. While it cannot come, nobody is inside.",
            keys=tuple(f"service.{service.id}.{name}" for name in facts),
            space=scene.space,
            about=way.name,
            duty=scene.limits.duty("service.unavailability_notice"),
        )


def check_targets(scene: Scene) -> Iterator[Finding]:
    """A published time of a service is one it has kept, not one it aims at."""
    for way in scene.ways():
        for step in way.method.step:
            if step.source != "published" and step.quoted_as is None:
                continue
            outcome: Stated | Missing = Missing(
                because=f"{step.id}: record or target of the service, not stated"
            )
            if step.quoted_as is not None:
                words = f"{step.id}: from the {step.quoted_as}s of the service"
                outcome = Stated(holds=step.quoted_as == "record", because=words)
            yield finding(
                TARGET,
                outcome,
                settle_by="Ask the service for its records of calls to this place, on slow days "
                'too, and state quoted_as = "record".',
                keys=(way.key(f"step.{step.id}.quoted_as"),),
                space=scene.space,
                about=f"{way.name}, {step.id}",
            )
