"""The rig of one way as a diagram: casualty, connectors, line, sheaves, device, backup, support.

Lengths here are of the paper only: the diagram shows how the parts hang together.
"""

from __future__ import annotations

from planbuilder.checks.casualty import is_rope_hauled
from planbuilder.checks.scene import Way
from planbuilder.findings import Finding
from planbuilder.site.equipment import LoweringDevice
from planbuilder.site.rig import Rig
from planbuilder.site.supports import HorizontalLifeline, Structure, Tripod
from planbuilder.sketches.hanging import HEAD_RADIUS_M, body
from planbuilder.sketches.rigging_words import NO_BACKUP, Figures, Rigged, Told, Where
from planbuilder.sketches.shapes import (
    Disc,
    Label,
    Lane,
    Part,
    Pen,
    Point,
    Sketch,
    Stroke,
    Words,
    assembled,
    box,
)

STATURE_M, ATTACHED_M = 1.6, 1.45
LINK_M, LINK_GAP_M = 0.14, 0.3
HEAD_ABOVE_M = 1.6  # the head above the last connector
SHEAVE_M = 0.12
ARM_M = 1.5  # from the mast to the head
BACKUP_M = 0.4  # the backup hangs that far to the left of the line
SIDE_M = 0.8  # from the head to the first redirect, and on
MOST_LINKS, MOST_TURNS = 5, 3
SCHEMATIC = "How the parts hang together, in the order of the load's way; not where they stand."
NEXT_M = 0.02  # parts at one place are told apart by this


def rigging(
    way: Way,
    words: Words,
    figures: Figures,
    parts: tuple[Finding, ...],
    weakest: Finding | None,
) -> Sketch | None:
    """The diagram of the rig, or None where there is none.

    *parts* are the findings on the parts of the chain, *weakest* the one with the least reserve.
    """
    if way.rig is None:
        return None
    plan = _Plan(way, way.rig, Rigged(way, way.rig, words, figures, parts, weakest).told())
    drawn = (
        plan.support(),
        plan.backup(),
        plan.casualty(),
        plan.links(),
        plan.line(),
        plan.device(),
    )
    title = f"Rigging of {way.scene.space.name}, {way.name} method"
    notes = Part(notes=plan.notes())
    return assembled(title, (*drawn, notes), pad=0.1, schematic=SCHEMATIC)


