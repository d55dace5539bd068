"""A post on a platform with its arm: from the side over the edge, and from above as it turns."""

from __future__ import annotations

import math

from planbuilder.checks.casualty import largest
from planbuilder.checks.scene import Way
from planbuilder.clearance.place import turn_beyond_edge_rad
from planbuilder.findings import Finding, Unit
from planbuilder.sketches.arm import MAST_M
from planbuilder.sketches.hanging import body
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.post_measures import Post, measured
from planbuilder.sketches.shapes import (
    Dimension,
    Disc,
    Label,
    Lane,
    Part,
    Pen,
    Point,
    Sketch,
    Stroke,
    Words,
    arc,
    assembled,
    box,
)

POST, ARM = "haul/post-too-high", "haul/arm-out-of-limits"
DECK_M, SLAB_M = 1.2, 0.15
HANGS_M = 0.4  # the shoulders of whoever hangs there, below the deck
FEET, BLOCKED = "clearance/feet-below-rim", "clearance/casualty-blocked"
SQUARE = "At angle nought the arm is drawn square to the edge."


def post_plans(
    way: Way, words: Words, findings: tuple[Finding, ...] = ()
) -> tuple[tuple[str, Sketch], ...]:
    """Side view and plan of the post and arm of *way*; none where it hangs on no such arm."""
    one = measured(way, words, Marks(findings, way.name))
    if one is None:
        return ()
    side = (_deck(one), _standing(one), _line(one), _lengths(one))
    above = (_deck_from_above(one), _arm_from_above(one), _turning(one))
    name = f"{one.arm.name}, {way.name} method"
    guesses = tuple(each for each in one.guesses if each in ("reach", "edge"))
    return (
        ("post", assembled(f"{name}, from the side", side, pad=0.1)),
        ("turn", assembled(f"{name}, from above", (*above, Part(guesses=guesses)), pad=0.1)),
    )


def _deck(one: Post) -> Part:
    """The deck to the left of its edge, the level below to the right."""
    right = max(one.reach, one.edge) + 0.6
    shapes = (
        box(-DECK_M, -SLAB_M, one.edge, 0.0, Pen.GROUND),
        Stroke(((-DECK_M, 0.0), (one.edge, 0.0), (one.edge, -SLAB_M)), one.pen(Pen.WALL, "edge")),
        box(-DECK_M, -one.below - SLAB_M, right, -one.below, Pen.GROUND),
        Stroke(((-DECK_M, -one.below), (right, -one.below)), one.pen(Pen.WALL, "height")),
    )
    return Part(shapes, guesses=one.guesses)


def _standing(one: Post) -> Part:
    """Post and arm, with what the post is asked at its height."""
    extension = one.post.extension.m if one.post.extension else 0.0
    top = one.height + extension
    head = max(top, one.hook)
    pen = one.pen(Pen.SUPPORT, "reach", "height of the arm", "hook height")
    shapes = (
        box(-0.15, 0.0, 0.15, 0.03, Pen.RIM),
        Stroke(((0.0, 0.0), (0.0, head), (one.reach, head), (one.reach, one.hook)), pen),
    )
    longer = f", extension {one.words(extension, Unit.M)} on" if extension else ""
    labels = [
        Label(Lane.FAR_LEFT, (0.0, 0.1), f"{one.post.name}{longer}"),
        Label(Lane.FAR_LEFT, (one.reach / 2, head), one.arm.name),
    ]
    found, mark = one.marks.compared(POST), one.marks.of(POST)
    if found is not None:
        has, most = (one.words(each.value, Unit.N) for each in (found.result, found.limit))
        text = mark.after(f"post as if pulled by {has} at its rated height, holds {most}")
        labels.append(Label(Lane.FAR_LEFT, (0.0, top), text, mark.fails))
    elif mark.words:
        labels.append(Label(Lane.FAR_LEFT, (0.0, top), mark.after("post"), mark.fails))
    return Part(shapes, labels=tuple(labels))


def _line(one: Post) -> Part:
    """The lowering line down to the level below, and whoever hangs on it, dashed."""
    device = one.way.scene.device(one.rig.device)
    stature = largest(one.way.scene, "stature").value
    toe = max(-one.below, -HANGS_M - 0.82 * stature)
    shapes = (
        Stroke(((one.reach, one.hook), (one.reach, -one.below)), Pen.LINE),
        *body(one.reach, toe, stature, Pen.GHOST),
    )
    labels = [Label(Lane.FAR_RIGHT, (one.reach, one.hook / 2), f"line of {device.name}")]
    found, mark = one.marks.compared(FEET), one.marks.of(FEET, BLOCKED)
    if found is not None or mark.words:  # raised, to be swung in over the deck
        has = f" {one.words(found.result.value, Unit.M)} above it" if found is not None else ""
        text = mark.after(f"feet over the deck at full lift{has}")
        labels.append(Label(Lane.FAR_RIGHT, (one.reach, 0.0), text, mark.fails))
    return Part(shapes, labels=tuple(labels))


