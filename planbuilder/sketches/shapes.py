"""What a sketch is made of. x runs right, y runs up, the walking surface at the rim is y = 0."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from planbuilder.findings import Unit

Point = tuple[float, float]
Words = Callable[[float, Unit], str]  # a value and its unit in the reader's words


class Pen(StrEnum):
    """What a shape stands for; the drawing decides how that looks."""

    GROUND = "ground"
    INSIDE = "inside"
    LIQUID = "liquid"
    WALL = "wall"
    RIM = "rim"
    SUPPORT = "support"
    LINE = "line"
    BODY = "body"
    GHOST = "ghost"
    GUESS = "guess"
    RING = "ring"
    REQUIRED = "required"
    AVAILABLE = "available"
    SOLID = "solid"


class Lane(StrEnum):
    """Where a dimension is written: beside the drawing, so that it covers nothing."""

    LEFT = "left"
    FAR_LEFT = "far-left"
    RIGHT = "right"
    FAR_RIGHT = "far-right"
    BELOW = "below"


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open or closed run of straight lines."""

    points: tuple[Point, ...]
    pen: Pen
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle."""

    centre: Point
    radius: float
    pen: Pen


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance between two levels, or between two verticals where the lane is below.

    *at* is where the measured thing stands on the other axis; a thin line leads from there. What
    is *required* is dashed; what *fails* says so in its label too.
    """

    lane: Lane
    start: float
    end: float
    at: float
    label: str
    required: bool = False
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """Words with a leader to a point of the drawing; what *fails* says so in its words too."""

    lane: Lane
    at: Point
    text: str
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a sketch. *notes* are said below it: what is not known, what a line stands for."""

    shapes: tuple[Stroke | Disc, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    labels: tuple[Label, ...] = ()
    guesses: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing in metres, with what had to be guessed. A sketch with guesses is not to scale.

    A *schematic* one never is: the words say what it shows instead.
    """

    title: str
    shapes: tuple[Stroke | Disc, ...]
    dimensions: tuple[Dimension, ...]
    labels: tuple[Label, ...]
    guesses: tuple[str, ...]
    left: float
    right: float
    top: float
    bottom: float
    notes: tuple[str, ...] = ()
    schematic: str = ""


def extent(shapes: Iterable[Stroke | Disc]) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of *shapes*."""
    points = [point for one in shapes for point in _points(one)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _points(shape: Stroke | Disc) -> tuple[Point, ...]:
    if isinstance(shape, Stroke):
        return shape.points
    (x, y), r = shape.centre, shape.radius
    return ((x - r, y - r), (x + r, y + r))


def box(x1: float, y1: float, x2: float, y2: float, pen: Pen) -> Stroke:
    """A rectangle between two corners."""
    return Stroke(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), pen, closed=True)


def arc(
    centre: Point, radius: float, first_rad: float, last_rad: float, pen: Pen, steps: int = 36
) -> Stroke:
    """A piece of a circle; angles count from x, counter-clockwise."""
    turns = [first_rad + (last_rad - first_rad) * n / steps for n in range(steps + 1)]
    x, y = centre
    points = tuple((x + radius * math.cos(one), y + radius * math.sin(one)) for one in turns)
    return Stroke(points, pen)


def assembled(title: str, parts: Iterable[Part], *, pad: float, schematic: str = "") -> Sketch:
    """The sketch of *parts*, with *pad* of free paper round them."""
    parts = tuple(parts)
    shapes = tuple(shape for one in parts for shape in one.shapes)
    left, bottom, right, top = extent(shapes)
    return Sketch(
        title=title,
        shapes=shapes,
        dimensions=tuple(row for one in parts for row in one.dimensions),
        labels=tuple(row for one in parts for row in one.labels),
        guesses=tuple(dict.fromkeys(row for one in parts for row in one.guesses)),
        notes=tuple(dict.fromkeys(row for one in parts for row in one.notes)),
        left=left - pad,
        right=right + pad,
        top=top + pad,
        bottom=bottom - pad,
        schematic=schematic,
    )