class _Plan:
    """Where each part stands on the diagram."""

    def __init__(self, way: Way, rig: Rig, words: tuple[Told, ...]) -> None:
        """The head stands above as many connectors as are drawn: the weakest of them."""
        self.way, self.rig, self.words = way, rig, words
        names = self._weakest(Where.LINK, MOST_LINKS)
        self.drawn_links = [one for one in rig.link if one.name in names][:MOST_LINKS]
        self.drawn_turns = self._weakest(Where.REDIRECT, MOST_TURNS)
        last_m = ATTACHED_M + LINK_GAP_M * (len(self.drawn_links) + 1)
        self.head: Point = (0.0, last_m + HEAD_ABOVE_M)

    def _weakest(self, where: Where, most: int) -> tuple[str, ...]:
        """The names of the weakest parts at *where*, in the order of the load's way."""
        here = [one for one in self.words if one.where is where]
        kept = sorted(here, key=lambda one: one.reserve)[:most]
        return tuple(one.part for one in here if one in kept)

    def at(self, where: Where, point: Point, lane: Lane) -> tuple[Label, ...]:
        """What is told of the parts at *where*, one below the other."""
        here = [one for one in self.words if one.where is where]
        x, y = point
        return tuple(
            Label(lane, (x, y - NEXT_M * row), one.text, one.fails) for row, one in enumerate(here)
        )

    def named(self, where: Where, name: str, point: Point, lane: Lane) -> tuple[Label, ...]:
        """What is told of the one part of that *name*."""
        here = [one for one in self.words if one.where is where and one.part == name]
        return tuple(Label(lane, point, one.text, one.fails) for one in here)

    def support(self) -> Part:
        """What holds the head, and everything that is asked of it."""
        x, y = self.head
        support = self.way.scene.support(self.rig.support)
        foot: Point = (-ARM_M, 0.0)
        match support:
            case Tripod():
                ends = ((-ARM_M, 0.0), (0.5, 0.0), (ARM_M, 0.0))
                shapes = [Stroke((one, (x, y + SHEAVE_M)), Pen.SUPPORT) for one in ends]
            case Structure() | HorizontalLifeline():
                top = y + SHEAVE_M
                shapes = [box(-ARM_M, top, ARM_M / 2, top + 0.15, Pen.SOLID)]
                foot = (-ARM_M, top)
            case _:
                post = ((-ARM_M, 0.0), (-ARM_M, y + SHEAVE_M), (x, y + SHEAVE_M))
                shapes = [Stroke(post, Pen.SUPPORT)]
        ground = Stroke(((-ARM_M - 0.5, 0.0), (-ARM_M + 0.5, 0.0)), Pen.WALL)
        named = Label(Lane.FAR_LEFT, (-ARM_M, y + SHEAVE_M), f"Support: {support.name}")
        labels = (
            named,
            *self.at(Where.HEAD, (x, y + SHEAVE_M), Lane.FAR_LEFT),
            *self.at(Where.GROUND, foot, Lane.FAR_LEFT),
        )
        return Part((*shapes, ground), labels=labels)

    def backup(self) -> Part:
        """The backup with its line to the casualty, and its support where that is another one."""
        if self.rig.backup is None:
            return Part()
        (x, y), name = self.head, self.way.scene.device(self.rig.backup).name
        hangs = x - BACKUP_M
        line = ((hangs, y - 0.3), (hangs, ATTACHED_M + 0.4), (-0.05, ATTACHED_M))
        shapes: list[Stroke | Disc] = [
            Stroke(line, Pen.AVAILABLE),
            box(hangs - 0.1, y - 0.3, hangs + 0.1, y - 0.05, Pen.SOLID),
        ]
        labels = [Label(Lane.FAR_LEFT, (hangs, y - 0.17), f"Backup: {name}")]
        own = self.rig.backup_support
        if own not in (None, self.rig.support):
            top, far = y - 0.05, -ARM_M - 0.7
            post = ((far, 0.0), (far, top), (hangs, top))
            shapes.append(Stroke(post, Pen.SUPPORT))
            other = self.way.scene.support(own or "").name
            labels.append(Label(Lane.FAR_LEFT, (far, top / 2), f"Support of the backup: {other}"))
        labels += self.at(Where.BACKUP, (hangs, y - 0.6), Lane.FAR_LEFT)
        return Part(tuple(shapes), labels=tuple(labels))

    def casualty(self) -> Part:
        """The casualty, with what hangs there."""
        at = (0.03, 1.1)
        return Part(
            tuple(body(0.0, 0.0, STATURE_M - HEAD_RADIUS_M, Pen.BODY)),
            labels=self.at(Where.CASUALTY, at, Lane.FAR_RIGHT),
        )

    def links(self) -> Part:
        """Each connector in the order of the site file, the last one nearest to the casualty."""
        shapes: list[Stroke | Disc] = []
        labels: list[Label] = []
        for row, one in enumerate(reversed(self.drawn_links), start=1):
            y = ATTACHED_M + LINK_GAP_M * row
            shapes.append(box(-LINK_M / 2, y, LINK_M / 2, y + LINK_M, Pen.SOLID))
            labels += self.named(Where.LINK, one.name, (LINK_M / 2, y), Lane.FAR_RIGHT)
        return Part(tuple(shapes), labels=tuple(labels))

    def line(self) -> Part:
        """From the casualty to the head, with the edges it runs over."""
        x, y = self.head
        last = ATTACHED_M + LINK_GAP_M * (len(self.drawn_links) + 1)
        shapes: list[Stroke | Disc] = [Stroke(((0.0, ATTACHED_M - 0.1), (x, y)), Pen.LINE)]
        if self.rig.edges:
            half = last + 0.3
            shapes.append(Stroke(((0.0, half), (0.35, half + 0.1), (0.35, half - 0.1)), Pen.SOLID))
        labels = self.at(Where.LINE, (0.0, last + 0.6), Lane.FAR_RIGHT)
        edges = self.at(Where.EDGE, (0.35, last + 0.3), Lane.FAR_RIGHT)
        shapes.append(Disc((x, y), SHEAVE_M, Pen.RING))
        sheave = self.at(Where.SHEAVE, (x + SHEAVE_M, y), Lane.FAR_RIGHT)
        return Part(tuple(shapes), labels=(*labels, *edges, *sheave))

    def device(self) -> Part:
        """The strand that leaves the head, the sheaves that turn it, and what pulls."""
        turns = self._turns()
        stands = self._stands(turns)
        way = (self.head, *turns, stands)
        shapes: list[Stroke | Disc] = [Stroke(way, Pen.LINE)]
        shapes += [Disc(one, SHEAVE_M, Pen.RING) for one in turns]
        x, y = stands
        shapes.append(box(x - 0.18, y - 0.18, x + 0.18, y + 0.18, Pen.SOLID))
        labels: list[Label] = []
        for name, one in zip(self.drawn_turns, turns, strict=True):
            labels += self.named(Where.REDIRECT, name, one, Lane.FAR_RIGHT)
        lane = Lane.FAR_RIGHT if x > 0 else Lane.FAR_LEFT
        labels += self.at(Where.DEVICE, stands, lane)
        return Part(tuple(shapes), labels=tuple(labels))

    def _turns(self) -> tuple[Point, ...]:
        """Redirects in turn below and above, to the right of the head."""
        high = self.head[1]
        return tuple(
            (SIDE_M * (row + 1), 0.3 if row % 2 == 0 else high - 0.4)
            for row in range(len(self.drawn_turns))
        )

    def _stands(self, turns: tuple[Point, ...]) -> Point:
        """On the support, unless people, a redirect or a lead take the strand elsewhere."""
        lowers = isinstance(self.way.scene.device(self.rig.device), LoweringDevice)
        led = is_rope_hauled(self.way) or lowers or self.rig.lead_distance is not None
        if turns:
            return (turns[-1][0] + SIDE_M, 1.0)
        return (SIDE_M * 1.6, 0.7) if led else (-ARM_M * 0.8, 0.9)

    def notes(self) -> tuple[str, ...]:
        """What is not drawn."""
        rows = []
        beyond = len(self.rig.link) - len(self.drawn_links)
        if beyond > 0:
            rows.append(f"{beyond} stronger connectors stand in the chain, not here.")
        beyond = len(self.rig.redirect) - len(self.drawn_turns)
        if beyond > 0:
            rows.append(f"{beyond} stronger redirects stand in the chain, not here.")
        if self.rig.backup is None:
            rows.append(NO_BACKUP)
        return tuple(rows)
