"""A sketch in metres to a drawing on paper: scale, positions in millimetres, labels set apart."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from planbuilder.site.file import UnitSystem
from planbuilder.sketches.shapes import Disc, Lane, Point, Sketch

SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200, 300, 500, 1000, 2000, 5000, 10_000)
TEXT_COLUMN_MM = 44.0
LANE_MM = 7.0
WIDEST_MM = 180.0
TALLEST_MM = 188.0
COLUMN_LETTERS = 25  # of the drawing's letters, in the text column
LINE_MM = 3.7  # from line to line of one text
HEAD_MM = 2.0
ROW_MM = 4.6  # least distance between two lines of text
BAR_COUNTS = (1, 2, 5, 10, 20, 50, 100, 500, 1000)
SHORTEST_BAR_MM = 18.0
FOOT_MM = 20.0  # room below the drawing for the width and the scale bar


@dataclass(frozen=True, slots=True)
class DrawnShape:
    """A path or circle with its pen, ready for an SVG attribute."""

    pen: str
    path: str = ""
    cx: str = ""
    cy: str = ""
    r: str = ""


@dataclass(frozen=True, slots=True)
class DrawnText:
    """A line of text and where it stands."""

    x: str
    y: str
    anchor: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Everything that the SVG template needs, as strings."""

    id: str
    title: str
    alt: str
    width: str
    height: str
    shapes: tuple[DrawnShape, ...]
    arrows: tuple[str, ...]
    leaders: tuple[str, ...]
    texts: tuple[DrawnText, ...]
    scale_path: str
    scale_text: DrawnText
    caution: str


@dataclass(slots=True)
class _Note:
    """Text waiting for a place: where its leader points, and where it would like to stand."""

    target: Point
    y: float
    text: str

    @property
    def lines(self) -> list[str]:
        """The text, broken so that it fits its column."""
        return textwrap.wrap(self.text, _letters(self.text)) or [""]


def _letters(text: str) -> int:
    """How many letters of *text* fit the column: capitals are wider, M and W widest."""
    wide = sum(1.7 if one in "MW@" else 1.3 if one.isupper() else 1.0 for one in text)
    return max(1, int(COLUMN_LETTERS * len(text) / max(wide, 1.0)))


@dataclass(frozen=True, slots=True)
class _Paper:
    """Metres of the sketch to millimetres of the paper."""

    sketch: Sketch
    scale: int
    width: float
    drop: float = HEAD_MM  # room above the drawing; more where texts stack higher than it

    def x(self, metres: float) -> float:
        middle = (self.sketch.left + self.sketch.right) / 2
        return self.width / 2 + (metres - middle) * 1000 / self.scale

    def y(self, metres: float) -> float:
        return (self.sketch.top - metres) * 1000 / self.scale + self.drop

    @property
    def left(self) -> float:
        return self.x(self.sketch.left) - LANE_MM

    @property
    def right(self) -> float:
        return self.x(self.sketch.right) + LANE_MM

    @property
    def bottom(self) -> float:
        return self.y(self.sketch.bottom)


def draw(
    sketch: Sketch, *, drawing_id: str, alt: str, system: UnitSystem, tallest_mm: float = TALLEST_MM
) -> Drawing:
    """The drawing of *sketch* at the largest round scale that fits the page."""
    paper = _Paper(sketch, _scale(sketch, tallest_mm), WIDEST_MM)
    arrows, notes = _dimensions(paper)
    leaders, texts = _placed(paper, notes)
    highest = min((float(one.y) for one in texts), default=ROW_MM)
    if highest < ROW_MM:  # a flat sketch with much to say
        paper = replace(paper, drop=paper.drop + ROW_MM - highest)
        arrows, notes = _dimensions(paper)
        leaders, texts = _placed(paper, notes)
    bar, bar_text = _scale_bar(paper, system)
    if sketch.guesses:  # a bar would promise what the drawing cannot keep
        bar, bar_text = "", replace(bar_text, text="not to scale")
    guessed = ", ".join(sketch.guesses)
    return Drawing(
        id=drawing_id,
        title=sketch.title,
        alt=alt,
        width=_n(paper.width),
        height=_n(paper.bottom + FOOT_MM),
        shapes=tuple(_shape(one, paper) for one in sketch.shapes),
        arrows=tuple(arrows),
        leaders=tuple(leaders),
        texts=tuple(texts),
        scale_path=bar,
        scale_text=bar_text,
        caution=f"NOT TO SCALE: not measured: {guessed} (dashed)" if guessed else "",
    )


def _scale(sketch: Sketch, tallest_mm: float) -> int:
    room = WIDEST_MM - 2 * (TEXT_COLUMN_MM + LANE_MM)
    wide, tall = sketch.right - sketch.left, sketch.top - sketch.bottom
    fits = (s for s in SCALES if wide * 1000 / s <= room and tall * 1000 / s <= tallest_mm)
    return next(fits, SCALES[-1])


def _n(value: float) -> str:
    return f"{value:.2f}"


