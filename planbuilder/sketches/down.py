"""The space below the rim in section: opening, rings, walls, liquid, and what reaches in."""

from __future__ import annotations

import math

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.rings import Clear, rings, unmeasured
from planbuilder.checks.room.shaft import obstructions_of, section_of
from planbuilder.findings import Unit
from planbuilder.site.opening import OpeningShape, Ring
from planbuilder.site.room import Obstruction
from planbuilder.sketches.above import GROUND_M
from planbuilder.sketches.measures import Picture
from planbuilder.sketches.shapes import Dimension, Disc, Label, Lane, Part, Pen, Point, Stroke, box

EDGE_GAP_M = 0.25  # from the edge of a deck to the line
LEVEL = 1e-9  # a quarter turn counts as to the right
RING_M = 0.08  # how thick a rim or ring is drawn
THROUGH = (
    "clearance/casualty-too-wide",
    "clearance/rescuer-with-set-too-big",
    "clearance/pair-too-big",
    "clearance/packed-casualty-too-big",
)
SHAFT = "clearance/shaft-tight"


def space(picture: Picture) -> Part:
    """Ground, walls and liquid of a space with an opening in its top."""
    m = picture.measures
    half, floor = m.opening / 2, -m.depth
    left, right = min(m.left, -half) - GROUND_M, max(m.right, half) + GROUND_M
    unsure = Pen.GUESS if {"opening", "depth", "inside width"} & set(m.guesses) else Pen.WALL
    shapes: list[Stroke | Disc] = [
        box(left, floor - 0.2, right, 0.0, Pen.GROUND),
        box(m.left, floor, m.right, -m.neck, Pen.INSIDE),
    ]
    if m.liquid > 0:
        shapes.append(box(m.left, floor, m.right, floor + min(m.liquid, m.depth), Pen.LIQUID))
    walls = [(m.left, -m.neck), (m.left, floor), (m.right, floor), (m.right, -m.neck)]
    if m.neck > 0:
        shapes.append(box(-half, -m.neck, half, 0.0, Pen.INSIDE))
        walls = [(-half, -m.neck), *walls, (half, -m.neck)]
    shapes += [
        Stroke(((-half, 0.0), *walls, (half, 0.0)), unsure),
        Stroke(((left, 0.0), (min(m.left, -half), 0.0)), Pen.WALL),
        Stroke(((max(m.right, half), 0.0), (right, 0.0)), Pen.WALL),
    ]
    for side in (-1, 1):
        outer = side * (half + RING_M)
        shapes.append(box(side * half, 0.0, outer, max(m.coaming, 0.03), Pen.RIM))
    return Part(tuple(shapes), _levels(picture), guesses=m.guesses)


def edge(picture: Picture) -> Part:
    """A raised position: the deck to the left of the line, the level below it to the right."""
    m = picture.measures
    left, right, deck = -m.opening - 1.2, m.inside / 2 + GROUND_M, -EDGE_GAP_M
    pen = Pen.GUESS if "depth" in m.guesses else Pen.WALL
    shapes = (
        box(left, -m.depth - 0.2, right, -m.depth, Pen.GROUND),
        box(left, -m.depth, deck, 0.0, Pen.GROUND),
        Stroke(((left, 0.0), (deck, 0.0), (deck, -m.depth), (right, -m.depth)), pen),
    )
    return Part(shapes, _levels(picture), guesses=m.guesses)


def _levels(picture: Picture) -> tuple[Dimension, ...]:
    """Depth, liquid, hook height and width, each only where it is known."""
    way, m, words = picture.way, picture.measures, picture.words
    rows = []
    if "depth" not in m.guesses:
        name = "depth" if way.scene.space.is_confined else "height"
        rows.append(Dimension(Lane.LEFT, -m.depth, 0.0, m.left, f"{name} {words(m.depth, Unit.M)}"))
    if m.liquid > 0:
        label = f"liquid {words(m.liquid, Unit.M)}"
        rows.append(Dimension(Lane.RIGHT, -m.depth, -m.depth + m.liquid, m.right, label))
    if m.hook is not None and "hook height" not in m.guesses:
        rows.append(Dimension(Lane.RIGHT, 0.0, m.hook, 0.0, f"hook {words(m.hook, Unit.M)}"))
    if way.scene.space.shape.inside_width:
        label = f"inside width {words(m.inside, Unit.M)}"
        rows.append(Dimension(Lane.BELOW, m.left, m.right, -m.depth, label))
    if m.coaming > 0:
        label = f"coaming {words(m.coaming, Unit.M)}"
        rows.append(Dimension(Lane.LEFT, 0.0, m.coaming, -m.opening / 2, label))
    if m.neck > 0:
        label = f"neck {words(m.neck, Unit.M)}"
        rows.append(Dimension(Lane.LEFT, -m.neck, 0.0, -m.opening / 2, label))
    return tuple(rows)


