"""A lane beside the place from above: traffic comes from the left, the place is x = 0."""

from __future__ import annotations

from planbuilder.checks.scene import Scene
from planbuilder.findings import Finding, Unit
from planbuilder.site.surroundings import Traffic
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
)

GUESSED_LANE_M = 3.5
GUESSED_LENGTH_M = 30.0
PAST_M = 5.0  # how much lane is drawn beyond the place
NEAR, BUFFER = "clearance/traffic-lane-too-near", "clearance/traffic-buffer-short"
TAPER = "clearance/traffic-taper-short"
REST = ("clearance/traffic-no-barrier", "clearance/traffic-not-stated")


def lane_plan(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The lane in use with buffer and taper, or None where no traffic passes."""
    traffic, marks = scene.space.traffic, Marks(findings, "")
    if traffic is None or traffic.lane == "road-closed":
        return None
    parts = (_lane(traffic, words, marks), _lengths(traffic, words, marks), _rest(scene, marks))
    return assembled(f"Lane beside {scene.space.name}, from above", parts, pad=0.5)


def _lane(traffic: Traffic, words: Words, marks: Marks) -> Part:
    """The lane in use, the place, and dashed how near the lane may come."""
    found, mark = marks.compared(NEAR), marks.of(NEAR)
    wide = traffic.lane_width.m if traffic.lane_width else GUESSED_LANE_M
    away = traffic.lane_distance.m if traffic.lane_distance else 0.0
    ahead = sum(one.m for one in (traffic.buffer, traffic.taper) if one) or GUESSED_LENGTH_M
    pen = Pen.WALL if traffic.lane_distance else Pen.GUESS
    shapes: list[Stroke | Disc] = [
        Stroke(((-ahead, -away), (PAST_M, -away)), pen),
        Stroke(((-ahead, -away - wide), (PAST_M, -away - wide)), pen),
        Disc((0.0, 0.3), 0.3, Pen.BODY),
    ]
    guesses = [] if traffic.lane_distance else ["distance of the lane"]
    guesses += [] if traffic.lane_width else ["width of the lane"]
    labels = [Label(Lane.FAR_RIGHT, (0.0, 0.3), "place")]
    if traffic.lane_distance:
        text = mark.after(f"lane in use {words(away, Unit.M)} off")
        labels.append(Label(Lane.FAR_RIGHT, (PAST_M, -away), text, mark.fails))
    if found is not None:
        need = found.limit.value
        shapes.append(Stroke(((-ahead, -need), (PAST_M, -need)), Pen.REQUIRED))
        label = f"required {words(need, Unit.M)} off"
        labels.append(Label(Lane.FAR_RIGHT, (PAST_M, -need), label))
    return Part(tuple(shapes), labels=tuple(labels), guesses=tuple(guesses))


def _lengths(traffic: Traffic, words: Words, marks: Marks) -> Part:
    """Buffer and taper as they are, solid, and as they have to be, dashed."""
    rows, guesses = [], []
    start = -(traffic.buffer.m if traffic.buffer else 0.0)
    for name, rule, given, end in (
        ("buffer", BUFFER, traffic.buffer, 0.0),
        ("taper", TAPER, traffic.taper, start),
    ):
        if name == "taper" and traffic.lane == "lane-open":
            continue  # nothing is closed, so nothing narrows
        mark, found = marks.of(rule), marks.compared(rule)
        if given is None:
            guesses.append(name)
        elif given.m > 0:
            text = mark.after(f"{name} {words(given.m, Unit.M)}")
            rows.append(Dimension(Lane.BELOW, end - given.m, end, 0.0, text, fails=mark.fails))
        if found is not None and found.result.value > 0:
            need = found.result.value
            text = f"{name} required {words(need, Unit.M)}"
            rows.append(Dimension(Lane.BELOW, end - need, end, 0.0, text, required=True))
    ends = [row.start for row in rows] or [0.0]
    line = Stroke(((min(ends), 0.0), (0.0, 0.0)), Pen.AVAILABLE)
    return Part((line,) if min(ends) < 0 else (), tuple(rows), guesses=tuple(guesses))


def _rest(scene: Scene, marks: Marks) -> Part:
    traffic = scene.space.traffic
    said = "a barrier stands" if traffic and traffic.barrier else "no barrier is stated"
    note = marks.of(*REST).after(f"Between lane and place {said}")
    return Part(notes=(note, "From where the traffic comes is not stated: drawn from the left."))