def _shape(shape: object, paper: _Paper) -> DrawnShape:
    if isinstance(shape, Disc):
        x, y = shape.centre
        radius = shape.radius * 1000 / paper.scale
        return DrawnShape(shape.pen, cx=_n(paper.x(x)), cy=_n(paper.y(y)), r=_n(radius))
    points = [f"{_n(paper.x(x))} {_n(paper.y(y))}" for x, y in shape.points]  # type: ignore[attr-defined]
    close = " Z" if shape.closed else ""  # type: ignore[attr-defined]
    return DrawnShape(shape.pen, path=f"M {' L '.join(points)}{close}")  # type: ignore[attr-defined]


def _dimensions(paper: _Paper) -> tuple[list[str], dict[Lane, list[_Note]]]:
    arrows: list[str] = []
    notes: dict[Lane, list[_Note]] = {Lane.LEFT: [], Lane.RIGHT: [], Lane.BELOW: []}
    for one in paper.sketch.dimensions:
        if one.lane is Lane.BELOW:
            x1, x2, y = paper.x(one.start), paper.x(one.end), paper.bottom + 3
            arrows.append(f"M {_n(x1)} {_n(y)} L {_n(x2)} {_n(y)} {_ticks_up(x1, x2, y)}")
            notes[Lane.BELOW].append(_Note(((x1 + x2) / 2, y), y + 4, one.label))
            continue
        x = paper.left if one.lane is Lane.LEFT else paper.right
        y1, y2, at = paper.y(one.start), paper.y(one.end), paper.x(one.at)
        arrows.append(f"M {_n(x)} {_n(y1)} L {_n(x)} {_n(y2)} {_ticks_across(x, y1, y2, at)}")
        notes[one.lane].append(_Note((x, (y1 + y2) / 2), (y1 + y2) / 2, one.label))
    for label in paper.sketch.labels:
        lane = Lane.LEFT if label.lane is Lane.FAR_LEFT else Lane.RIGHT
        x, y = paper.x(label.at[0]), paper.y(label.at[1])
        notes[lane].append(_Note((x, y), y, label.text))
    return arrows, notes


def _ticks_across(x: float, y1: float, y2: float, at: float) -> str:
    near = x - 1 if at > x else x + 1
    return " ".join(f"M {_n(near)} {_n(y)} L {_n(at)} {_n(y)}" for y in (y1, y2))


def _ticks_up(x1: float, x2: float, y: float) -> str:
    return " ".join(f"M {_n(x)} {_n(y + 1)} L {_n(x)} {_n(y - 3)}" for x in (x1, x2))


def _placed(paper: _Paper, notes: dict[Lane, list[_Note]]) -> tuple[list[str], list[DrawnText]]:
    leaders: list[str] = []
    texts: list[DrawnText] = []
    for lane, anchor, x in (
        (Lane.LEFT, "end", paper.left - 3),
        (Lane.RIGHT, "start", paper.right + 3),
    ):
        for note in _set_apart(notes[lane], paper.bottom):
            lines = note.lines
            first = note.y - (len(lines) - 1) * LINE_MM / 2
            texts += [
                DrawnText(_n(x), _n(first + row * LINE_MM + 1.1), anchor, line)
                for row, line in enumerate(lines)
            ]
            edge = x + 1 if anchor == "end" else x - 1
            leaders.append(f"M {_n(edge)} {_n(note.y)} L {_n(note.target[0])} {_n(note.target[1])}")
    texts += [
        DrawnText(_n(note.target[0]), _n(note.y), "middle", note.text) for note in notes[Lane.BELOW]
    ]
    return leaders, texts


def _set_apart(notes: Iterable[_Note], bottom: float) -> list[_Note]:
    """The notes from top to bottom, pushed down where they would touch, and up from the end."""
    ordered = sorted(notes, key=lambda one: one.y)
    for above, below in pairwise(ordered):
        below.y = max(below.y, above.y + _apart(above, below))
    for below, above in pairwise([_Note((0, 0), bottom + ROW_MM, ""), *reversed(ordered)]):
        above.y = min(above.y, below.y - _apart(above, below))
    return ordered


def _apart(above: _Note, below: _Note) -> float:
    """The least distance of the middles of two notes."""
    return ROW_MM + (len(above.lines) + len(below.lines) - 2) * LINE_MM / 2


def _scale_bar(paper: _Paper, system: UnitSystem) -> tuple[str, DrawnText]:
    unit, name = (0.3048, "ft") if system is UnitSystem.US else (1.0, "m")
    count = next(n for n in BAR_COUNTS if n * unit * 1000 / paper.scale >= SHORTEST_BAR_MM)
    length = count * unit * 1000 / paper.scale
    x, y = paper.width - length - 4, paper.bottom + FOOT_MM - 8
    path = (
        f"M {_n(x)} {_n(y - 1.5)} L {_n(x)} {_n(y)} L {_n(x + length)} {_n(y)} "
        f"L {_n(x + length)} {_n(y - 1.5)}"
    )
    words = f"{count} {name}; scale 1:{paper.scale} when printed at full size"
    return path, DrawnText(_n(paper.width - 4), _n(y + 4.5), "end", words)
