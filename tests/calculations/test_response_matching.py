"""Matching of people to places: against networkx, against trying everything, and a worked case."""

from itertools import product

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.response.matching import Matching, Place, Span, match

WHOLE = Span(0, 3600)
PEOPLE = [f"p{number}" for number in range(7)]


def place(name: str, *people: str, exclusive: bool = False, span: Span = WHOLE) -> Place:
    return Place(id=name, part=name, exclusive=exclusive, offers=dict.fromkeys(people, span))


def offers_of(draw: st.DrawFn) -> list[list[str]]:
    return draw(st.lists(st.lists(st.sampled_from(PEOPLE), unique=True), min_size=1, max_size=8))


@st.composite
def unshared(draw: st.DrawFn) -> list[Place]:
    return [place(f"r{n}", *people) for n, people in enumerate(offers_of(draw))]


@st.composite
def shared(draw: st.DrawFn) -> list[Place]:
    starts = st.integers(0, 3)
    return [
        Place(
            id=f"r{number}",
            part=f"part {number // 2}",
            exclusive=draw(st.booleans()),
            offers={one: Span(start := draw(starts), start + 1) for one in people[:3]},
        )
        for number, people in enumerate(offers_of(draw)[:5])
    ]


def clashes(person: str, one: Place, other: Place) -> bool:
    mine, theirs = one.offers[person], other.offers[person]
    apart = mine.end_s <= theirs.start_s or theirs.end_s <= mine.start_s
    same = one.part == other.part
    return one.exclusive or other.exclusive or same or not apart


def sound(places: list[Place], matching: Matching) -> bool:
    """Nobody holds a place that is not theirs, or two that clash."""
    by_id = {one.id: one for one in places}
    held: dict[str, list[Place]] = {}
    for name, person in matching.filled.items():
        if person not in by_id[name].offers:
            return False
        if any(clashes(person, by_id[name], one) for one in held.get(person, [])):
            return False
        held.setdefault(person, []).append(by_id[name])
    return True


def best_by_trying(places: list[Place]) -> int:
    best = 0
    for choice in product(*([None, *one.offers] for one in places)):
        pairs = [(one.id, who) for one, who in zip(places, choice, strict=True) if who]
        if sound(places, Matching(dict(pairs), ())):
            best = max(best, len(pairs))
    return best


@given(places=unshared())
def test_as_many_are_filled_as_another_program_fills(places):
    graph = nx.Graph()
    graph.add_nodes_from(one.id for one in places)
    graph.add_edges_from((one.id, who) for one in places for who in one.offers)
    pairs = nx.bipartite.maximum_matching(graph, top_nodes=[one.id for one in places])

    assert len(match(places).filled) == sum(one.id in pairs for one in places)


@given(places=unshared())
def test_short_places_want_fewer_people_than_there_are_places(places):
    """Hall: the places that contend have fewer people between them than places."""
    matching = match(places)
    by_id = {one.id: one for one in places}

    short = sum(len(one.places) - len(one.people) for one in matching.shortages)

    assert short == len(places) - len(matching.filled)
    for one in matching.shortages:
        assert {who for name in one.places for who in by_id[name].offers} == set(one.people)


@given(places=shared())
@settings(max_examples=60)
def test_people_who_share_places_are_never_counted_for_more_than_they_can_do(places):
    matching = match(places)

    assert sound(places, matching)
    assert len(matching.filled) <= best_by_trying(places)
    assert bool(matching.shortages) == (len(matching.filled) < len(places))


@given(places=unshared(), extra=st.sampled_from(PEOPLE))
def test_one_person_fewer_never_fills_more(places, extra):
    fewer = [place(one.id, *(who for who in one.offers if who != extra)) for one in places]

    assert len(match(fewer).filled) <= len(match(places).filled)


def test_ten_people_for_ten_places_are_one_short():
    """Worked example W26: a head count says enough, the matching fills 9."""
    three, rest = ("p1", "p2", "p3"), ("p7", "p8", "p9", "p10")
    haulers = (*three, "p4", "p6", *rest)
    places = [
        place("attendant", "p4", *rest, exclusive=True),
        place("leader", "p5"),
        *(place(name, *three) for name in ("entry 1", "entry 2", "back-up 1", "back-up 2")),
        *(place(f"haul {number}", *haulers) for number in (1, 2, 3)),
        place("medic", "p6"),
    ]

    matching = match(places)

    assert len(matching.filled) == 9
    (short,) = matching.shortages
    assert set(short.places) == {"entry 1", "entry 2", "back-up 1", "back-up 2"}
    assert set(short.people) == set(three)


def test_one_person_calls_and_hauls_afterwards():
    calls, hauls = Span(10, 100), Span(100, 160)

    one_after_the_other = match([place("call", "p1", span=calls), place("haul", "p1", span=hauls)])
    at_once = match([place("call", "p1", span=calls), place("haul", "p1", span=Span(99, 160))])
    watch = match(
        [place("call", "p1", span=calls, exclusive=True), place("haul", "p1", span=hauls)]
    )

    assert one_after_the_other.filled == {"call": "p1", "haul": "p1"}
    assert at_once.filled == watch.filled == {"call": "p1"}
    assert at_once.shortages[0].people == ("p1",)


def test_who_is_in_the_way_moves_on():
    places = [place("haul", "p1", "p2"), place("medic", "p1")]

    assert match(places).filled == {"haul": "p2", "medic": "p1"}


def test_shortages_that_have_nobody_in_common_are_told_apart():
    shortages = match([place("medic"), place("entry 1", "p1"), place("entry 2", "p1")]).shortages

    assert [one.people for one in shortages] == [(), ("p1",)]


def test_a_place_given_twice_is_refused():
    with pytest.raises(ValueError, match="once"):
        match([place("haul", "p1"), place("haul", "p2")])