def size_text(ring: Ring) -> str:
    """The shape of a ring with its sizes as the site file writes them."""
    sizes = [one.written for one in (ring.diameter, ring.length, ring.width) if one]
    kind = ring.shape or (OpeningShape.ROUND if ring.diameter else "shape not stated")
    size = " by ".join(sizes).replace(" ", "\N{NO-BREAK SPACE}") or "size not measured"
    return f"{kind}, {size}".replace("\N{NO-BREAK SPACE}by\N{NO-BREAK SPACE}", " by ")


def openings(picture: Picture) -> Part:
    """The opening and every ring below it, each with its sizes; the smallest one carries marks."""
    m, scene = picture.measures, picture.way.scene
    smallest, shapes, labels = _smallest(picture), list[Stroke | Disc](), list[Label]()
    for number, one in enumerate(rings(scene)):
        y = -m.neck * number / max(1, len(scene.space.opening.ring))
        half = m.opening / 2 if number == 0 or one.missing else one.available.value / 2
        if number > 0 and not one.missing:
            outer = max(m.opening / 2, half) + RING_M
            shapes += [box(s * half, y - 0.03, s * outer, y, Pen.RIM) for s in (-1, 1)]
        if number or one.ring.diameter or one.ring.width:
            labels.append(_ring_label(picture, one, (half, y), smallest=one is smallest))
    notes: tuple[str, ...] = ()
    if scene.space.opening.ring:
        notes = ("The depth of each ring below the rim is not stated: spread over the neck.",)
    return Part(tuple(shapes), labels=(*labels, *_needed(picture)), notes=notes)


def _ring_label(picture: Picture, one: Clear, at: Point, *, smallest: bool) -> Label:
    text = f"{one.ring.name}, {size_text(one.ring)}"
    if not smallest:
        return Label(Lane.FAR_RIGHT, at, text)
    mark = picture.marks.of(*THROUGH)
    first = "" if one.ring is picture.way.scene.space.opening else "smallest ring: "
    return Label(Lane.FAR_RIGHT, at, mark.after(f"{first}{text}"), mark.fails)


def _smallest(picture: Picture) -> Clear:
    """The ring with the least clear size, or the opening where one is not measured."""
    scene = picture.way.scene
    every = rings(scene)
    if unmeasured(scene):
        return every[0]
    return min(every, key=lambda one: one.available.value)


def _needed(picture: Picture) -> tuple[Label, ...]:
    """The size that the casualty needs, where it was worked out."""
    found = picture.marks.compared("clearance/casualty-too-wide")
    if found is None:
        return ()
    words = picture.words(found.result.value, Unit.M)
    at = (picture.measures.opening / 2, picture.measures.coaming)
    return (Label(Lane.FAR_RIGHT, at, f"needed for the casualty {words}"),)


def obstructions(picture: Picture) -> Part:
    """Ladders, pipes and ledges by depth, the tightest marked, and the room needed, dashed."""
    there = picture.way.scene.space.obstruction
    if not there:
        return Part()
    m, tight = picture.measures, _tightest(picture)
    mark, found = picture.marks.of(SHAFT), picture.marks.compared(SHAFT)
    shapes: list[Stroke | Disc] = []
    labels = []
    for one in there:
        right = math.cos(one.towards.rad) >= -LEVEL
        wall, sign = (m.right, -1.0) if right else (m.left, 1.0)
        inner = wall + sign * one.reaches_in.m
        shapes.append(box(wall, -one.to_depth.m, inner, -one.from_depth.m, Pen.SOLID))
        text, fails = _says(picture, one), False
        if one is tight and found is not None:
            room = picture.words(found.result.value, Unit.M)
            text, fails = mark.after(f"{text}; TIGHTEST, room {room}"), mark.fails
        lane = Lane.FAR_RIGHT if right else Lane.FAR_LEFT
        labels.append(Label(lane, (inner, -(one.from_depth.m + one.to_depth.m) / 2), text, fails))
    notes = ["Ladders, pipes and ledges are turned into the plane of the section."]
    if found is None:
        notes.append(mark.after("Room round the line in the shaft"))
    else:
        need = found.limit.value
        shapes += [Stroke(((x, 0.0), (x, -m.depth)), Pen.REQUIRED) for x in (-need, need)]
        text = f"room required round the line {picture.words(need, Unit.M)}"
        labels.append(Label(Lane.FAR_LEFT, (-need, -0.6 * m.depth), text))
    return Part(tuple(shapes), labels=tuple(labels), notes=tuple(notes))


def _says(picture: Picture, one: Obstruction) -> str:
    first, last = (picture.words(each.m, Unit.M) for each in (one.from_depth, one.to_depth))
    turn = f"{math.degrees(one.towards.rad):.0f}\N{DEGREE SIGN}"
    return f"{one.name}, {first} to {last} down, towards {turn}"


def _tightest(picture: Picture) -> Obstruction | None:
    """What comes nearest to the line, or None where line or shaft are not measured."""
    way, needs = picture.way, Needs()
    shaft, at = section_of(way.scene, needs), way.rig.plumb_at if way.rig else None
    if needs.missing or at is None:
        return None
    named = zip(way.scene.space.obstruction, obstructions_of(way.scene), strict=True)
    return min(named, key=lambda pair: pair[1].gap_m(shaft, at[0].m, at[1].m))[0]
