"""What stands and hangs over an opening: the support, a roof over it, the way it is raised."""

from __future__ import annotations

import math

from planbuilder.clearance.overhead import raised_tip_m, room_above_head_m
from planbuilder.findings import Unit
from planbuilder.site.supports import HorizontalLifeline, LeggedBaseDavit, Structure, Tripod
from planbuilder.sketches.measures import GUESSED_HOOK_M, Picture
from planbuilder.sketches.shapes import Dimension, Disc, Label, Lane, Part, Pen, Stroke, arc, box

GROUND_M = 0.6  # how much ground is drawn beside the space
ROOF_M = 0.15  # how thick what hangs overhead is drawn
PAST_PEAK_RAD = 0.4  # the arc is drawn from where the boom stops to a little past its peak


def support(picture: Picture) -> Part:
    """The support as the site file places it, with its name."""
    way, m = picture.way, picture.measures
    if way.rig is None:
        return Part()
    one, hook = way.scene.support(way.rig.support), m.hook if m.hook is not None else GUESSED_HOOK_M
    match one:
        case LeggedBaseDavit():
            shapes = _davit(picture, one, hook)
        case Tripod():
            shapes = _tripod(one, hook + m.head)
        case Structure() | HorizontalLifeline():
            wide = m.inside / 2 + GROUND_M
            shapes = [box(-wide, hook + 0.06, wide, hook + 0.2, Pen.SUPPORT)]
        case _:
            arm = way.rig.reach.m if way.rig.reach else m.opening / 2 + 0.3
            pen = Pen.SUPPORT if way.rig.reach else Pen.GUESS
            top = hook + m.head
            shapes = [Stroke(((-arm, 0.0), (-arm, top), (0.0, top)), pen)]
    labels = (Label(Lane.FAR_LEFT, (0.0, hook), one.name),)
    return Part(tuple(shapes), labels=labels, notes=m.notes)


def _davit(picture: Picture, one: LeggedBaseDavit, hook: float) -> list[Stroke | Disc]:
    rig = picture.way.rig
    known = rig is not None and rig.reach is not None
    reach, top = rig.reach.m if rig and rig.reach else 0.8, hook + picture.measures.head
    pen = Pen.SUPPORT if known else Pen.GUESS
    shapes: list[Stroke | Disc] = [
        Stroke(((-reach, 0.0), (-reach, top), (0.0, top), (0.0, hook)), pen)
    ]
    if one.feet:
        feet = [x.m - reach for x, _ in one.feet]
        shapes.append(Stroke(((min(feet), 0.04), (max(feet), 0.04)), Pen.SUPPORT))
        shapes += [box(x - 0.05, 0.0, x + 0.05, 0.04, Pen.SUPPORT) for x in (min(feet), max(feet))]
    return shapes


def _tripod(one: Tripod, top: float) -> list[Stroke | Disc]:
    if one.feet:
        feet, pen = [x.m for x, _ in one.feet], Pen.SUPPORT
    elif one.foot_radius:
        feet, pen = [-one.foot_radius.m, one.foot_radius.m], Pen.SUPPORT
    else:
        feet, pen = [-0.42 * top, 0.42 * top], Pen.GUESS
    return [Stroke(((x, 0.0), (0.0, top)), pen) for x in feet]


def overhead(picture: Picture) -> Part:
    """A roof or rack over the rig: its level, the margin under it, the gap that is left."""
    way, m = picture.way, picture.measures
    if way.rig is None or way.rig.overhead is None or m.hook is None:
        return Part()
    over, words = way.rig.overhead, picture.words
    margin = way.scene.defaults.of("overhead-margin").value
    rim, wide = m.coaming, m.inside / 2 + GROUND_M
    level = rim + over.clear_height.m
    shapes = (
        box(-wide, level, wide, level + ROOF_M, Pen.SOLID),
        Stroke(((-wide, level - margin), (wide, level - margin)), Pen.REQUIRED),
    )
    rows = [
        Dimension(
            Lane.RIGHT, rim, level, wide, f"rim to overhead {words(over.clear_height.m, Unit.M)}"
        )
    ]
    if over.head_above_hook is not None and way.rig.hook_height is not None:
        gap = room_above_head_m(
            clear_above_rim_m=over.clear_height.m,
            coaming_m=rim,
            hook_height_m=m.hook,
            head_above_hook_m=over.head_above_hook.m,
        )
        mark = picture.marks.of("clearance/rig-under-overhead", "clearance/no-hook-window")
        what = "gap above support" if gap >= 0 else "support ABOVE overhead by"
        label = mark.after(f"{what} {words(abs(gap), Unit.M)}")
        low, high = sorted((level, level - gap))
        rows.append(Dimension(Lane.LEFT, low, high, 0.0, label, fails=mark.fails))
    kept = f"gap required {words(margin, Unit.M)}"
    rows.append(Dimension(Lane.LEFT, level - margin, level, -wide, kept, required=True))
    return Part(shapes, tuple(rows))


def raising(picture: Picture) -> Part:
    """The arc of the boom's end while the mast is raised, or the legs of a tripod stood up."""
    way, m = picture.way, picture.measures
    if way.rig is None or way.rig.overhead is None or m.hook is None:
        return Part()
    over, one = way.rig.overhead, way.scene.support(way.rig.support)
    mark = picture.marks.of("clearance/raising-hits-overhead")
    if isinstance(one, Tripod) and one.leg_length is not None:
        high, at = one.leg_length.m, 0.0
        shape = Stroke(((0.0, 0.0), (0.0, high)), Pen.REQUIRED)
    elif over.hinge_height and over.head_above_hook and way.rig.reach and way.rig.hook_height:
        hinge, at = over.hinge_height.m, -way.rig.reach.m
        try:
            high = raised_tip_m(
                hook_height_m=m.hook,
                head_above_hook_m=over.head_above_hook.m,
                hinge_height_m=hinge,
                reach_m=way.rig.reach.m,
            )
        except ValueError:
            return Part()
        first = math.asin((m.hook + over.head_above_hook.m - hinge) / (high - hinge))
        shape = arc((at, hinge), high - hinge, first, math.pi / 2 + PAST_PEAK_RAD, Pen.REQUIRED)
    else:
        return Part(notes=(mark.after("Way of raising the support"),) if mark.words else ())
    text = mark.after(f"highest while raised {picture.words(high, Unit.M)} above the ground")
    return Part((shape,), labels=(Label(Lane.FAR_LEFT, (at, high), text, mark.fails),))
