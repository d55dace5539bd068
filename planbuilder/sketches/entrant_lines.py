"""Several inside on lines of their own, from above: heads, places of work, lines that cross."""

from __future__ import annotations

import math

from planbuilder.checks.scene import Scene
from planbuilder.findings import Finding, Unit
from planbuilder.site.column import EntrantLine
from planbuilder.sketches.ground import AXES, opening_from_above, side_of
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.shapes import (
    Disc,
    Label,
    Part,
    Pen,
    Sketch,
    Stroke,
    Words,
    assembled,
)

CROSS, HEADS = "clearance/lines-cross", "clearance/lines-on-one-head"
HOISTED, WOUND = "clearance/lines-hoisted-too-near", "clearance/lines-wound"
HEAD_M, PERSON_M = 0.04, 0.12
MOST_LINES = 5  # two texts each have to find room beside the drawing


def entrant_lines(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The plan of the lines inside, or None where nobody's line is stated."""
    lines = scene.space.entrant_line
    if not lines:
        return None
    marks = Marks(findings, "")
    drawn = [_line(scene, one, words) for one in lines[:MOST_LINES]]
    parts = (opening_from_above(scene), *drawn, _said(marks, words), Part(notes=(AXES,)))
    if not any(one.shapes for one in parts):
        return None  # at a deck's edge with nothing placed there is nothing to draw
    more = len(lines) - MOST_LINES
    notes = (f"{more} more lines are stated and not drawn.",) if more > 0 else ()
    title = f"Lines of several inside {scene.space.name}, from above"
    return assembled(title, (*parts, Part(notes=notes)), pad=0.1)


def _line(scene: Scene, one: EntrantLine, words: Words) -> Part:
    """Head and place of one entrant, joined where both are stated."""
    name = scene.person(one.person).name
    head = (one.head[0].m, one.head[1].m) if one.head else None
    at = (one.at[0].m, one.at[1].m) if one.at else None
    shapes: list[Stroke | Disc] = []
    labels: list[Label] = []
    if head is not None and at is not None:
        shapes.append(Stroke((head, at), Pen.LINE))
    if at is not None:
        shapes.append(Disc(at, PERSON_M, Pen.GHOST))
        off = words(math.hypot(*at), Unit.M)
        labels.append(Label(side_of(at), at, f"{name} works here, {off} off{_turned(one)}"))
    if head is not None:
        shapes.append(Disc(head, HEAD_M, Pen.BODY))
        together = ", hoisted with others" if one.together else ""
        labels.append(Label(side_of(head), head, f"head of the line of {name}{together}"))
    lacking = [word for word, there in (("head", head), ("place", at)) if there is None]
    notes = (f"{' and '.join(lacking)} of {name} not stated".capitalize() + ".",) if lacking else ()
    return Part(tuple(shapes), labels=tuple(labels), notes=notes)


def _turned(one: EntrantLine) -> str:
    if one.turned is None or not one.turned.rad:
        return ""
    return f", {math.degrees(one.turned.rad):.0f}\N{DEGREE SIGN} round the axis"


def _said(marks: Marks, words: Words) -> Part:
    """What the findings say of the lines together."""
    crossing = marks.of(CROSS)
    rows = [crossing.after("Lines in plan" if crossing.words else "No two lines cross")]
    for rule, what in ((HEADS, "Head to head"), (HOISTED, "Hoisted at the same time")):
        found, mark = marks.compared(rule), marks.of(rule)
        if found is not None:
            has, least = (words(each.value, Unit.M) for each in (found.result, found.limit))
            rows.append(mark.after(f"{what} {has} apart, required {least}"))
        elif mark.words:
            rows.append(mark.after(what))
    wound = marks.of(WOUND)
    if wound.words:
        rows.append(wound.after("Turns of one line round another"))
    return Part(notes=tuple(rows))
