"""A fall to scale: what it takes up beside what there is, the swing, and what stands in the way."""

from __future__ import annotations

import math

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import largest
from planbuilder.checks.scene import Scene, listed
from planbuilder.findings import Finding, Unit
from planbuilder.sketches.fall_numbers import Column, column
from planbuilder.sketches.hanging import body
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.shapes import (
    Dimension,
    Disc,
    Label,
    Lane,
    Part,
    Pen,
    Sketch,
    Stroke,
    Words,
    arc,
    assembled,
    box,
)

BESIDE_M = 0.5  # from the swing to the columns
COLUMN_M = 0.2
LEVEL_M = 0.1
THING_M = 0.15
UNKNOWN_M = 3.0  # drawn where nothing can be worked out: dashed, and not to scale
PAD_M = 0.1


def fall_column(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The fall planned for in *scene*, or None where there is none."""
    fall, marks = scene.space.fall, Marks(findings, "")
    if fall is None:
        return None
    title = f"Fall at {scene.space.name}: {fall.arrest.replace('-', ' ')}, counted from the anchor"
    numbers = column(scene, fall)
    if isinstance(numbers, Needs):
        return assembled(title, (_unknown(numbers, marks),), pad=PAD_M)
    x = max(numbers.offset_m, 0.3) + BESIDE_M
    parts = (
        _levels(numbers, x, words, marks),
        _swing(numbers, words, marks),
        _pieces(numbers, x, words, marks),
        _caught(scene, numbers),
        _things(numbers, words, marks),
    )
    return assembled(title, parts, pad=PAD_M)


def _unknown(needs: Needs, marks: Marks) -> Part:
    why = listed(needs.missing) or needs.refused
    mark = marks.of("clearance/fall-hits-something")
    line = Stroke(((0.0, 0.0), (0.0, -UNKNOWN_M)), Pen.GUESS)
    label = Label(Lane.FAR_RIGHT, (0.0, -UNKNOWN_M / 2), mark.after("height needed"), mark.fails)
    return Part((line,), labels=(label,), guesses=(why,))


def _levels(one: Column, x: float, words: Words, marks: Marks) -> Part:
    """Anchor, walking surface and whatever is hit first, with the free height."""
    left = -one.offset_m - 0.4
    mark = marks.of("clearance/fall-hits-something")
    free = mark.after(f"{one.level_said} {words(one.level_m, Unit.M)}")
    shapes = (
        Stroke(((left, 0.0), (x, 0.0)), Pen.AVAILABLE),
        box(left, -one.level_m - LEVEL_M, x, -one.level_m, Pen.SOLID),
        Disc((0.0, one.anchor_m), 0.05, Pen.BODY),
    )
    rows = (
        Dimension(Lane.LEFT, -one.level_m, 0.0, left, free, fails=mark.fails),
        Dimension(Lane.LEFT, 0.0, one.anchor_m, 0.0, f"anchor {words(one.anchor_m, Unit.M)}"),
    )
    return Part(shapes, rows, (Label(Lane.FAR_LEFT, (left, 0.0), "walking surface"),))


def _swing(one: Column, words: Words, marks: Marks) -> Part:
    """The line as it comes taut, and the swing down to the plumb line and beyond."""
    top, bottom = (0.0, one.anchor_m), one.anchor_m - one.depth_m
    fell = marks.of("clearance/free-fall-too-long")
    dimensions = []
    if one.free_fall_m > 0:
        text = fell.after(f"free fall {words(one.free_fall_m, Unit.M)}")
        row = Dimension(Lane.LEFT, bottom, one.dring_m, one.offset_m, text, fails=fell.fails)
        dimensions.append(row)
    start = (one.offset_m, bottom)
    shapes: list[Stroke | Disc] = [
        Stroke((top, start), Pen.LINE),
        Disc((one.offset_m, one.dring_m), 0.05, Pen.RING),
    ]
    labels = [Label(Lane.FAR_LEFT, (one.offset_m, one.dring_m), "D-ring at the start")]
    if one.offset_m > 0:
        mark = marks.of("clearance/swing-drops-too-far", "clearance/swing-too-wide")
        length = math.hypot(one.offset_m, one.depth_m)
        first, last = -math.pi / 2 - one.angle_rad, -math.pi / 2 + one.angle_rad
        shapes += [
            arc(top, length, first, last, Pen.REQUIRED),
            Stroke((top, (0.0, one.anchor_m - length)), Pen.REQUIRED),
        ]
        turn = f"{math.degrees(one.angle_rad):.0f}\N{DEGREE SIGN}"
        text = f"swing {turn}, drop {words(one.drop_m, Unit.M)}"
        at = (0.0, one.anchor_m - length)
        labels.append(Label(Lane.FAR_LEFT, at, mark.after(text), mark.fails))
        label = f"offset {words(one.offset_m, Unit.M)}"
        dimensions.append(Dimension(Lane.BELOW, 0.0, one.offset_m, 0.0, label))
    return Part(tuple(shapes), tuple(dimensions), tuple(labels))


def _pieces(one: Column, x: float, words: Words, marks: Marks) -> Part:
    """What is needed, piece on piece, dashed; what there is beside it, solid."""
    shapes: list[Stroke | Disc] = [
        box(x + COLUMN_M, -one.level_m, x + 2 * COLUMN_M, one.top_m, Pen.AVAILABLE)
    ]
    rows, top = [], one.top_m
    for name, length in one.pieces:
        shapes.append(box(x, top - length, x + COLUMN_M, top, Pen.REQUIRED))
        if length > 0:
            said = f"{name} {words(length, Unit.M)}"
            row = Dimension(Lane.RIGHT, top - length, top, x + COLUMN_M, said, required=True)
            rows.append(row)
        top -= length
    mark = marks.of("clearance/fall-hits-something")
    text = mark.after(f"needed below the surface {words(one.needed_m, Unit.M)}")
    label = Label(Lane.FAR_RIGHT, (x + COLUMN_M / 2, -one.needed_m), text, mark.fails)
    return Part(tuple(shapes), tuple(rows), (label,))


def _caught(scene: Scene, one: Column) -> Part:
    """The tallest person at rest, soles a margin above the end of the column."""
    stature = largest(scene, "stature").value
    return Part(tuple(body(0.0, one.margin_m - one.needed_m, stature, Pen.GHOST)))


def _things(one: Column, words: Words, marks: Marks) -> Part:
    """What could be met on the way; a positive place is on the side of the user."""
    shapes: list[Stroke | Disc] = []
    labels = []
    for met in one.met:
        x, y = met.aside.value, -met.below.value
        mark = marks.of("clearance/swing-hits-something", thing=met.what)
        shapes.append(box(x - THING_M / 2, y - THING_M, x + THING_M / 2, y, Pen.SOLID))
        aside = words(abs(x), Unit.M)
        labels.append(
            Label(Lane.FAR_LEFT, (x, y), mark.after(f"{met.what}, {aside} aside"), mark.fails)
        )
    return Part(tuple(shapes), labels=tuple(labels))
