"""Somebody hangs in a harness: who is with them, how soon, and where they are laid down."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding, output
from planbuilder.checks.timing.moments import in_time
from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.suspension import CONTACT_LIMIT_S
from planbuilder.site.hazard import HazardKind, Suspended
from planbuilder.site.method import MethodKind

CONTACT = Rule(
    "response/contact-too-late",
    "Somebody with the suspended casualty",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="ANSI/ASSP Z359.2", note="clause not seen"),
)
OWN_MOVEMENT = Rule(
    "response/suspended-needs-own-movement",
    "Rescue of a suspended casualty who cannot help",
    Weight.WARNS,
    Source(mark=Mark.READ, document="NIOSH harness studies"),
)


def _hangs(scene: Scene) -> bool:
    return any(one.kind is HazardKind.SUSPENSION for one in scene.space.hazard)


def check_contact(scene: Scene) -> Iterator[Finding]:
    """Somebody reaches the suspended casualty within six minutes of the fall."""
    if not _hangs(scene):
        return
    limit = Quantity(
        symbol="L_contact",
        label="limit for contact",
        value=CONTACT_LIMIT_S,
        unit=Unit.S,
        source=CONTACT.source,
    )
    for way in scene.ways():
        yield finding(
            CONTACT,
            _contact(way, limit),
            settle_by="Mark the step after which somebody is with the casualty with reaches = "
            '"contact" and time it in a drill; get there sooner.',
            keys=(way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def _contact(way: Way, limit: Quantity) -> Compared | Missing:
    """When somebody is there, marginal where only an ordinary day is quick enough."""
    clock = timeline(way).clock("contact")
    if clock is None:
        return Missing(because='no step is marked reaches = "contact", or a time is missing')
    label = "somebody with the casualty, 9 times in 10"
    return in_time(way, clock, limit, output("T_contact", label, Unit.S))


def check_own_movement(scene: Scene) -> Iterator[Finding]:
    """A casualty who hangs motionless is got down by others, and laid flat at a named place."""
    if not _hangs(scene):
        return
    way, place = next(scene.ways()), scene.space.rescue.lay_flat_at
    hanging = [one for one in scene.space.hazard if one.kind is HazardKind.SUSPENSION]
    outcome: Stated | Missing = Missing(because="no place to lay the casualty flat is named")
    if way.method.method in (MethodKind.SELF, MethodKind.ASSISTED_SELF):
        words = f"the primary method, {way.method.method}, needs the casualty to move"
        outcome = Stated(holds=False, because=words.replace("-", " "))
    elif any(one.suspended is Suspended.MOVING_LEGS for one in hanging):
        outcome = Stated(holds=False, because="the limit counts on the casualty to move the legs")
    elif place is not None:
        outcome = Stated(holds=True, because=f"laid flat at: {place}")
    yield finding(
        OWN_MOVEMENT,
        outcome,
        settle_by="Plan for a casualty who hangs motionless: others reach, free and lower or raise "
        "them; name a flat place near by with lay_flat_at.",
        keys=(way.key("method"), scene.key("rescue.lay_flat_at"), scene.key("hazard")),
        space=scene.space,
    )
