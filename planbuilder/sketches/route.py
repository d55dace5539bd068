"""The way to the casualty as a strip: stretches one behind the other, true to scale in length."""

from __future__ import annotations

from planbuilder.checks.scene import Scene
from planbuilder.findings import Finding, Unit
from planbuilder.site.travel import Going, Segment
from planbuilder.sketches.marks import Mark, Marks
from planbuilder.sketches.shapes import (
    Dimension,
    Label,
    Lane,
    Part,
    Pen,
    Point,
    Sketch,
    Stroke,
    Words,
    assembled,
    box,
)

BEND = "clearance/stretcher-past-bend"
WIDE = 0.06  # half the strip over its length
STEPS = 8  # drawn on a stretch of stairs or rungs, however many there are
MOST_TOLD = 10  # stretches with words of their own beside the strip
LONGEST_M = 700.0  # what the smallest scale still brings onto the paper
TOO_LONG = "Longer than the paper can show to scale: the stretches stand in proportion."
STRAIGHT = "Stretches are laid end to end: where the way turns is not drawn."
_STEPPED = (Going.STAIRS_DOWN, Going.STAIRS_UP)
_LOW = (Going.CRAWL, Going.CRAWL_IN_SET)


def route_strip(scene: Scene, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch | None:
    """The strip of `space.route`, or None where no stretch is stated."""
    route = scene.space.route
    if not route:
        return None
    whole = sum(one.length.m for one in route)
    kept = min(1.0, LONGEST_M / whole)
    told = min(len(route), MOST_TOLD)
    half, at, parts = WIDE * whole * kept, 0.0, []
    for number, one in enumerate(route, start=1):
        end = at + one.length.m * kept
        side = Lane.FAR_LEFT if number <= (told + 1) // 2 else Lane.FAR_RIGHT
        label = _says(number, one, words) if number <= told else ""
        parts.append(_stretch(one, (at, end), half, side, label))
        at = end
    parts += [_ends(scene, (at, half), words(whole, Unit.M)), _bends(scene, findings)]
    more = len(route) - told
    notes = (f"{more} more stretches are drawn without words.",) if more > 0 else ()
    parts.append(Part(notes=(STRAIGHT, *notes)))
    title, longer = f"Way to {scene.space.name}, stretch by stretch", TOO_LONG if kept < 1 else ""
    return assembled(title, parts, pad=0.02 * at, schematic=longer)


def _stretch(one: Segment, ends: tuple[float, float], half: float, side: Lane, text: str) -> Part:
    """One stretch by its kind, with its words on one side of the strip, if it has any."""
    left, right = ends
    shapes = [box(left, -half, right, half, Pen.AVAILABLE), *_kind(one.going_in, ends, half)]
    labels = (Label(side, ((left + right) / 2, 0.0), text),) if text else ()
    return Part(tuple(shapes), labels=labels)


def _kind(going: Going, ends: tuple[float, float], half: float) -> list[Stroke]:
    """What tells the kind of a stretch without colour: stairs, rungs, a low pipe."""
    left, right = ends
    step = (right - left) / STEPS
    if going in _STEPPED:
        down = going is Going.STAIRS_DOWN
        levels = [half - 2 * half * n / STEPS for n in range(STEPS + 1)]
        levels = levels if down else levels[::-1]
        points: list[Point] = [(left, levels[0])]
        for n, level in enumerate(levels[1:], start=1):
            points += [(left + step * n, points[-1][1]), (left + step * n, level)]
        return [Stroke(tuple(points), Pen.WALL)]
    if going is Going.LADDER:
        rungs = (left + step * (n + 0.5) for n in range(STEPS))
        return [Stroke(((x, -half), (x, half)), Pen.AVAILABLE) for x in rungs]
    if going in _LOW:
        return [box(left, -half / 2, right, half / 2, Pen.SOLID)]
    if going is Going.SEARCH_IN_SET:
        return [box(left, -half, right, half, Pen.SOLID)]
    return []


def _says(number: int, one: Segment, words: Words) -> str:
    """Where it is, how long, how it is gone in and out, and where the team waits."""
    rows = [f"{number}. {one.what}, {words(one.length.m, Unit.M)}: {_plain(one.going_in)} in"]
    if one.coming_out is not None:
        rows.append(f"{_plain(one.coming_out)} out")
    for way, pause in (("in", one.pause_in), ("out", one.pause_out)):
        if pause is not None and pause.s > 0:
            rows.append(f"wait {words(pause.s, Unit.S)} {way}")
    return ", ".join(rows)


def _plain(word: str) -> str:
    return word.replace("-", " ")


def _ends(scene: Scene, end: Point, whole: str) -> Part:
    """The whole length, from where the team starts to the casualty."""
    right, half = end
    row = Dimension(Lane.BELOW, 0.0, right, -half, f"whole way {whole}")
    note = f"The casualty of {scene.space.name} is at the right end."
    return Part(dimensions=(row,), notes=(note,))


def _bends(scene: Scene, findings: tuple[Finding, ...]) -> Part:
    """Corners and bends of the way out, by name, with what is not met at them in any way out."""
    rows, ways = [], [Marks(findings, way.name) for way in scene.ways()]
    for one in scene.space.bend:
        turn = f", {one.turn.written}" if one.turn else ""
        found = [marks.of(BEND, thing=one.name) for marks in ways]
        said = max(found, key=lambda mark: (mark.fails, mark.words), default=Mark("", fails=False))
        rows.append(said.after(f"Bend on the way out: {one.name}{turn}"))
    return Part(notes=tuple(rows))
