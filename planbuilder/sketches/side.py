"""Section through a manway in a wall: sills inside and outside, neck, table. The sill is y = 0."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.casualty import largest
from planbuilder.checks.scene import Scene, Way
from planbuilder.findings import Finding, Unit
from planbuilder.sketches.down import THROUGH, size_text
from planbuilder.sketches.hanging import HEAD_RADIUS_M
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
    assembled,
    box,
)

GUESSED_M = {"opening": 0.6, "neck": 0.1, "sill inside": 0.6, "sill outside": 0.6}
WALL_ABOVE_M = 0.6
FLOOR_M = 1.6  # how much floor and platform is drawn beside the wall
SLAB_M = 0.1
SILL, TABLE = "clearance/sill-too-high", "clearance/manway-table-too-short"
RUN = "clearance/stretcher-longer-than-room"


@dataclass(frozen=True, slots=True)
class _Sizes:
    """The sizes of the manway; a guessed one is named."""

    high: float
    neck: float
    inside: float
    outside: float
    table: float
    guesses: tuple[str, ...]


def side_section(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The section of a manway in a wall, or None where the space is not entered from the side."""
    if not scene.space.opening.from_side or not scene.space.is_confined:
        return None
    way = next(scene.ways())
    sizes, marks = _sizes(scene), Marks(findings, way.name)
    parts = (
        _wall(sizes),
        _sills(scene, sizes, words, marks),
        _opening(scene, sizes, words, marks),
        _table(way, sizes, words, marks),
        _runs(scene, words, marks),
    )
    return assembled(f"Manway of {scene.space.name}, from the side", parts, pad=0.05)


def _sizes(scene: Scene) -> _Sizes:
    opening = scene.space.opening
    sides = [one.m for one in (opening.length, opening.width) if one]
    high = opening.diameter.m if opening.diameter else min(sides, default=None)
    known = {
        "opening": high,
        "neck": opening.neck.m if opening.neck else None,
        "sill inside": scene.space.shape.depth.m if scene.space.shape.depth else None,
        "sill outside": opening.sill_outside.m if opening.sill_outside else None,
    }
    drawn = {name: GUESSED_M[name] if one is None else one for name, one in known.items()}
    return _Sizes(
        high=drawn["opening"],
        neck=drawn["neck"],
        inside=drawn["sill inside"],
        outside=drawn["sill outside"],
        table=opening.landing.m if opening.landing else 0.0,
        guesses=tuple(name for name, one in known.items() if one is None),
    )


def _wall(one: _Sizes) -> Part:
    """Wall, floor inside to the right, platform outside to the left; dashed where guessed."""
    out = -one.neck - max(FLOOR_M, one.table + 0.2)
    low = min(-one.inside, -one.outside) - SLAB_M
    pen = Pen.GUESS if one.guesses else Pen.WALL
    shapes = (
        box(out, -one.outside - SLAB_M, -one.neck, -one.outside, Pen.GROUND),
        box(0.0, -one.inside - SLAB_M, FLOOR_M, -one.inside, Pen.GROUND),
        box(-one.neck, low, 0.0, 0.0, Pen.SOLID),
        box(-one.neck, one.high, 0.0, one.high + WALL_ABOVE_M, Pen.SOLID),
        Stroke(((out, -one.outside), (-one.neck, -one.outside), (-one.neck, 0.0)), pen),
        Stroke(((FLOOR_M, -one.inside), (0.0, -one.inside), (0.0, 0.0)), pen),
        Stroke(((-one.neck, 0.0), (0.0, 0.0)), pen),
    )
    labels = (
        Label(Lane.FAR_LEFT, (out, -one.outside), "platform outside"),
        Label(Lane.FAR_RIGHT, (FLOOR_M, -one.inside), "floor inside"),
    )
    return Part(shapes, labels=labels, guesses=one.guesses)