def _lengths(one: Post) -> Part:
    """Heights, reach and edge where they are known, and dashed what the arm allows."""
    words = one.words
    high, far = one.marks.of(ARM, thing="height"), one.marks.of(ARM, thing="reach")
    rows = []
    if "height of the arm" not in one.guesses:
        text = high.after(f"arm at {words(one.height, Unit.M)}")
        rows.append(Dimension(Lane.LEFT, 0.0, one.height, 0.0, text, fails=high.fails))
    if one.arm.height_limit:
        text = f"arm at most at {words(one.arm.height_limit.m, Unit.M)}"
        top = one.arm.height_limit.m
        rows.append(Dimension(Lane.LEFT, 0.0, top, 0.0, text, required=True))
    if "hook height" not in one.guesses:
        text = f"hook {words(one.hook, Unit.M)}"
        rows.append(Dimension(Lane.RIGHT, 0.0, one.hook, one.reach, text))
    if "height" not in one.guesses:
        text = f"height {words(one.below, Unit.M)}"
        rows.append(Dimension(Lane.RIGHT, -one.below, 0.0, one.edge, text))
    return Part(dimensions=(*rows, *_across(one, far.after("reach"), fails=far.fails)))


def _across(one: Post, reach: str, *, fails: bool) -> list[Dimension]:
    """The reach, what the arm allows of it, and where the edge lies."""
    rows, foot, words = [], -one.below, one.words
    if "reach" not in one.guesses and one.reach > 0:
        text = f"{words(one.reach, Unit.M)} {reach}"
        rows.append(Dimension(Lane.BELOW, 0.0, one.reach, foot, text, fails=fails))
    if one.arm.reach_limit:
        most = one.arm.reach_limit.m
        text = f"reach at most {words(most, Unit.M)}"
        rows.append(Dimension(Lane.BELOW, 0.0, most, foot, text, required=True))
    if "edge" not in one.guesses and one.edge > 0:
        text = f"post to the edge {words(one.edge, Unit.M)}"
        rows.append(Dimension(Lane.BELOW, 0.0, one.edge, foot, text))
    return rows


def _deck_from_above(one: Post) -> Part:
    wide = max(one.reach, 0.6) + 0.3
    shapes = (
        box(-DECK_M, -wide, one.edge, wide, Pen.GROUND),
        Stroke(((one.edge, -wide), (one.edge, wide)), one.pen(Pen.WALL, "edge")),
    )
    labels = (
        Label(Lane.FAR_RIGHT, (one.edge, wide), "edge of the deck"),
        Label(Lane.FAR_LEFT, (0.0, 0.0), one.post.name),
    )
    return Part(shapes, labels=labels, notes=(SQUARE,))


def _arm_from_above(one: Post) -> Part:
    hook: Point = (one.reach, 0.0)
    shapes = (
        Stroke(((0.0, 0.0), hook), one.pen(Pen.SUPPORT, "reach")),
        Disc((0.0, 0.0), MAST_M, Pen.BODY),
        Disc(hook, MAST_M / 2, Pen.RIM),
    )
    beyond = one.reach - one.edge
    side = "beyond the edge" if beyond > 0 else "INSIDE the edge"
    text = f"hook {one.words(abs(beyond), Unit.M)} {side}"
    known = not {"reach", "edge"} & set(one.guesses)
    labels = (Label(Lane.FAR_RIGHT, hook, text if known else "hook"),)
    rows = _across(one, "reach", fails=False)
    wide = max(one.reach, 0.6) + 0.3
    return Part(
        shapes, tuple(Dimension(r.lane, r.start, r.end, -wide, r.label) for r in rows[:1]), labels
    )


def _turning(one: Post) -> Part:
    """The sector through which the arm turns, and how far its hook stays beyond the edge."""
    rig = one.rig
    if rig.swing_from is None or rig.swing_to is None:
        return Part(notes=("How far the arm turns is not stated: no sector is drawn.",))
    first, last = rig.swing_from.rad, rig.swing_to.rad
    way = arc((0.0, 0.0), one.reach, first, last, Pen.LINE)
    shapes = [Stroke(((0.0, 0.0), *way.points), Pen.LINE, closed=True)]
    text = f"arm turns {_degrees(first)} to {_degrees(last)}"
    labels = [Label(Lane.FAR_LEFT, way.points[-1], text)]
    try:
        over = turn_beyond_edge_rad(reach_m=one.reach, edge_m=one.edge)
    except ValueError:
        return Part(tuple(shapes), labels=tuple(labels))
    if "edge" not in one.guesses and "reach" not in one.guesses:
        at = (one.edge, one.reach * math.sin(over))
        text = f"hook beyond the edge up to {_degrees(over)} either way"
        labels.append(Label(Lane.FAR_RIGHT, at, text))
    return Part(tuple(shapes), labels=tuple(labels))


def _degrees(turn_rad: float) -> str:
    return f"{math.degrees(turn_rad):.0f}\N{DEGREE SIGN}"
