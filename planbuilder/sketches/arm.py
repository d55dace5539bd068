"""The arm of a support from above: its reach, its turn, what the casualty sweeps; and the place."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planbuilder.checks.room.landing import half_casualty
from planbuilder.checks.scene import Way
from planbuilder.clearance.place import swept_radius_m, swing_to_land_rad
from planbuilder.findings import Unit
from planbuilder.site.opening import OpeningShape
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.shapes import (
    Dimension,
    Disc,
    Label,
    Lane,
    Part,
    Pen,
    Point,
    Stroke,
    Words,
    arc,
)

MAST_M = 0.06
GUESSED_OPENING_M = 0.6


@dataclass(frozen=True, slots=True)
class Place:
    """The way, the middle of its opening, half its extent along and across, words and marks."""

    way: Way
    middle: Point
    half_x: float
    half_y: float
    words: Words
    marks: Marks

    @property
    def corner(self) -> float:
        """From the middle of the opening to its farthest point."""
        is_square = self.way.scene.space.opening.shape is OpeningShape.RECTANGULAR
        return math.hypot(self.half_x, self.half_y) if is_square else max(self.half_x, self.half_y)


def halves(way: Way) -> tuple[float, float]:
    """Half the opening along x and y; the longer side lies across the arm."""
    opening = way.scene.space.opening
    if opening.diameter is not None:
        return opening.diameter.m / 2, opening.diameter.m / 2
    sides = sorted(one.m for one in (opening.length, opening.width) if one)
    if not sides:
        return GUESSED_OPENING_M / 2, GUESSED_OPENING_M / 2
    return sides[0] / 2, sides[-1] / 2


def arm(plan: Place) -> Part:
    """Mast, arm and reach."""
    rig = plan.way.rig
    if rig is None or rig.reach is None:
        return Part()
    support = plan.way.scene.support(rig.support)
    shapes = (Stroke(((0.0, 0.0), plan.middle), Pen.SUPPORT), Disc((0.0, 0.0), MAST_M, Pen.BODY))
    reach = f"reach {plan.words(rig.reach.m, Unit.M)}"
    rows = (Dimension(Lane.BELOW, 0.0, rig.reach.m, 0.0, reach),) if rig.reach.m > 0 else ()
    return Part(shapes, rows, (Label(Lane.FAR_LEFT, (0.0, 0.0), support.name),))


def turn(plan: Place) -> Part:
    """The way of the hook as far as the arm turns, and dashed how far it has to turn to land."""
    rig, scene = plan.way.rig, plan.way.scene
    if rig is None or rig.reach is None or rig.swing_from is None or rig.swing_to is None:
        return Part()
    reach, first, last = rig.reach.m, rig.swing_from.rad, rig.swing_to.rad
    mark = plan.marks.of("clearance/swing-too-short")
    says = f"arm turns {_degrees(first)} to {_degrees(last)}"
    end = (reach * math.cos(last), reach * math.sin(last))
    shapes = [arc((0.0, 0.0), reach, first, last, Pen.LINE)]
    labels = [Label(Lane.FAR_LEFT, end, mark.after(says), mark.fails)]
    if scene.space.opening.shape is OpeningShape.ROUND and reach > 0:
        half, gap = half_casualty(scene).value, scene.defaults.of("landing-gap").value
        try:
            least = swing_to_land_rad(
                reach_m=reach, opening_m=plan.half_x, half_casualty_m=half, gap_m=gap
            )
        except ValueError:
            return Part(tuple(shapes), labels=tuple(labels))
        least = least if last >= -first else -least
        at = (reach * math.cos(least), reach * math.sin(least))
        shapes += [
            Stroke(((0.0, 0.0), at), Pen.REQUIRED),
            arc(at, half, 0.0, 2 * math.pi, Pen.REQUIRED),
        ]
        text = f"turn required to land {_degrees(abs(least))}"
        labels.append(Label(Lane.FAR_LEFT, at, text))
    return Part(tuple(shapes), labels=tuple(labels))


def _degrees(turn_rad: float) -> str:
    return f"{math.degrees(turn_rad):.0f}\N{DEGREE SIGN}"


def sweep(plan: Place) -> Part:
    """What the casualty sweeps round the mast, dashed, and how far it is clear, solid."""
    rig, scene = plan.way.rig, plan.way.scene
    if rig is None or rig.reach is None or rig.swing_from is None or rig.swing_to is None:
        return Part()
    first, last = rig.swing_from.rad, rig.swing_to.rad
    swept = swept_radius_m(
        reach_m=rig.reach.m,
        half_casualty_m=half_casualty(scene).value,
        gap_m=scene.defaults.of("landing-gap").value,
    )
    shapes = [arc((0.0, 0.0), swept, first, last, Pen.REQUIRED)]
    at = (swept * math.cos(first), swept * math.sin(first))
    labels = [Label(Lane.FAR_LEFT, at, f"swept by casualty {plan.words(swept, Unit.M)}")]
    if rig.swing_clear_to is not None:
        clear, mark = rig.swing_clear_to.m, plan.marks.of("clearance/boom-sweep-blocked")
        shapes.append(arc((0.0, 0.0), clear, first, last, Pen.AVAILABLE))
        text = mark.after(f"clear round the mast to {plan.words(clear, Unit.M)}")
        end = (clear * math.cos(last), clear * math.sin(last))
        labels.append(Label(Lane.FAR_RIGHT, end, text, mark.fails))
    return Part(tuple(shapes), labels=tuple(labels))
