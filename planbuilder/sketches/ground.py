"""The opening as the layout counts from it, and outlines cut to the piece of ground drawn."""

from __future__ import annotations

import math
from collections.abc import Callable

from planbuilder.checks.scene import Scene
from planbuilder.site.opening import OpeningShape
from planbuilder.sketches.arm import GUESSED_OPENING_M
from planbuilder.sketches.down import size_text
from planbuilder.sketches.shapes import Disc, Label, Lane, Part, Pen, Point, Stroke, box

OVAL_STEPS = 48
AXES = "The first axis lies along the length of the opening, to the right; north is not stated."


def half_sides(scene: Scene) -> tuple[float, float]:
    """Half the opening along its length and across it; guessed where it is not measured."""
    opening = scene.space.opening
    if opening.diameter is not None:
        return opening.diameter.m / 2, opening.diameter.m / 2
    sides = [one.m / 2 for one in (opening.length, opening.width) if one]
    if not sides:
        return GUESSED_OPENING_M / 2, GUESSED_OPENING_M / 2
    return sides[0], sides[-1]


def opening_from_above(scene: Scene) -> Part:
    """The opening about the origin, dashed where it is not measured; nothing at a deck's edge."""
    if not scene.space.is_confined:
        return Part()
    opening, (x, y) = scene.space.opening, half_sides(scene)
    known = opening.shape is not None and (opening.diameter or (opening.length and opening.width))
    pen = Pen.RING if known else Pen.GUESS
    outline: Stroke | Disc
    if opening.shape is OpeningShape.RECTANGULAR:
        outline = box(-x, -y, x, y, pen)
    elif opening.shape is OpeningShape.OVAL:
        turns = [2 * math.pi * n / OVAL_STEPS for n in range(OVAL_STEPS)]
        points = tuple((x * math.cos(one), y * math.sin(one)) for one in turns)
        outline = Stroke(points, pen, closed=True)
    else:
        outline = Disc((0.0, 0.0), x, pen)
    label = Label(Lane.FAR_RIGHT, (x, 0.0), f"{opening.name}, {size_text(opening)}")
    return Part((outline,), labels=(label,), guesses=() if known else ("opening",))


def side_of(at: Point) -> Lane:
    """The column of words next to a point."""
    return Lane.FAR_LEFT if at[0] < 0 else Lane.FAR_RIGHT


def outer_corner(points: tuple[Point, ...]) -> Point:
    """The corner of an outline that lies next to the words on its side."""
    middle = sum(x for x, _ in points) / len(points)
    return min(points) if middle < 0 else max(points)


def cut(points: tuple[Point, ...], window: tuple[float, float, float, float]) -> tuple[Point, ...]:
    """What of an outline lies in a window of left, bottom, right and top; edge after edge."""
    left, bottom, right, top = window
    sides: tuple[tuple[int, float, Callable[[float, float], bool]], ...] = (
        (0, left, float.__ge__),
        (0, right, float.__le__),
        (1, bottom, float.__ge__),
        (1, top, float.__le__),
    )
    for axis, level, keeps in sides:
        kept: list[Point] = []
        for before, here in zip((*points[-1:], *points[:-1]), points, strict=True):
            if keeps(before[axis], level) != keeps(here[axis], level):
                part = (level - before[axis]) / (here[axis] - before[axis])
                x, y = (a + part * (b - a) for a, b in zip(before, here, strict=True))
                kept.append((x, y))
            if keeps(here[axis], level):
                kept.append(here)
        points = tuple(kept)
    return points
