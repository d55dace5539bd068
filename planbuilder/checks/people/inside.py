"""Who is inside and who watches: nobody waits outside for themselves, or watches two at once."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.people.openings import meanwhile
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.space import Space

GENERAL = "29 CFR 1910.146"
IN_CREW = Rule(
    "plan/entrant-in-crew",
    "Whoever goes in is not counted on to rescue",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="an entrant may be the casualty"),
)
ROSTER = Rule(
    "plan/roster-not-stated",
    "Where it is written down who is inside",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(f)(4), (i)(3)"),
)
ELSEWHERE = Rule(
    "plan/attendant-elsewhere",
    "Attendant of several spaces at a time: written procedure",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(7)"),
)


def check_entrant_in_crew(scene: Scene) -> Iterator[Finding]:
    """No entrant has a part in the rescue of this space, as a casualty cannot take it."""
    crew = {one.person for way in scene.ways() for one in way.method.crew}
    both = [one.name for one in scene.entrants if one.id in crew]
    names = ", ".join(one.name for one in scene.entrants)
    words = f"in the rescue crew as well: {', '.join(both)}" if both else f"inside: {names}"
    yield finding(
        IN_CREW,
        Stated(holds=not both, because=words),
        settle_by="Name somebody else for the rescue, who does not go in.",
        keys=(scene.key("entrants"), scene.key("rescue")),
        space=scene.space,
    )


def check_roster(scene: Scene) -> Iterator[Finding]:
    """Where entrants take turns, a list at the opening tells who is inside now."""
    at_once, many = scene.inside_at_once, len(scene.space.entrants)
    if not scene.space.is_confined or many <= at_once:
        return
    outcome: Stated | Missing = Missing(
        because=f"{many} go in, {at_once} at a time; where it is written who is inside: not given"
    )
    if scene.space.roster:
        outcome = Stated(holds=True, because=scene.space.roster)
    yield finding(
        ROSTER,
        outcome,
        settle_by="State as roster who writes down names, times in and out, and where.",
        keys=(scene.key("roster"),),
        space=scene.space,
    )


def check_attendant_elsewhere(scene: Scene) -> Iterator[Finding]:
    """An attendant watches another space meanwhile by a written procedure, and does no more."""
    watching = _watching(scene.space)
    others = [one for one in meanwhile(scene) if watching & (_watching(one) | _tied(one))]
    if not others:
        return
    tied = [
        f"{scene.person(who).name} ({other.name})"
        for other in others
        for who in sorted(watching & _tied(other))
    ]
    names = ", ".join(one.name for one in others)
    outcome: Stated | Missing = Missing(because=f"also watched at the time: {names}; no procedure")
    if tied:
        words = f"inside or in the crew elsewhere at the time: {', '.join(tied)}"
        outcome = Stated(holds=False, because=words)
    elif scene.space.several_spaces:
        words = f"also watched at the time: {names}; by {scene.space.several_spaces}"
        outcome = Stated(holds=True, because=words)
    yield finding(
        ELSEWHERE,
        outcome,
        settle_by="Name an attendant for each space, work at other hours and state enter_from "
        "and out_by, or write how an emergency in one is met without leaving the other, and name "
        "that procedure as several_spaces.",
        keys=(scene.key("several_spaces"), scene.key("attendant")),
        space=scene.space,
        about=names,
    )


def _watching(space: Space) -> set[str]:
    relief = [space.relief_attendant] if space.relief_attendant else []
    return {*space.attendant, *relief}


def _tied(space: Space) -> set[str]:
    """Whoever is inside there, or has a part in the rescue."""
    ways = [one for one in (space.rescue.primary, space.rescue.fallback) if one]
    return {*space.entrants, *(one.person for way in ways for one in way.crew)}
