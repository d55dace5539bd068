"""Who can fill which place of a rescue: maximum matching by augmenting paths, and who contends.

One person holds one place. Somebody may hold several only where these keep them busy one after
the other and none of them is exclusive. Where nobody shares, the matching is a largest one there
is. Where people share places the search may stop short of the best: it then errs to the safe side.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the rescue, in s from the hazard acting."""

    start_s: float
    end_s: float

    def overlaps(self, other: "Span") -> bool:
        """True if both keep somebody busy at one moment; touching ends do not."""
        return self.start_s < other.end_s and other.start_s < self.end_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place to fill: who could, and how long it keeps each of them busy.

    The places of one *part* are there to be held at the same time, each by somebody else.
    """

    id: str
    part: str
    exclusive: bool
    offers: Mapping[str, Span]


@dataclass(frozen=True, slots=True)
class Shortage:
    """Places that contend for too few people (a Hall set where nobody shares)."""

    places: tuple[str, ...]
    people: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Matching:
    """Who holds which place, by its id, and where people are short."""

    filled: Mapping[str, str]
    shortages: tuple[Shortage, ...]


Held = dict[str, tuple[Place, ...]]


def match(places: Sequence[Place]) -> Matching:
    """Fill as many of *places* as there are people for.

    Raises ValueError for a place id given twice.
    """
    if len({one.id for one in places}) < len(places):
        raise ValueError("each place must be given once")
    held: Held = {}
    empty = []
    for place in places:
        seated = _seat(place, held, set())
        if seated is None:
            empty.append(place)
        else:
            held = seated
    filled = {place.id: person for person, own in held.items() for place in own}
    return Matching(
        {one.id: filled[one.id] for one in places if one.id in filled}, _shortages(empty, held)
    )


def _seat(place: Place, held: Held, asked: set[str]) -> Held | None:
    """Who holds what once *place* is filled, others moving on if they must; None if it cannot."""
    for person in place.offers:
        if person in asked:
            continue
        asked.add(person)
        own = held.get(person, ())
        in_the_way = [one for one in own if _clash(person, place, one)]
        rest = tuple(one for one in own if one not in in_the_way)
        after: Held | None = {**held, person: (*rest, place)}
        for one in in_the_way:
            after = _seat(one, after, asked) if after is not None else None
        if after is not None:
            return after
    return None


def _clash(person: str, one: Place, other: Place) -> bool:
    if one.exclusive or other.exclusive or one.part == other.part:
        return True
    return one.offers[person].overlaps(other.offers[person])


def _shortages(empty: Sequence[Place], held: Held) -> tuple[Shortage, ...]:
    found: list[Shortage] = []
    for place in empty:
        new = _reached(place, held)
        shared = [one for one in found if set(one.people) & set(new.people)]
        found = [one for one in found if one not in shared]
        merged = [*shared, new]
        found.append(
            Shortage(
                tuple(dict.fromkeys(name for one in merged for name in one.places)),
                tuple(dict.fromkeys(name for one in merged for name in one.people)),
            )
        )
    return tuple(found)


def _reached(place: Place, held: Held) -> Shortage:
    """Everybody who could take *place* or a place that would have to be given up for it."""
    places, people = {place.id: place}, dict.fromkeys(place.offers)
    waiting = list(people)
    while waiting:
        for one in held.get(waiting.pop(), ()):
            if one.id not in places:
                places[one.id] = one
                waiting += [name for name in one.offers if name not in people]
                people.update(dict.fromkeys(one.offers))
    return Shortage(tuple(places), tuple(people))
