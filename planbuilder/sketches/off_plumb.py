"""A casualty who may lie aside, in the section: the line to them, the rim it meets, the drag."""

from __future__ import annotations

import math

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.aside import Aside, casualty_aside, rim
from planbuilder.clearance.line import line_at_m, rim_turn_rad
from planbuilder.findings import Compared, Unit
from planbuilder.sketches.hanging import HEAD_RADIUS_M
from planbuilder.sketches.measures import Picture
from planbuilder.sketches.shapes import (
    Dimension,
    Disc,
    Label,
    Lane,
    Part,
    Pen,
    Point,
    Stroke,
    box,
)

RIM, FRICTION = "clearance/line-on-rim", "clearance/rim-friction-not-counted"
DRAGS, SWINGS = "clearance/drags-before-it-lifts", "clearance/swings-at-lift-off"
TOUCH_M = 0.05  # the mark where the line meets the rim
NOTE = (
    "To which side the casualty may lie is not stated: drawn to the right, the hook off its centre "
    "to the same side."
)


def known_aside(picture: Picture) -> Aside | None:
    """The casualty who may lie aside, where everything that places the line is measured."""
    aside = casualty_aside(picture.way)
    return None if aside is None or aside.needs.missing else aside


def off_plumb(picture: Picture) -> Part:
    """The line to where the casualty may lie, and to where the drag leaves them."""
    aside = known_aside(picture)
    if aside is None:
        mark = picture.marks.of(RIM)
        return Part(notes=(mark.after("Line to a casualty who lies aside"),) if mark.words else ())
    parts = (_line(picture, aside), _lying(picture, aside), _lengths(picture, aside))
    return Part(
        shapes=tuple(shape for one in parts for shape in one.shapes),
        dimensions=tuple(row for one in parts for row in one.dimensions),
        labels=tuple(row for one in parts for row in one.labels),
        notes=(NOTE,),
    )


def _line(picture: Picture, aside: Aside) -> Part:
    """Both lines, bent where they bear on the rim, and what the rim asks."""
    needs = Needs()
    half, neck = rim(aside, needs)
    ends = dict.fromkeys((aside.lies.value, aside.left_m))
    if needs.missing:
        shapes = [_straight(aside, one) for one in ends]
        return Part(tuple(shapes), labels=_rim_labels(picture, (0.0, 0.0)))
    shapes = [_bent(aside, one, half.value, neck.value) for one in ends]
    contact = (half.value, -neck.value)
    touches: list[Stroke | Disc] = []
    labels = list(_rim_labels(picture, (_at_rim(aside, aside.left_m, neck.value), contact[1])))
    turn_rad = _turn_rad(aside, aside.lies.value, half.value, neck.value)
    if turn_rad > 0:
        touches = [Disc(contact, TOUCH_M, Pen.BODY)]
        mark = picture.marks.of(FRICTION)
        turned = f"{math.degrees(turn_rad):.1f}\N{DEGREE SIGN}"
        text = mark.after(f"line bears on the rim, turns {turned}")
        labels.append(Label(Lane.FAR_RIGHT, contact, text, mark.fails))
    return Part((*shapes, *touches), labels=tuple(labels))


def _straight(aside: Aside, off_m: float) -> Stroke:
    head, end = (aside.off.value, aside.hook.value), (off_m, -aside.depth.value)
    return Stroke((head, end), Pen.LINE)


def _bent(aside: Aside, off_m: float, half_m: float, neck_m: float) -> Stroke:
    if not _turn_rad(aside, off_m, half_m, neck_m) > 0:
        return _straight(aside, off_m)
    head, end = _straight(aside, off_m).points
    return Stroke((head, (half_m, -neck_m), end), Pen.LINE)


def _at_rim(aside: Aside, off_m: float, neck_m: float) -> float:
    try:
        return line_at_m(
            head_off_m=aside.off.value,
            casualty_off_m=off_m,
            head_height_m=aside.hook.value,
            depth_m=aside.depth.value,
            at_m=neck_m,
        )
    except ValueError:  # the rim is not between head and casualty: the finding says so
        return 0.0


def _turn_rad(aside: Aside, off_m: float, half_m: float, neck_m: float) -> float:
    return rim_turn_rad(
        head_off_m=aside.off.value,
        rim_m=half_m,
        casualty_off_m=off_m,
        head_height_m=aside.hook.value,
        depth_m=aside.depth.value,
        at_m=neck_m,
    )


def _rim_labels(picture: Picture, at: Point) -> tuple[Label, ...]:
    """Where the line passes the rim and what room it has there."""
    found, mark = picture.marks.compared(RIM), picture.marks.of(RIM)
    if found is None:
        text = mark.after("line at the rim")
    else:
        off, room = (picture.words(one.value, Unit.M) for one in (found.result, found.limit))
        text = mark.after(f"line {off} off the centre at the rim, room {room}")
    return (Label(Lane.FAR_RIGHT, at, text, mark.fails),)


def _lying(picture: Picture, aside: Aside) -> Part:
    """The casualty on the floor, dashed, held by the line where they may lie."""
    m, x = picture.measures, aside.lies.value
    length = min(largest(picture.way.scene, "stature").value, 0.92 * m.inside)
    left = min(max(m.left, x - length / 2), m.right - length)
    floor = -m.depth
    shapes = (
        Disc((left + length - HEAD_RADIUS_M, floor + HEAD_RADIUS_M), HEAD_RADIUS_M, Pen.GHOST),
        box(left, floor, left + length - 2.2 * HEAD_RADIUS_M, floor + 0.22, Pen.GHOST),
        Disc((x, -aside.depth.value), TOUCH_M, Pen.BODY),
    )
    mark = picture.marks.of(SWINGS)
    text = mark.after(_lift_off(picture.marks.compared(SWINGS), picture))
    return Part(shapes, labels=(Label(Lane.FAR_RIGHT, (x, -aside.depth.value), text, mark.fails),))


def _lift_off(found: Compared | None, picture: Picture) -> str:
    """The speed of the swing, or the pull of the tag line that holds the casualty back."""
    if found is None:
        return "casualty lies here"
    has, limit = (picture.words(one.value, one.unit) for one in (found.result, found.limit))
    return f"casualty lies here; {found.result.label} {has}, at most {limit}"


def _lengths(picture: Picture, aside: Aside) -> Part:
    """How far they may lie aside, the drag planned, solid, and the drag required, dashed."""
    lies, floor, words = aside.lies.value, -picture.measures.depth, picture.words
    rows = []
    if lies > 0:
        text = f"casualty may lie {words(lies, Unit.M)} aside"
        rows.append(Dimension(Lane.BELOW, 0.0, lies, floor, text))
    found, mark = picture.marks.compared(DRAGS), picture.marks.of(DRAGS)
    dragged = aside.dragged.value
    if dragged > 0:
        text = mark.after(f"drag {words(dragged, Unit.M)}")
        rows.append(Dimension(Lane.BELOW, lies - dragged, lies, floor, text, fails=mark.fails))
    if found is not None and found.limit.value > 0:
        need = found.limit.value
        text = f"drag required {words(need, Unit.M)}"
        text = text if dragged > 0 else mark.after(text)
        fails = mark.fails and not dragged > 0
        row = Dimension(Lane.BELOW, lies - need, lies, floor, text, required=True, fails=fails)
        rows.append(row)
    return Part(dimensions=tuple(rows))
