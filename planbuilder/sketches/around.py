"""What stands round an opening, north up: engines, hot work, the blower's intake, the wind."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.scene import Scene
from planbuilder.findings import Finding, Unit
from planbuilder.sketches.marks import Mark, Marks
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
    arc,
    assembled,
)
from planbuilder.units import Amount

LEAST_M = 2.0  # the drawing is never smaller than this
EXHAUST = ("clearance/exhaust-too-near", "clearance/exhaust-upwind", "clearance/exhaust-at-intake")
HOT = ("clearance/hot-work-too-near",)
INTAKE = ("clearance/intake-too-near", "clearance/intake-downwind")
HEAD_RAD = math.radians(25)  # of an arrow


@dataclass(frozen=True, slots=True)
class _Thing:
    """Something near the opening, the distance that it has to keep, and what the findings say."""

    name: str
    distance: Amount | None
    bearing: Amount | None
    least_m: float
    mark: Mark


def around(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The plan of what stands round the opening, or None where nothing is said about it."""
    things = tuple(_things(scene, Marks(findings, "")))
    if not things:
        return None
    far = max([LEAST_M, *(one.least_m for one in things), *_known(things)])
    parts = [_opening(), _north(far), _wind(scene, far), _rings(things, words)]
    parts += [_placed(one, words) for one in things]
    title = f"Round {scene.space.name}, north up"
    return assembled(title, parts, pad=0.05 * far)


def _known(things: tuple[_Thing, ...]) -> list[float]:
    return [one.distance.value for one in things if one.distance is not None]


def _things(scene: Scene, marks: Marks) -> Iterator[_Thing]:
    of, air = scene.defaults.of, scene.space.ventilation
    for one in scene.space.nearby:
        is_hot = one.kind == "hot-work"
        least = of("hot-work-distance" if is_hot else "exhaust-distance").value
        mark = marks.of(*(HOT if is_hot else EXHAUST), thing=one.name)
        yield _Thing(one.name, one.distance, one.bearing, least, mark)
    if air is not None and (air.intake_distance or air.intake_bearing):
        least, mark = of("intake-distance").value, marks.of(*INTAKE)
        yield _Thing("intake of the blower", air.intake_distance, air.intake_bearing, least, mark)


def _at(distance_m: float, bearing_rad: float) -> Point:
    """A place by its way from the opening: bearings run clockwise from north."""
    return (distance_m * math.sin(bearing_rad), distance_m * math.cos(bearing_rad))


def _opening() -> Part:
    label = Label(Lane.FAR_LEFT, (0.0, 0.0), "opening")
    return Part((Disc((0.0, 0.0), 0.3, Pen.RING),), labels=(label,))


def _arrow(tail: Point, tip: Point, pen: Pen) -> tuple[Stroke, ...]:
    back = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    size = 0.3 * math.dist(tail, tip)
    ends = [
        (tip[0] + size * math.cos(back + turn), tip[1] + size * math.sin(back + turn))
        for turn in (HEAD_RAD, -HEAD_RAD)
    ]
    return (Stroke((tail, tip), pen), Stroke((ends[0], tip, ends[1]), pen))


def _north(far: float) -> Part:
    shapes = _arrow((-1.2 * far, 0.7 * far), (-1.2 * far, 1.0 * far), Pen.AVAILABLE)
    return Part(shapes, labels=(Label(Lane.FAR_LEFT, (-1.2 * far, far), "north"),))


def _wind(scene: Scene, far: float) -> Part:
    """An arrow that blows towards the opening."""
    wind = scene.space.wind_from
    if wind is None:
        return Part(notes=("Where the wind comes from is not stated.",))
    tail, tip = _at(1.15 * far, wind.rad), _at(0.85 * far, wind.rad)
    turn = f"{math.degrees(wind.rad):.0f}\N{DEGREE SIGN}"
    label = Label(_lane(tail), tail, f"wind from {turn}")
    note = "Look again whenever the wind turns."
    return Part(_arrow(tail, tip, Pen.WALL), labels=(label,), notes=(note,))


def _lane(at: Point) -> Lane:
    return Lane.FAR_LEFT if at[0] < 0 else Lane.FAR_RIGHT


def _rings(things: tuple[_Thing, ...], words: Words) -> Part:
    """Every distance required, dashed, once."""
    rings = sorted({one.least_m for one in things})
    shapes = [arc((0.0, 0.0), one, 0.0, 2 * math.pi, Pen.REQUIRED) for one in rings]
    labels = [
        Label(Lane.FAR_RIGHT, _at(one, math.radians(135)), _for_whom(one, things, words))
        for one in rings
    ]
    return Part(tuple(shapes), labels=tuple(labels))


def _for_whom(least_m: float, things: tuple[_Thing, ...], words: Words) -> str:
    names = ", ".join(one.name for one in things if one.least_m == least_m)
    return f"required {words(least_m, Unit.M)}: {names}"


def _placed(one: _Thing, words: Words) -> Part:
    """The thing with its distance; a ring where only that is known; words where nothing is."""
    if one.distance is None:
        return Part(notes=(one.mark.after(f"{one.name}: distance not stated, not drawn"),))
    away = one.distance.value
    text = f"{one.name} {words(away, Unit.M)}"
    if one.bearing is None:
        ring = arc((0.0, 0.0), away, 0.0, 2 * math.pi, Pen.AVAILABLE)
        said = one.mark.after(f"{text}, somewhere on this ring")
        label = Label(Lane.FAR_RIGHT, _at(away, math.radians(45)), said, one.mark.fails)
        return Part((ring,), labels=(label,), notes=(f"Bearing of {one.name} not stated.",))
    at = _at(away, one.bearing.value)
    shapes = (Stroke(((0.0, 0.0), at), Pen.AVAILABLE), Disc(at, 0.25, Pen.BODY))
    return Part(shapes, labels=(Label(_lane(at), at, one.mark.after(text), one.mark.fails),))
