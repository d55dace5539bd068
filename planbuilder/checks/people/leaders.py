"""Who answers for the entry, who leads the rescue, and who leads if that one cannot."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.people.places import is_crewed, part_name
from planbuilder.checks.people.training import lacking
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.method import CrewRole
from planbuilder.site.people import CertificateKind, Person

SUPERVISOR = Rule(
    "plan/no-entry-supervisor",
    "Entry supervisor by name, with a current certificate",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(f)(6), (j)"),
)
DEPUTY = Rule(
    "plan/no-deputy-leader",
    "Leader and deputy by name and phone",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="one voice, also where the leader cannot speak"),
)
HANDS_ON = Rule(
    "plan/leader-hands-on",
    "The leader leads, and has no other part",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="who pulls or goes in no longer sees the whole"),
)
_HANDS_ON = (CrewRole.HAUL, CrewRole.ENTRY, CrewRole.BACK_UP, CrewRole.MEDIC)
_TRAINED = ((CertificateKind.SUPERVISOR,),)


def check_supervisor(scene: Scene) -> Iterator[Finding]:
    """Somebody named, trained and within call decides that people go in, and when they come out."""
    if not scene.space.is_confined:
        return
    named = scene.space.supervisor
    outcome: Stated | Missing = Missing(because="no entry supervisor is named")
    keys: tuple[str, ...] = (scene.key("supervisor"),)
    if named is not None:
        person = scene.person(named)
        outcome = _supervisor(scene, person)
        keys = (*keys, f"person.{named}.certificate", f"person.{named}.phone")
    yield finding(
        SUPERVISOR,
        outcome,
        settle_by="Name as supervisor somebody whose entry-supervisor certificate runs beyond "
        "the work, with phone.",
        keys=keys,
        space=scene.space,
    )


def _supervisor(scene: Scene, person: Person) -> Stated | Missing:
    found = lacking(scene, person, _TRAINED)
    words = "; ".join(one.words for one in found)
    if any(one.on_record for one in found):
        return Stated(holds=False, because=words)
    if found:
        return Missing(because=words)
    if person.phone is None:
        return Missing(because=f"{person.name}: no phone is given")
    return Stated(holds=True, because=f"{person.name}, {person.phone}, certificate current")


def check_deputy(scene: Scene) -> Iterator[Finding]:
    """Leader and deputy are two people, both outside, both within call."""
    way = next(scene.ways())
    leaders = way.crew(CrewRole.LEADER)
    if not is_crewed(way) or not leaders:
        return  # that nobody leads is another finding
    named = scene.space.deputy_leader
    outcome: Stated | Missing = Missing(because="no deputy leader is named")
    asked = leaders
    if named is not None:
        deputy = scene.person(named)
        asked = (*leaders, deputy)
        outcome = _deputy(scene, leaders, deputy)
    yield finding(
        DEPUTY,
        outcome,
        settle_by="Name as deputy_leader somebody who stays outside and is not the leader; state "
        "the phones of both.",
        keys=(scene.key("deputy_leader"), *(f"person.{one.id}.phone" for one in asked)),
        space=scene.space,
    )


def _deputy(scene: Scene, leaders: tuple[Person, ...], deputy: Person) -> Stated | Missing:
    if deputy.id in {one.id for one in leaders}:
        return Stated(holds=False, because=f"{deputy.name} is leader and deputy")
    if deputy.id in scene.space.entrants:
        return Stated(holds=False, because=f"{deputy.name}, deputy, goes in and may be hurt")
    silent = [one.name for one in (*leaders, deputy) if one.phone is None]
    if silent:
        return Missing(because=f"no phone is given: {', '.join(silent)}")
    names = ", ".join(f"{one.name} {one.phone}" for one in leaders)
    return Stated(holds=True, because=f"leader {names}; deputy {deputy.name} {deputy.phone}")


def check_hands_on(scene: Scene) -> Iterator[Finding]:
    """Whoever leads has no line in hand."""
    for way in scene.ways():
        leaders = way.crew(CrewRole.LEADER)
        if not leaders:
            continue
        also = [
            f"{one.name} also {part_name(role)}"
            for one in leaders
            for role in _HANDS_ON
            if one in way.crew(role)
        ]
        names = ", ".join(one.name for one in leaders)
        words = ", ".join(also) if also else f"{names} leads, and nothing else"
        yield finding(
            HANDS_ON,
            Stated(holds=not also, because=words),
            settle_by="Give the leader's other part to somebody else.",
            keys=(way.key("crew"),),
            space=scene.space,
            about=way.name,
        )
