"""The place from above: opening, feet, arm and its turn, set-back, landing. To the mast, not north.

x runs from the mast to the opening with the arm over it; where there is no arm, the opening's
middle is x = 0.
"""

from __future__ import annotations

import math

from planbuilder.checks.scene import Way
from planbuilder.clearance.place import (
    feet_to_edge_m,
    nearest_foot_m,
)
from planbuilder.findings import Finding, Unit
from planbuilder.site.opening import OpeningShape
from planbuilder.site.supports import LeggedBaseDavit, Tripod
from planbuilder.sketches.arm import Place, arm, halves, sweep, turn
from planbuilder.sketches.down import size_text
from planbuilder.sketches.marks import Marks
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

FOOT_M = 0.05
OVAL_STEPS = 48
SIDES = ("longer side", "shorter side")  # as the check of the landing names them
DATUM = "Datum: the mast, or the middle of the opening where there is none. North is not stated."


def place_plan(way: Way, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The plan of the place of *way*, or None where nothing stands round its opening."""
    space = way.scene.space
    if way.rig is None or not space.is_confined or space.opening.from_side:
        return None
    reach = way.rig.reach.m if way.rig.reach else 0.0
    half_x, half_y = halves(way)
    plan = Place(way, (reach, 0.0), half_x, half_y, words, Marks(findings, way.name))
    beside = (_feet(plan), arm(plan), turn(plan), sweep(plan), _landing(plan))
    if not any(one.shapes for one in beside) and way.rig.off_centre is None:
        return None  # an opening alone says nothing that the section does not
    parts = (_opening(plan), *beside)
    title = f"Place of {space.name} from above, {way.name} method"
    return assembled(title, (*parts, Part(notes=(DATUM,))), pad=0.1)


def _opening(plan: Place) -> Part:
    opening, (x, y) = plan.way.scene.space.opening, plan.middle
    known = opening.shape is not None and (opening.diameter or (opening.length and opening.width))
    pen = Pen.RING if known else Pen.GUESS
    if opening.shape is OpeningShape.RECTANGULAR:
        outline: Stroke | Disc = box(
            x - plan.half_x, y - plan.half_y, x + plan.half_x, y + plan.half_y, pen
        )
    elif opening.shape is OpeningShape.OVAL:
        turns = [2 * math.pi * n / OVAL_STEPS for n in range(OVAL_STEPS)]
        points = [(x + plan.half_x * math.cos(t), y + plan.half_y * math.sin(t)) for t in turns]
        outline = Stroke(tuple(points), pen, closed=True)
    else:
        outline = Disc(plan.middle, plan.half_x, pen)
    mark = plan.marks.of("clearance/line-off-centre")
    off = plan.way.rig.off_centre if plan.way.rig else None
    text = f"{opening.name}, {size_text(opening)}"
    if off is not None and (off.m > 0 or mark.words):
        text = mark.after(f"{text}; line {plan.words(off.m, Unit.M)} off its centre")
    notes: tuple[str, ...] = ()
    if opening.shape is not OpeningShape.ROUND:
        notes = ("How the opening is turned is not stated: its longer side is drawn across.",)
    label = Label(Lane.FAR_RIGHT, (x + plan.half_x, y), text, mark.fails)
    return Part((outline,), labels=(label,), guesses=() if known else ("opening",), notes=notes)


def _feet(plan: Place) -> Part:
    """Feet with their circle or outline, and the ring that they have to stay out of, dashed."""
    rig = plan.way.rig
    support = plan.way.scene.support(rig.support) if rig else None
    if not isinstance(support, Tripod | LeggedBaseDavit):
        return Part()
    mark = plan.marks.of("clearance/feet-near-edge")
    feet, notes = _where(plan, support)
    if not feet:
        return Part(notes=(mark.after("Feet of the support are not measured"),))
    back = plan.way.scene.defaults.of("set-back").value
    middle = (sum(x for x, _ in feet) / len(feet), sum(y for _, y in feet) / len(feet))
    around = sorted(feet, key=lambda f: math.atan2(f[1] - middle[1], f[0] - middle[0]))
    ring = plan.corner + back
    shapes: list[Stroke | Disc] = [
        Stroke(tuple(around), Pen.AVAILABLE, closed=True),
        *(Disc(one, FOOT_M, Pen.RIM) for one in feet),
        arc(plan.middle, ring, 0.0, 2 * math.pi, Pen.REQUIRED),
    ]
    if isinstance(support, Tripod) and support.foot_radius:
        shapes.append(arc(plan.middle, support.foot_radius.m, 0.0, 2 * math.pi, Pen.AVAILABLE))
    near = min(feet, key=lambda one: math.dist(one, plan.middle))
    off = rig.off_centre.m if rig and rig.off_centre else 0.0
    foot = nearest_foot_m(feet=feet, over=plan.middle)
    gap = feet_to_edge_m(foot_m=foot, corner_m=plan.corner, off_centre_m=off)
    text = mark.after(f"nearest foot {plan.words(gap, Unit.M)} off the edge")
    kept = f"set-back required {plan.words(back, Unit.M)}"
    labels = (
        Label(Lane.FAR_LEFT, near, text, mark.fails),
        Label(Lane.FAR_RIGHT, (plan.middle[0], plan.middle[1] + ring), kept),
    )
    return Part(tuple(shapes), labels=labels, notes=notes)


def _where(plan: Place, support: Tripod | LeggedBaseDavit) -> tuple[list[Point], tuple[str, ...]]:
    """The feet as measured; those of a tripod may be known by their circle alone."""
    if isinstance(support, Tripod) and support.foot_radius and not support.feet:
        x, y = plan.middle
        radius = support.foot_radius.m
        turns = [math.pi / 2 + 2 * math.pi * n / 3 for n in range(3)]
        feet = [(x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]
        return feet, ("How the tripod is turned is not stated.",)
    return [(x.m, y.m) for x, y in support.feet or ()], ()


def _landing(plan: Place) -> Part:
    """Where the casualty is put down, solid, and the place required, dashed."""
    landing, of = plan.way.scene.space.landing, plan.way.scene.defaults.of
    if landing is None:
        return Part()
    x, rim = plan.middle[0], plan.middle[0] + plan.half_x
    long, wide = sorted((landing.length.m, landing.width.m), reverse=True)
    near, need = rim + landing.from_opening.m, rim + of("landing-off").value
    need_long, need_wide = of("landing-length").value, of("landing-width").value
    shapes = (
        box(near, -long / 2, near + wide, long / 2, Pen.AVAILABLE),
        box(need, -need_long / 2, need + need_wide, need_long / 2, Pen.REQUIRED),
    )
    sides = [plan.marks.of("clearance/landing-too-small", thing=one) for one in SIDES]
    small = next((one for one in sides if one.words), sides[0])
    off = plan.marks.of("clearance/landing-near-opening")
    say = plan.words
    size = f"landing {landing.length.written} by {landing.width.written}"
    least = f"required {say(need_long, Unit.M)} by {say(need_wide, Unit.M)}"
    away = f"landing off {say(landing.from_opening.m, Unit.M)}"
    labels = (
        Label(Lane.FAR_RIGHT, (near + wide, long / 4), small.after(size), small.fails),
        Label(Lane.FAR_RIGHT, (need + need_wide, -need_long / 4), least),
    )
    rows = [
        Dimension(Lane.BELOW, rim, need, x, f"required {say(need - rim, Unit.M)}", required=True)
    ]
    if landing.from_opening.m > 0:
        rows.append(Dimension(Lane.BELOW, rim, near, x, off.after(away), fails=off.fails))
    note = "On which side of the opening the landing place lies is not stated."
    return Part(shapes, tuple(rows), labels, notes=(note,))
