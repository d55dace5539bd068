"""What a sketch is made of. x runs right, y runs up, the walking surface at the rim is y = 0."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Point = tuple[float, float]


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

    *at* is where the measured thing stands on the other axis; a thin line leads from there.
    """

    lane: Lane
    start: float
    end: float
    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Label:
    """Words with a leader to a point of the drawing."""

    lane: Lane
    at: Point
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing in metres, with what had to be guessed. A sketch with guesses is not to scale."""

    title: str
    shapes: tuple[Stroke | Disc, ...]
    dimensions: tuple[Dimension, ...]
    labels: tuple[Label, ...]
    guesses: tuple[str, ...]
    left: float
    right: float
    top: float
    bottom: float
