"""The ground round an opening as the layout draws it: obstacles, drops, lane, landing, the rig."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.drawn import HALF_TURN_RAD, OnFeet, corners, on_feet
from planbuilder.checks.scene import Scene, Way
from planbuilder.findings import Finding, Unit
from planbuilder.site.layout import Layout
from planbuilder.sketches.arm import MAST_M
from planbuilder.sketches.ground import AXES, cut, half_sides, opening_from_above, outer_corner
from planbuilder.sketches.marks import Marks
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
    extent,
)

FOOT_M = 0.05
BEYOND_M = 1.5  # how much of a lane or of firm ground is drawn past everything else
MOST_TOLD = 5
Window = tuple[float, float, float, float]
EDGE, OBSTACLE = "haul/foot-near-edge", "clearance/base-on-obstacle"
FIRM, SWEEP = "clearance/base-off-firm-ground", "clearance/boom-sweep-blocked"
LANE, OFF_OPENING = "clearance/traffic-lane-too-near", "clearance/landing-near-opening"
ON_OBSTACLE, AT_DROP = "clearance/landing-on-obstacle", "clearance/landing-at-drop"


@dataclass(frozen=True, slots=True)
class _Ground:
    """The layout with the way whose rig stands on it."""

    layout: Layout
    way: Way
    words: Words
    marks: Marks

    @property
    def brief(self) -> bool:
        """With much on the ground only the gaps that are not met find room beside it."""
        return len(self.layout.drop) + len(self.layout.obstacle) > MOST_TOLD

    def gap(self, what: str, *asked: tuple[str, str, str]) -> tuple[str, bool]:
        """*what* with the gaps that rules ask of it, and whether one fails.

        *asked* are the rule, the name that it knows the thing by, and what keeps the gap.
        """
        rows, fails = [what], False
        for rule, thing, keeps in asked:
            found, mark = self.marks.compared(rule, thing=thing), self.marks.of(rule, thing=thing)
            fails = fails or mark.fails
            if self.brief and not mark.words:
                continue
            if found is not None:
                has, least = (self.words(one.value, Unit.M) for one in (found.result, found.limit))
                rows.append(mark.after(f"{keeps} {has} off, required {least}"))
            elif mark.words:
                rows.append(mark.after(keeps))
        return "; ".join(rows), fails


def layout_plans(
    scene: Scene, words: Words, findings: tuple[Finding, ...] = ()
) -> tuple[tuple[str, Sketch], ...]:
    """The ground with the rig of each way on it, by the name of the way; none without a layout."""
    layout = scene.space.layout
    if layout == Layout():
        return ()
    rigs = {one.way.name: one for one in on_feet(scene)}
    found = []
    for way in scene.ways():
        if way.rig is None:
            continue
        ground = _Ground(layout, way, words, Marks(findings, way.name))
        title = f"Ground round {scene.space.name} as drawn, {way.name} method"
        found.append((way.name, assembled(title, _parts(ground, rigs.get(way.name)), pad=0.1)))
    return tuple(found)


def _parts(ground: _Ground, rig: OnFeet | None) -> tuple[Part, ...]:
    """What is near is drawn whole; lane and firm ground run on beyond the paper."""
    near = (_things(ground), _landing(ground), opening_from_above(ground.way.scene), _rig(rig))
    shapes = [one for part in near for one in part.shapes]
    x, y = half_sides(ground.way.scene)
    left, bottom, right, top = extent([*shapes, Disc((0.0, 0.0), max(x, y), Pen.RING)])
    window = (left - BEYOND_M, bottom - BEYOND_M, right + BEYOND_M, top + BEYOND_M)
    return (_firm(ground, window), _lane(ground, window), *near, Part(notes=(AXES,)))


def _things(ground: _Ground) -> Part:
    """Obstacles, grey, and drops, white, each with the gaps that base, boom and landing keep."""
    shapes: list[Stroke | Disc] = []
    labels = []
    for one in ground.layout.drop:
        points = corners(one.outline)
        shapes += [Stroke(points, pen, closed=True) for pen in (Pen.INSIDE, Pen.WALL)]
        text, fails = ground.gap(
            f"Drop: {one.name}", (EDGE, one.name, "feet"), (AT_DROP, one.name, "landing")
        )
        labels.append(_beside(points, text, fails=fails))
    for one in ground.layout.obstacle:
        points = corners(one.outline)
        shapes.append(Stroke(points, Pen.SOLID, closed=True))
        asked = (
            (OBSTACLE, one.name, "base"),
            (SWEEP, one.name, "hook's way"),
            (ON_OBSTACLE, one.name, "landing"),
        )
        text, fails = ground.gap(one.name, *asked)
        labels.append(_beside(points, text, fails=fails))
    return Part(tuple(shapes), labels=tuple(labels))


def _beside(points: tuple[Point, ...], text: str, *, fails: bool) -> Label:
    at = outer_corner(points)
    middle = sum(x for x, _ in points) / len(points)
    return Label(Lane.FAR_LEFT if middle < 0 else Lane.FAR_RIGHT, at, text, fails)


def _landing(ground: _Ground) -> Part:
    if ground.layout.landing is None:
        return Part()
    points = corners(ground.layout.landing)
    asked = ((OFF_OPENING, "as drawn", "opening"), (LANE, "landing as drawn", "lane"))
    text, fails = ground.gap("Landing", *asked)
    shape = Stroke(points, Pen.AVAILABLE, closed=True)
    return Part((shape,), labels=(_beside(points, text, fails=fails),))


def _firm(ground: _Ground, window: Window) -> Part:
    if ground.layout.firm is None:
        return Part()
    points = cut(corners(ground.layout.firm), window)
    found, mark = ground.marks.compared(FIRM), ground.marks.of(FIRM)
    text = "Firm ground"
    if found is not None:
        text = f"{text}, foot inside it by {ground.words(found.result.value, Unit.M)}"
    return _ground_of(points, Pen.GROUND, mark.after(text), fails=mark.fails)


def _lane(ground: _Ground, window: Window) -> Part:
    if ground.layout.lane is None:
        return Part()
    base = f"base as drawn, {ground.way.name}"
    asked = ((LANE, "opening as drawn", "opening"), (LANE, base, "base"))
    text, fails = ground.gap("Lane in use", *asked)
    points = cut(corners(ground.layout.lane), window)
    return _ground_of(points, Pen.WALL, text, fails=fails)


def _ground_of(points: tuple[Point, ...], pen: Pen, text: str, *, fails: bool) -> Part:
    """An outline that was cut to the paper, or words where none of it is near."""
    if not points:
        return Part(notes=(f"{text}: farther off than what is drawn.",))
    shape = Stroke(points, pen, closed=True)
    note = f"Lane and firm ground are drawn up to {BEYOND_M:g} m past everything else."
    return Part((shape,), labels=(_beside(points, text, fails=fails),), notes=(note,))


def _rig(one: OnFeet | None) -> Part:
    """Feet, mast and boom over the opening, and the hook's way as the boom turns."""
    if one is None:
        return Part(notes=("The rig of this way stands on no feet of its own: not drawn.",))
    needs = Needs()
    feet, mast = one.feet(needs), one.mast(needs)
    if needs.missing:
        return Part(notes=(f"The rig is not drawn: {needs.because}.",))
    points, foot = feet(), mast()
    middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    around = sorted(points, key=lambda f: math.atan2(f[1] - middle[1], f[0] - middle[0]))
    shapes: list[Stroke | Disc] = [
        Stroke(tuple(around), Pen.AVAILABLE, closed=True),
        *(Disc(each, FOOT_M, Pen.RIM) for each in points),
        Stroke((foot, (0.0, 0.0)), Pen.SUPPORT),
        Disc(foot, MAST_M, Pen.BODY),
    ]
    rig = one.rig
    if rig.reach and rig.stands_towards and rig.swing_from and rig.swing_to:
        back = rig.stands_towards.rad + HALF_TURN_RAD
        first, last = back + rig.swing_from.rad, back + rig.swing_to.rad
        shapes.append(arc(foot, rig.reach.m, first, last, Pen.LINE))
    return Part(tuple(shapes), labels=(_beside((foot,), one.support.name, fails=False),))