def _sills(scene: Scene, one: _Sizes, words: Words, marks: Marks) -> Part:
    """Both sills, and dashed the height up to which nobody needs a foothold."""
    rows, shapes = [], []
    limit = scene.defaults.of("sill-height").value
    for side, high, lane, x in (
        ("inside", one.inside, Lane.RIGHT, FLOOR_M),
        ("outside", one.outside, Lane.LEFT, -one.neck - FLOOR_M),
    ):
        if f"sill {side}" in one.guesses:
            continue
        mark = marks.of(SILL, thing=side)
        text = mark.after(f"sill {side} {words(high, Unit.M)}")
        wall = 0.0 if lane is Lane.RIGHT else -one.neck
        if high > 0:
            rows.append(Dimension(lane, -high, 0.0, wall, text, fails=mark.fails))
        kept = f"without footholds at most {words(limit, Unit.M)}"
        rows.append(Dimension(lane, -high, limit - high, wall, kept, required=True))
        shapes.append(Stroke(((wall, limit - high), (x, limit - high)), Pen.REQUIRED))
    notes = ("Footholds are there.",) if scene.space.opening.footholds else ()
    return Part(tuple(shapes), tuple(rows), notes=notes)


def _opening(scene: Scene, one: _Sizes, words: Words, marks: Marks) -> Part:
    opening, mark = scene.space.opening, marks.of(*THROUGH)
    text = mark.after(f"{opening.name}, {size_text(opening)}")
    labels = [Label(Lane.FAR_RIGHT, (0.0, one.high), text, mark.fails)]
    found = marks.compared("clearance/casualty-too-wide")
    if found is not None:
        words_ = words(found.result.value, Unit.M)
        labels.append(Label(Lane.FAR_RIGHT, (0.0, one.high / 2), f"needed for casualty {words_}"))
    rows: tuple[Dimension, ...] = ()
    if "neck" not in one.guesses and one.neck > 0:
        label = f"neck {words(one.neck, Unit.M)}"
        rows = (Dimension(Lane.BELOW, -one.neck, 0.0, 0.0, label),)
    notes: tuple[str, ...] = ()
    if opening.diameter is None:
        notes = ("Which side of the opening stands upright is not stated: the shorter is drawn.",)
    return Part(dimensions=rows, labels=tuple(labels), notes=notes)


def _table(way: Way, one: _Sizes, words: Words, marks: Marks) -> Part:
    """The table outside with the casualty drawn out on it, dashed."""
    mark = marks.of(TABLE)
    if one.table <= 0:
        return Part(notes=(mark.after("Table outside the manway"),) if mark.words else ())
    left, right = -one.neck - one.table, -one.neck
    tall = largest(way.scene, "stature").value
    shapes: tuple[Stroke | Disc, ...] = (
        box(left, -0.04, right, 0.0, Pen.SOLID),
        Disc((right - tall + HEAD_RADIUS_M, HEAD_RADIUS_M), HEAD_RADIUS_M, Pen.GHOST),
        box(right - tall + 2.2 * HEAD_RADIUS_M, 0.0, right, 0.22, Pen.GHOST),
    )
    text = mark.after(f"table {words(one.table, Unit.M)}")
    need = f"casualty {words(tall, Unit.M)}"
    rows = (
        Dimension(Lane.BELOW, left, right, 0.0, text, fails=mark.fails),
        Dimension(Lane.BELOW, right - tall, right, 0.0, need, required=True),
    )
    return Part(shapes, rows, notes=("The table is drawn at the level of the sill.",))


def _runs(scene: Scene, words: Words, marks: Marks) -> Part:
    """The straight run on each side, in words: it may be far longer than what is drawn."""
    opening, mark = scene.space.opening, marks.of(RUN)
    named = (("outside", opening.clear_outside), ("inside", opening.clear_inside))
    said = [f"{side} {words(one.m, Unit.M)}" for side, one in named if one]
    if not said:
        return Part()
    return Part(notes=(mark.after(f"Clear straight run, not drawn in full: {', '.join(said)}"),))
