"""Enough people, and the right ones: every place of the rescue has somebody who can take it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planbuilder.checks.people.places import NOTHING, WHOLE, Allowed, Part, is_crewed, parts, places
from planbuilder.checks.people.shifts import misses_shift
from planbuilder.checks.people.training import lacks
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, output
from planbuilder.findings import (
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
from planbuilder.response.matching import Matching, Shortage, match
from planbuilder.response.teams import least_people, least_people_to_enter
from planbuilder.site.method import CrewRole, MethodKind

MATCHED = Rule(
    "response/roles-not-matched",
    "One able person for each place of the rescue",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(i)(4), (k)(2)(ii)"),
)
ENOUGH = Rule(
    "response/too-few-people",
    "People for this kind of rescue",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="one person a place, unless one place is over before the next"),
)


def check_enough(scene: Scene) -> Iterator[Finding]:
    """As many places are filled by those named as this kind of rescue has at the least."""
    for way in scene.ways():
        if not is_crewed(way):
            continue
        inside = set(scene.space.entrants)
        wanted = places(
            way, lambda part: part.needed, lambda who, _: who not in inside, unsaid=WHOLE
        )
        matching, least = match(wanted), _least(way)
        filled = len(matching.filled)
        number = derived("n_filled", "places filled", filled, Unit.COUNT, "largest matching")
        yield finding(
            ENOUGH,
            Working(filled, "n_filled", (number,)).against(
                Relation.AT_LEAST, least, result=output("N", "places with a person", Unit.COUNT)
            ),
            settle_by=_name_more(matching, wanted_ids=[one.id for one in wanted]),
            keys=(way.key("crew"),),
            space=scene.space,
            about=way.name,
        )


def _least(way: Way) -> Quantity:
    by_role = {one.role: one.needed for one in parts(way)}
    attendants, haulers = by_role[None], by_role[CrewRole.HAUL]
    if way.method.method is not MethodKind.ENTRY:
        count = least_people(attendants=attendants, haulers=haulers)
    else:
        count = least_people_to_enter(
            attendants=attendants,
            haulers=haulers,
            entry_rescuers=by_role[CrewRole.ENTRY],
            back_ups=by_role[CrewRole.BACK_UP],
        )
    needed = [one for one in parts(way) if one.needed]
    words = ", ".join(
        f"{one.name} x {one.needed}" if one.needed > 1 else one.name for one in needed
    )
    return derived("N_min", "least people", count, Unit.COUNT, words)


def _name_more(matching: Matching, wanted_ids: list[str]) -> str:
    empty = [one for one in wanted_ids if one not in matching.filled]
    if not empty:
        return "Keep these people free for the rescue."
    return (
        f"Name {len(empty)} more: for {', '.join(empty)}. Who has two parts one after the other "
        'needs a step for each, with by = ["ID"] and role.'
    )


def check_matched(scene: Scene) -> Iterator[Finding]:
    """Those named are trained, fit, on shift, free, and not wanted in two places at once."""
    for way in scene.ways():
        if not is_crewed(way):
            continue
        known = _matching(way, sure=True)
        hoped = known if not known.shortages else _matching(way, sure=False)
        count = len(known.filled) + _unfilled(known)
        words = f"{len(known.filled)} of {count} places filled"
        outcome: Stated | Missing = Stated(holds=True, because=words)
        if hoped.shortages:
            outcome = Stated(holds=False, because=f"{words}; {_short(scene, hoped)}")
        elif known.shortages:
            outcome = Missing(because=f"{words} for certain; {_short(scene, known)}")
        yield finding(
            MATCHED,
            outcome,
            settle_by=_reasons(way, known),
            keys=_keys(way, known),
            space=scene.space,
            about=way.name,
        )


def _matching(way: Way, *, sure: bool) -> Matching:
    wanted = places(way, _named_places, _can(way, sure=sure), unsaid=WHOLE if sure else NOTHING)
    return match(wanted)


def _named_places(part: Part) -> int:
    """Places of a part for which names are given; too few names are another finding."""
    return min(max(part.needed, 1), len(set(part.named)))


def _can(way: Way, *, sure: bool) -> Allowed:
    """Who can take a part for certain; or, not *sure*, who is not ruled out by what is known."""

    def allowed(who: str, role: CrewRole | None) -> bool:
        why = _against(way, who, role)
        return not why if sure else all(not ruled_out for _, ruled_out in why)

    return allowed


def _against(way: Way, who: str, role: CrewRole | None) -> list[tuple[str, bool]]:
    """What speaks against somebody in a part, and whether that is known for certain."""
    scene, person = way.scene, way.scene.person(who)
    why = [
        (f"{person.name}: {one.what}, cannot leave it", True)
        for one in person.duties
        if not one.can_leave
    ]
    if who in scene.space.entrants:
        why.append((f"{person.name}: goes in, may be the casualty", True))
    if role is not None:  # attendants relieve each other, and are not trained for the crew
        words = misses_shift(scene, person)
        why += [(words, True)] if words else []
        why += [(one.words, one.on_record) for one in lacks(way, person, role)]
    return why


def _unfilled(matching: Matching) -> int:
    return sum(
        1 for one in matching.shortages for name in one.places if name not in matching.filled
    )


def _short(scene: Scene, matching: Matching) -> str:
    return "; ".join(_contend(scene, one) for one in matching.shortages)


def _contend(scene: Scene, short: Shortage) -> str:
    """Which places want how many people, and who there is."""
    kinds = Counter(name.rstrip("0123456789 ") for name in short.places)
    what = ", ".join(f"{kind} x {count}" if count > 1 else kind for kind, count in kinds.items())
    if not short.people:
        return f"nobody named can take: {what}"
    names = ", ".join(scene.person(one).name for one in short.people)
    return f"{what} contend for {len(short.people)}: {names}"


def _reasons(way: Way, matching: Matching) -> str:
    why = [words for words, _ in _all_against(way)]
    if not matching.shortages:
        return "Keep these people free for the rescue."
    listed = f" In the way: {'; '.join(dict.fromkeys(why))}." if why else ""
    return (
        "Name somebody else who is trained, fit, on shift and has no other part, or say by step, "
        f"with by and role, that one part is over before the other begins.{listed}"
    )


def _all_against(way: Way) -> list[tuple[str, bool]]:
    return [
        one for part in parts(way) for who in part.named for one in _against(way, who, part.role)
    ]


def _keys(way: Way, matching: Matching) -> tuple[str, ...]:
    people = [who for one in matching.shortages for who in one.people]
    return (way.key("crew"), *(f"person.{one}" for one in dict.fromkeys(people)))
