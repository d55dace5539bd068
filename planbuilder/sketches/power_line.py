"""A support beside a power line, seen along the line: gap, distance required, reach of a fall."""

from __future__ import annotations

import math

from planbuilder.checks.scene import Way
from planbuilder.clearance.approach import farthest_point_m
from planbuilder.findings import Compared, Finding, Unit
from planbuilder.site.surroundings import PowerLine
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
    arc,
    assembled,
    box,
)

CONDUCTOR_M = 0.12
NEAR = "clearance/power-line-too-near"
TOPPLES = "clearance/power-line-in-reach-of-fall"
VERTICAL_M = 0.03  # half of what is drawn for a support that has no arm


def power_lines(way: Way, words: Words, findings: tuple[Finding, ...] = ()) -> tuple[Sketch, ...]:
    """A sketch for each line that the support of *way* was held against."""
    marks, scene = Marks(findings, way.name), way.scene
    lines = (*scene.site.site.power_line, *scene.space.power_line)
    return tuple(
        _sketch(way, one, words, marks)
        for one in lines
        if way.rig is not None and _asked(marks, one.name)
    )


def _asked(marks: Marks, name: str) -> bool:
    """True for a line that was compared with, or could not be."""
    known = marks.compared(NEAR, thing=name) is not None
    return known or bool(marks.of(NEAR, thing=name).words)


def _sketch(way: Way, line: PowerLine, words: Words, marks: Marks) -> Sketch:
    title = f"{line.name} beside the support, {way.name} method, seen along the line"
    near = marks.compared(NEAR, thing=line.name)
    if near is None:
        return assembled(title, (_unknown(line, marks),), pad=0.2)
    parts = [_standing(near, line, words, marks)]
    falls = marks.compared(TOPPLES, thing=line.name)
    if falls is not None:
        parts.append(_falling(falls, line, words, marks))
    note = "On which side the line runs is not stated. Its height is that of the lowest conductor."
    return assembled(title, (*parts, Part(notes=(note,))), pad=0.2)


def _unknown(line: PowerLine, marks: Marks) -> Part:
    """What is missing is in the finding; nothing here is to scale."""
    mark = marks.of(NEAR, TOPPLES, thing=line.name)
    named = {"distance": line.distance, "height": line.height, "sag": line.sag}
    gone = tuple(name for name, one in named.items() if one is None)
    shapes = (Stroke(((0.0, 0.0), (0.0, 3.0)), Pen.GUESS), Disc((4.0, 5.0), 0.2, Pen.GUESS))
    label = Label(Lane.FAR_RIGHT, (4.0, 5.0), mark.after(line.name), mark.fails)
    return Part(shapes, labels=(label,), guesses=gone or ("support or approach distance",))


def _values(found: Compared) -> dict[str, float]:
    return {one.symbol: one.value for one in found.inputs}


def _standing(near: Compared, line: PowerLine, words: Words, marks: Marks) -> Part:
    """The room that the support sweeps as it stands, the conductor, and the distance required."""
    v, mark = _values(near), marks.of(NEAR, thing=line.name)
    at = (v["d_h"], max(0.0, v["h_l"] - v["s_l"]))
    half, need = max(v["R"], VERTICAL_M), near.limit.value
    nearest = (min(half, at[0]), min(v["h_t"], at[1]))
    shapes = (
        Stroke(((-half, 0.0), (at[0] + need, 0.0)), Pen.WALL),
        box(-half, 0.0, half, v["h_t"], Pen.SOLID),
        Disc(at, CONDUCTOR_M, Pen.BODY),
        arc(at, need, 0.0, 2 * math.pi, Pen.REQUIRED),
        Stroke((nearest, at), Pen.AVAILABLE),
    )
    gap = mark.after(f"gap standing {words(near.result.value, Unit.M)}")
    middle = ((nearest[0] + at[0]) / 2, (nearest[1] + at[1]) / 2)
    labels = (
        Label(Lane.FAR_LEFT, middle, gap, mark.fails),
        Label(Lane.FAR_RIGHT, at, line.name),
        Label(Lane.FAR_RIGHT, (at[0], at[1] + need), f"required {words(need, Unit.M)}"),
        Label(Lane.FAR_LEFT, (-half, v["h_t"]), "support with the reach of its arm"),
    )
    rows = [
        Dimension(Lane.LEFT, 0.0, v["h_t"], -half, f"top {words(v['h_t'], Unit.M)}"),
        Dimension(Lane.BELOW, 0.0, at[0], 0.0, f"line in plan {words(at[0], Unit.M)}"),
    ]
    if at[1] > 0:
        low = f"line at full sag {words(at[1], Unit.M)}"
        rows.append(Dimension(Lane.RIGHT, 0.0, at[1], at[0], low))
    return Part(shapes, tuple(rows), labels)


def _falling(found: Compared, line: PowerLine, words: Words, marks: Marks) -> Part:
    """How far the support reaches when it is raised or falls about its farthest foot."""
    v, mark = _values(found), marks.of(TOPPLES, thing=line.name)
    reach = farthest_point_m(top_m=v["h_t"], reach_m=v["R"], base_m=v["b"])
    shape = arc((v["b"], 0.0), reach, 0.0, math.pi / 2, Pen.LINE)
    side = "gap" if found.result.value >= 0 else "STRIKES the line by"
    text = mark.after(f"raised or falling, {side} {words(abs(found.result.value), Unit.M)}")
    turn = math.pi / 3
    at = (v["b"] + reach * math.cos(turn), reach * math.sin(turn))
    return Part((shape,), labels=(Label(Lane.FAR_LEFT, at, text, mark.fails),))
