"""Plan of a base: feet, opening, the load line over its permitted swing, its worst place.

A fixed base is drawn without a polygon and says why: it sets no limit on reach by tipping.
"""

from __future__ import annotations

import math

from planbuilder.checks.scene import Way
from planbuilder.checks.supports.base import FIXED
from planbuilder.findings import Unit
from planbuilder.haul.base import line_inside_base_m, worst_swing_rad
from planbuilder.site.rig import Rig
from planbuilder.site.supports import LeggedBaseDavit
from planbuilder.sketches.shapes import (
    Dimension,
    Disc,
    Label,
    Lane,
    Pen,
    Point,
    Sketch,
    Stroke,
    Words,
)

MAST_M = 0.06
ARC_STEPS = 36


def base_plan(way: Way, words: Words) -> Sketch | None:
    """The plan of the base of *way*, or None where it has no arm or is not measured."""
    rig = way.rig
    support = way.scene.support(rig.support) if rig else None
    if rig is not None and rig.reach is not None and support is not None and support.kind in FIXED:
        return _fixed(way, rig, words)
    if rig is None or not isinstance(support, LeggedBaseDavit) or not support.feet:
        return None
    if rig.reach is None or rig.swing_from is None or rig.swing_to is None:
        return None
    feet = [(x.m, y.m) for x, y in support.feet]
    reach_m, first_rad, last_rad = rig.reach.m, rig.swing_from.rad, rig.swing_to.rad
    try:
        inside_m = line_inside_base_m(
            feet=feet, reach_m=reach_m, swing_from_rad=first_rad, swing_to_rad=last_rad
        )
        worst_rad = worst_swing_rad(
            feet=feet, reach_m=reach_m, swing_from_rad=first_rad, swing_to_rad=last_rad
        )
    except ValueError:
        return None
    worst = _at(rig, worst_rad)
    word = "inside" if inside_m >= 0 else "OUTSIDE"
    label = f"worst place of the line: {words(abs(inside_m), Unit.M)} {word}"
    return _sketch(way, rig, feet, worst, label, words)


def _fixed(way: Way, rig: Rig, words: Words) -> Sketch:
    """Mast, opening and reach; the swing only where it is stated."""
    support, centre = way.scene.support(rig.support), _at(rig, 0.0)
    opening = way.scene.space.opening.diameter or way.scene.space.opening.width
    round_m = opening.m / 2 if opening else MAST_M
    arc = _arc(rig) if rig.swing_from and rig.swing_to else ()
    shapes: list[Stroke | Disc] = [Disc(centre, round_m, Pen.RING)] if opening else []
    shapes += [Stroke(arc, Pen.LINE)] if arc else []
    shapes += [Stroke(((0.0, 0.0), centre), Pen.SUPPORT), Disc((0.0, 0.0), MAST_M, Pen.BODY)]
    rated = support.rated_reach
    line = f"line; rated up to a reach of {words(rated.m, Unit.M)}" if rated else "line"
    reach = f"reach {words(centre[0], Unit.M)}"
    xs, ys = [0.0, centre[0] + round_m, *(x for x, _ in arc)], [round_m, *(y for _, y in arc)]
    low, high = min(-round_m, *ys), max(ys)
    return Sketch(
        title=f"Base of {support.name}, {way.name} method, from above: fixed, its rating and "
        "its fixing limit the reach, not tipping",
        shapes=tuple(shapes),
        dimensions=(Dimension(Lane.BELOW, 0.0, centre[0], low, reach),),
        labels=(
            Label(Lane.FAR_LEFT, (0.0, 0.0), f"mast, {FIXED[support.kind]}"),
            Label(Lane.FAR_RIGHT, centre, line),
        ),
        guesses=(),
        left=min(xs) - 0.1,
        right=max(xs) + 0.1,
        top=high + 0.1,
        bottom=low - 0.1,
    )


def _arc(rig: Rig) -> tuple[Point, ...]:
    """The line's way over its permitted swing."""
    first, last = (one.rad if one else 0.0 for one in (rig.swing_from, rig.swing_to))
    return tuple(_at(rig, first + (last - first) * n / ARC_STEPS) for n in range(ARC_STEPS + 1))


def _at(rig: Rig, swing_rad: float) -> Point:
    reach_m = rig.reach.m if rig.reach else 0.0
    return (reach_m * math.cos(swing_rad), reach_m * math.sin(swing_rad))


def _sketch(
    way: Way, rig: Rig, feet: list[Point], worst: Point, label: str, words: Words
) -> Sketch:
    opening = way.scene.space.opening.diameter or way.scene.space.opening.width
    arc = _arc(rig)
    middle = (sum(x for x, _ in feet) / len(feet), sum(y for _, y in feet) / len(feet))
    around = sorted(feet, key=lambda f: math.atan2(f[1] - middle[1], f[0] - middle[0]))
    centre = _at(rig, 0.0)
    shapes: list[Stroke | Disc] = [Stroke(tuple(around), Pen.GROUND, closed=True)]
    if opening is not None:
        shapes.append(Disc(centre, opening.m / 2, Pen.RING))
    shapes += [
        Stroke(tuple(around), Pen.WALL, closed=True),
        Stroke(arc, Pen.LINE),
        Stroke(((0.0, 0.0), centre), Pen.SUPPORT),
        Disc((0.0, 0.0), MAST_M, Pen.BODY),
        *(Disc(foot, MAST_M * 0.7, Pen.RIM) for foot in feet),
        Disc(worst, MAST_M * 0.7, Pen.BODY),
    ]
    xs, ys = [x for x, _ in (*feet, *arc)], [y for _, y in (*feet, *arc)]
    reach = f"reach {words(rig.reach.m, Unit.M)}" if rig.reach else ""
    return Sketch(
        title=f"Base of {way.scene.support(rig.support).name}, {way.name} method, "
        "from above: portable, the load line has to stay inside its feet",
        shapes=tuple(shapes),
        dimensions=(Dimension(Lane.BELOW, 0.0, centre[0], min(ys), reach),),
        labels=(
            Label(Lane.FAR_RIGHT, worst, label),
            Label(Lane.FAR_LEFT, (0.0, 0.0), "mast"),
            Label(Lane.FAR_RIGHT, (centre[0], 0.0), "opening"),
            Label(Lane.FAR_LEFT, arc[0], "permitted swing of the line"),
        ),
        guesses=(),
        left=min(xs) - 0.1,
        right=max(xs) + 0.1,
        top=max(ys) + 0.1,
        bottom=min(ys) - 0.1,
    )
