"""Both cards for the pocket: the first things of each, as far as they fit on a small card.

A card of A6 (148 by 105 mm), or of half a Letter sheet. What fits is counted in lines of 8 pt
type before anything is laid out: short words in capitals are wide, so the counts are kept low.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.view.model import (
    AttendantCard,
    Fact,
    LeaderCard,
    MethodView,
    PocketBlock,
    PocketCard,
)

MORE = "Not all fits here: see the full card in the plan."


@dataclass(frozen=True, slots=True)
class Room:
    """What one column of a card holds."""

    lines: float
    letters: int  # of one line

    def taken(self, fact: Fact) -> float:
        """The lines that a row of text takes, with the gap below it."""
        return math.ceil(len(f"{fact.label} {fact.text}") / self.letters) + _GAP


_GAP, _HEAD = 0.15, 1.8
_ROOMS = {"a4": Room(28.0, 42), "letter": Room(27.5, 53)}


def pocket_cards(
    name: str, attendant: AttendantCard, leader: LeaderCard, paper: str
) -> tuple[PocketCard, ...]:
    """The attendant's card and the leader's, for the pocket."""
    room = _ROOMS[paper]
    return (
        _card(f"{name}: attendant", attendant.ban, _watch(attendant), _call(attendant), room),
        _card(f"{name}: rescue leader", "", _ways_out(leader), _stop(leader), room),
    )


def _card(
    title: str, ban: str, left: Iterator[PocketBlock], right: Iterator[PocketBlock], room: Room
) -> PocketCard:
    columns = [list(left), list(right)]
    kept = [_first_things(one, room) for one in columns]
    more = "" if kept == [tuple(one) for one in columns] else MORE
    return PocketCard(title=title, ban=ban, left=kept[0], right=kept[1], more=more)


def _first_things(blocks: list[PocketBlock], room: Room) -> tuple[PocketBlock, ...]:
    """The blocks from the first on, cut before the first row that has no room."""
    left, kept = room.lines, []
    for block in blocks:
        left -= _HEAD
        lines = []
        for line in block.lines:
            left -= room.taken(line)
            if left < 0:
                break
            lines.append(line)
        if lines:
            kept.append(PocketBlock(block.head, tuple(lines)))
        if left < 0:
            break
    return tuple(kept)


def _watch(card: AttendantCard) -> Iterator[PocketBlock]:
    """When everybody leaves, and what to do then."""
    lost = Fact("or" if card.out_at else "", f"when {card.lost}")
    yield PocketBlock(card.leave, (*card.out_at, lost))
    steps = tuple(Fact(f"{number}.", text) for number, text in enumerate(card.steps, 1))
    yield PocketBlock("If something is wrong", steps)


def _call(card: AttendantCard) -> Iterator[PocketBlock]:
    yield PocketBlock("Call", card.calls)
    yield PocketBlock("Say", tuple(Fact("", line) for line in card.script))
    yield PocketBlock("Contact", (Fact("", card.contact),))


def _ways_out(card: LeaderCard) -> Iterator[PocketBlock]:
    clocks = tuple(Fact(one.name, f"{one.slow}; {one.judged} {one.limit}") for one in card.clocks)
    if clocks:
        yield PocketBlock("Allow, from the hazard acting", clocks)
    for method in card.methods:
        yield PocketBlock(
            f"{method.name}: {method.kind}, {method.posture}", (*_told(method), *method.gear)
        )


def _told(method: MethodView) -> Iterator[Fact]:
    if method.free_first:
        yield Fact("Free the casualty first.", method.free_first.striptags())
    yield Fact("", method.describe.striptags())
    yield from method.roles


def _stop(card: LeaderCard) -> Iterator[PocketBlock]:
    yield PocketBlock("Stop and change", tuple(Fact("", line) for line in card.abort))
    if card.hazards:
        yield PocketBlock("Hazards and what holds them", card.hazards)
    if card.answers:
        yield PocketBlock("Does it work here", card.answers)
