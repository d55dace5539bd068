"""Section through a space: opening, depth, support, line, casualty below and at full lift."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.arrangement.sketched import guessed
from planbuilder.checks.casualty import largest
from planbuilder.checks.scene import Scene, Way
from planbuilder.clearance.lift import Attachment, attachment_to_toe_m, feet_above_rim_m
from planbuilder.findings import Unit
from planbuilder.site.supports import (
    HorizontalLifeline,
    LeggedBaseDavit,
    Structure,
    Support,
    Tripod,
)
from planbuilder.sketches.shapes import Dimension, Disc, Label, Lane, Pen, Point, Sketch, Stroke

Words = Callable[[float, Unit], str]

# Used only to draw something where a measure is missing: dashed, and named as a guess.
GUESSED_DEPTH_M = 3.0
GUESSED_OPENING_M = 0.6
GUESSED_HOOK_M = 2.2
GROUND_M = 0.6  # how much ground is drawn beside the space
EDGE_GAP_M = 0.25  # from the edge of a deck to the line
HEAD_RADIUS_M = 0.11


@dataclass(frozen=True, slots=True)
class _Measures:
    """The measures of one section, each known or guessed."""

    depth: float
    opening: float
    inside: float
    coaming: float
    liquid: float
    hook: float | None
    guesses: tuple[str, ...]


def section(way: Way, words: Words) -> Sketch:
    """The section of the space of *way*, with its rig if it has one.

    *words* turns a value and its unit into the reader's words.
    """
    m = _measures(way)
    support = way.scene.support(way.rig.support) if way.rig else None
    place = _space(m) if way.scene.space.is_confined else _edge(m)
    shapes = [*place, *(_support(way, support, m) if support else ())]
    if m.hook is not None:
        shapes += _line_and_bodies(way, m, m.hook)
    xs = [x for one in shapes for x, _ in _points(one)]
    reach = max(abs(min(xs)), *xs)
    return Sketch(
        title=f"Section of {way.scene.space.name}, {way.name} method",
        shapes=tuple(shapes),
        dimensions=_dimensions(way, m, words),
        labels=_labels(way, support, m),
        guesses=m.guesses,
        left=min(*xs, -reach),
        right=max(*xs, reach),
        top=max(y for one in shapes for _, y in _points(one)) + 0.15,
        bottom=-m.depth - 0.2,
    )


def _points(shape: Stroke | Disc) -> tuple[Point, ...]:
    if isinstance(shape, Stroke):
        return shape.points
    (x, y), r = shape.centre, shape.radius
    return ((x - r, y - r), (x + r, y + r))


def _measures(way: Way) -> _Measures:
    scene = way.scene
    opening, shape, depth = scene.space.opening, scene.space.shape, scene.down[0]
    clear = opening.diameter or opening.width
    hook = None
    if way.rig is not None:
        hook = way.rig.hook_height.m if way.rig.hook_height else GUESSED_HOOK_M
    clear_m = clear.m if clear else GUESSED_OPENING_M
    return _Measures(
        depth=depth.m if depth else GUESSED_DEPTH_M,
        opening=clear_m,
        inside=max(shape.inside_width.m if shape.inside_width else 2 * clear_m, clear_m),
        coaming=opening.coaming.m if opening.coaming else 0.0,
        liquid=shape.liquid_depth.m if shape.liquid_depth else 0.0,
        hook=hook,
        guesses=tuple(guessed(way)),
    )


def _attachment(way: Way) -> Attachment:
    """Where the line is drawn to the body: at the back, if nobody said where."""
    stated = way.rig.attachment if way.rig else None
    return Attachment(stated.value) if stated else Attachment.DORSAL


def _space(m: _Measures) -> list[Stroke | Disc]:
    half, wide = m.opening / 2, m.inside / 2
    edge, floor = wide + GROUND_M, -m.depth
    unsure = Pen.GUESS if {"opening", "depth", "inside width"} & set(m.guesses) else Pen.WALL
    shapes: list[Stroke | Disc] = [
        _box(-edge, floor - 0.2, edge, 0.0, Pen.GROUND),
        _box(-wide, floor, wide, 0.0, Pen.INSIDE),
    ]
    if m.liquid > 0:
        shapes.append(_box(-wide, floor, wide, floor + min(m.liquid, m.depth), Pen.LIQUID))
    shapes += [
        Stroke(
            ((-half, 0.0), (-wide, 0.0), (-wide, floor), (wide, floor), (wide, 0.0), (half, 0.0)),
            unsure,
        ),
        Stroke(((-edge, 0.0), (-wide, 0.0)), Pen.WALL),
        Stroke(((wide, 0.0), (edge, 0.0)), Pen.WALL),
    ]
    for side in (-1, 1):
        outer = side * (half + 0.08)
        shapes.append(_box(side * half, 0.0, outer, max(m.coaming, 0.03), Pen.RIM))
    return shapes


def _edge(m: _Measures) -> list[Stroke | Disc]:
    """A raised position: the deck to the left of the line, the level below it to the right."""
    left, right, deck = -m.opening - 1.2, m.inside / 2 + GROUND_M, -EDGE_GAP_M
    pen = Pen.GUESS if "depth" in m.guesses else Pen.WALL
    return [
        _box(left, -m.depth - 0.2, right, -m.depth, Pen.GROUND),
        _box(left, -m.depth, deck, 0.0, Pen.GROUND),
        Stroke(((left, 0.0), (deck, 0.0), (deck, -m.depth), (right, -m.depth)), pen),
    ]


def _box(x1: float, y1: float, x2: float, y2: float, pen: Pen) -> Stroke:
    return Stroke(((x1, y1), (x2, y1), (x2, y2), (x1, y2)), pen, closed=True)


def _support(way: Way, support: Support, m: _Measures) -> list[Stroke | Disc]:
    hook = m.hook if m.hook is not None else GUESSED_HOOK_M
    match support:
        case LeggedBaseDavit():
            return _davit(way, support, hook)
        case Tripod():
            return _tripod(support, hook)
        case Structure() | HorizontalLifeline():
            wide = m.inside / 2 + GROUND_M
            return [_box(-wide, hook + 0.06, wide, hook + 0.2, Pen.SUPPORT)]
        case _:
            arm = way.rig.reach.m if way.rig and way.rig.reach else m.opening / 2 + 0.3
            return [Stroke(((-arm, 0.0), (-arm, hook + 0.1), (0.0, hook + 0.1)), Pen.SUPPORT)]


def _davit(way: Way, support: LeggedBaseDavit, hook: float) -> list[Stroke | Disc]:
    known = way.rig is not None and way.rig.reach is not None
    reach = way.rig.reach.m if way.rig and way.rig.reach else 0.8
    pen = Pen.SUPPORT if known else Pen.GUESS
    shapes: list[Stroke | Disc] = [
        Stroke(((-reach, 0.0), (-reach, hook + 0.1), (0.0, hook + 0.1), (0.0, hook)), pen)
    ]
    if support.feet:
        feet = [x.m - reach for x, _ in support.feet]
        shapes.append(Stroke(((min(feet), 0.04), (max(feet), 0.04)), Pen.SUPPORT))
        shapes += [_box(x - 0.05, 0.0, x + 0.05, 0.04, Pen.SUPPORT) for x in (min(feet), max(feet))]
    return shapes


def _tripod(support: Tripod, hook: float) -> list[Stroke | Disc]:
    top = hook + 0.1
    if support.feet:
        feet, pen = [x.m for x, _ in support.feet], Pen.SUPPORT
    elif support.foot_radius:
        feet, pen = [-support.foot_radius.m, support.foot_radius.m], Pen.SUPPORT
    else:
        feet, pen = [-0.42 * top, 0.42 * top], Pen.GUESS
    return [Stroke(((x, 0.0), (0.0, top)), pen) for x in feet]


def _line_and_bodies(way: Way, m: _Measures, hook: float) -> list[Stroke | Disc]:
    rig = way.rig
    if rig is None:
        return []
    stature = largest(way.scene, "stature").value
    between = sum(one.m for one in (rig.block, rig.connector, rig.sling) if one)
    attach = hook - between
    lying = way.scene.defaults.of("lying-attachment-height").value
    return [
        Stroke(((0.0, hook), (0.0, -m.depth + lying)), Pen.LINE),
        *_hanging(way, attach, stature),
        *_lying(stature, m),
    ]


def _hanging(way: Way, attach: float, stature: float) -> list[Stroke | Disc]:
    toe = attach - attachment_to_toe_m(
        attachment=_attachment(way),
        stature_m=stature,
        harness_stretch_m=way.scene.defaults.of("hanging-stretch").value,
    )
    hip, shoulder = toe + 0.13 + 0.48 * stature, toe + 0.13 + 0.82 * stature
    head = shoulder + 0.10 * stature
    return [
        Disc((0.03, head), HEAD_RADIUS_M, Pen.BODY),
        Stroke(
            (
                (-0.12, shoulder),
                (0.14, shoulder),
                (0.15, hip),
                (0.11, toe + 0.05),
                (0.08, toe),
                (-0.06, toe),
                (-0.10, hip),
            ),
            Pen.BODY,
            closed=True,
        ),
    ]


def _lying(stature: float, m: _Measures) -> list[Stroke | Disc]:
    floor = -m.depth
    length = min(stature, 0.92 * m.inside)
    x = -length / 2
    return [
        Disc((x + HEAD_RADIUS_M, floor + HEAD_RADIUS_M), HEAD_RADIUS_M, Pen.GHOST),
        _box(x + 2.2 * HEAD_RADIUS_M, floor, x + length, floor + 0.22, Pen.GHOST),
    ]


def _dimensions(way: Way, m: _Measures, words: Words) -> tuple[Dimension, ...]:
    wide, half = m.inside / 2, m.opening / 2
    rows = []
    if "depth" not in m.guesses:
        name = "depth" if way.scene.space.is_confined else "height"
        rows.append(Dimension(Lane.LEFT, -m.depth, 0.0, -wide, f"{name} {words(m.depth, Unit.M)}"))
    if m.liquid > 0:
        label = f"liquid {words(m.liquid, Unit.M)}"
        rows.append(Dimension(Lane.RIGHT, -m.depth, -m.depth + m.liquid, wide, label))
    if m.hook is not None and "hook height" not in m.guesses:
        rows.append(Dimension(Lane.RIGHT, 0.0, m.hook, 0.0, f"hook {words(m.hook, Unit.M)}"))
    if way.scene.space.shape.inside_width:
        label = f"inside width {words(m.inside, Unit.M)}"
        rows.append(Dimension(Lane.BELOW, -wide, wide, -m.depth, label))
    feet = _feet_clear(way, m) if way.scene.space.is_confined else None
    if feet is not None and feet > 0:
        label = f"feet above rim {words(feet, Unit.M)}"
        rows.append(Dimension(Lane.LEFT, m.coaming, m.coaming + feet, -half, label))
    return tuple(rows)


def _feet_clear(way: Way, m: _Measures) -> float | None:
    rig = way.rig
    if rig is None or m.hook is None or rig.block is None or rig.connector is None:
        return None
    sling = rig.sling.m if rig.sling else 0.0
    to_toe = attachment_to_toe_m(
        attachment=_attachment(way),
        stature_m=largest(way.scene, "stature").value,
        harness_stretch_m=way.scene.defaults.of("hanging-stretch").value,
    )
    return feet_above_rim_m(
        hook_height_m=m.hook,
        block_m=rig.block.m,
        connector_m=rig.connector.m,
        sling_m=sling,
        attachment_to_toe_m=to_toe,
        coaming_m=m.coaming,
    )


def _labels(way: Way, support: Support | None, m: _Measures) -> tuple[Label, ...]:
    scene: Scene = way.scene
    opening = scene.space.opening
    clear = opening.diameter or opening.width
    rows = []
    if clear is not None:
        kind = opening.shape or ("round" if opening.diameter else "rectangular")
        size = clear.written.replace(" ", "\N{NO-BREAK SPACE}")
        rows.append(Label(Lane.FAR_RIGHT, (m.opening / 2, 0.0), f"opening, {kind}, {size}"))
    if support is not None and m.hook is not None:
        rows.append(Label(Lane.FAR_LEFT, (0.0, m.hook), support.name))
    return tuple(rows)
