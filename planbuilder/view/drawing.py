"""A sketch in metres to a drawing on paper: positions in millimetres, labels set apart."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planbuilder.site.file import UnitSystem
from planbuilder.sketches.shapes import Dimension, Disc, Lane, Sketch, Stroke
from planbuilder.view.notes import LINE_MM, ROW_MM, Note, set_apart
from planbuilder.view.paper import TALLEST_MM, WIDTH_ROW_MM, Paper, paper_for, scale_bar

MEASURED = "Solid: as measured. Dashed: required."


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
    """A line of text and where it stands; what fails is *bold*."""

    x: str
    y: str
    anchor: str
    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Everything that the SVG template needs, as strings. *required* are dashed dimensions.

    One that is not on its *own_page* stands below the one before it where there is room.
    """

    id: str
    title: str
    alt: str
    width: str
    height: str
    shapes: tuple[DrawnShape, ...]
    arrows: tuple[str, ...]
    required: tuple[str, ...]
    leaders: tuple[str, ...]
    texts: tuple[DrawnText, ...]
    scale_path: str
    scale_text: DrawnText
    caution: str
    notes: tuple[str, ...]
    legend: str
    own_page: bool = True


@dataclass(slots=True)
class _Written:
    """What goes on the paper beside the shapes."""

    arrows: list[str]
    required: list[str]
    leaders: list[str]
    texts: list[DrawnText]

    @property
    def highest(self) -> float:
        """The baseline of the highest text."""
        return min((float(one.y) for one in self.texts), default=ROW_MM)


def draw(
    sketch: Sketch, *, drawing_id: str, alt: str, system: UnitSystem, tallest_mm: float = TALLEST_MM
) -> Drawing:
    """The drawing of *sketch* at the largest round scale that fits the page."""
    paper = paper_for(sketch, tallest_mm)
    written = _written(paper)
    if written.highest < ROW_MM:  # a flat sketch with much to say
        paper = replace(paper, drop=paper.drop + ROW_MM - written.highest)
        written = _written(paper)
    bar, x, y, words = scale_bar(paper, system)
    if sketch.guesses or sketch.schematic:  # a bar would promise what the drawing cannot keep
        bar, words = "", "not to scale"
    return Drawing(
        id=drawing_id,
        title=sketch.title,
        alt=alt,
        width=_n(paper.width),
        height=_n(paper.height),
        shapes=tuple(_shape(one, paper) for one in sketch.shapes),
        arrows=tuple(written.arrows),
        required=tuple(written.required),
        leaders=tuple(written.leaders),
        texts=tuple(written.texts),
        scale_path=bar,
        scale_text=DrawnText(_n(x), _n(y), "end", words),
        caution=_caution(sketch),
        notes=sketch.notes,
        legend=sketch.schematic or MEASURED,
    )


def _caution(sketch: Sketch) -> str:
    """Why nobody may measure in the drawing, empty where they may."""
    guessed = ", ".join(sketch.guesses)
    if sketch.schematic:
        return "SCHEMATIC, NOT TO SCALE"
    return f"NOT TO SCALE: not measured: {guessed} (dashed)" if guessed else ""


def _n(value: float) -> str:
    return f"{value:.2f}"


def _shape(shape: Stroke | Disc, paper: Paper) -> DrawnShape:
    if isinstance(shape, Disc):
        x, y = shape.centre
        radius = shape.radius * 1000 / paper.scale
        return DrawnShape(shape.pen, cx=_n(paper.x(x)), cy=_n(paper.y(y)), r=_n(radius))
    points = [f"{_n(paper.x(x))} {_n(paper.y(y))}" for x, y in shape.points]
    close = " Z" if shape.closed else ""
    return DrawnShape(shape.pen, path=f"M {' L '.join(points)}{close}")


def _written(paper: Paper) -> _Written:
    written = _Written([], [], [], [])
    notes: dict[Lane, list[Note]] = {Lane.LEFT: [], Lane.RIGHT: []}
    for lane, placed in ((Lane.LEFT, paper.lanes.left), (Lane.RIGHT, paper.lanes.right)):
        for one, row in placed:
            x, y1, y2 = paper.lane_x(lane, row), paper.y(one.start), paper.y(one.end)
            ticks = _ticks_across(x, y1, y2, paper.x(one.at))
            _arrow(written, one, f"M {_n(x)} {_n(y1)} L {_n(x)} {_n(y2)} {ticks}")
            middle = (y1 + y2) / 2
            notes[lane].append(Note((x, middle), middle, one.label, one.fails))
    for label in paper.sketch.labels:
        lane = Lane.LEFT if label.lane is Lane.FAR_LEFT else Lane.RIGHT
        x, y = paper.x(label.at[0]), paper.y(label.at[1])
        notes[lane].append(Note((x, y), y, label.text, label.fails))
    for row, one in enumerate(paper.lanes.below):
        _below(paper, one, row, written)
    for lane, here in notes.items():
        _column(paper, lane, here, written)
    return written


def _arrow(written: _Written, one: Dimension, path: str) -> None:
    (written.required if one.required else written.arrows).append(path)


def _below(paper: Paper, one: Dimension, row: int, written: _Written) -> None:
    x1, x2, y = paper.x(one.start), paper.x(one.end), paper.bottom + 3 + WIDTH_ROW_MM * row
    _arrow(written, one, f"M {_n(x1)} {_n(y)} L {_n(x2)} {_n(y)} {_ticks_up(x1, x2, y)}")
    text = DrawnText(_n((x1 + x2) / 2), _n(y + 4), "middle", one.label, one.fails)
    written.texts.append(text)


def _ticks_across(x: float, y1: float, y2: float, at: float) -> str:
    near = x - 1 if at > x else x + 1
    return " ".join(f"M {_n(near)} {_n(y)} L {_n(at)} {_n(y)}" for y in (y1, y2))


def _ticks_up(x1: float, x2: float, y: float) -> str:
    return " ".join(f"M {_n(x)} {_n(y + 1)} L {_n(x)} {_n(y - 3)}" for x in (x1, x2))


def _column(paper: Paper, lane: Lane, notes: list[Note], written: _Written) -> None:
    x, anchor = paper.text_x(lane), "end" if lane is Lane.LEFT else "start"
    for note in set_apart(notes, paper.bottom):
        lines = note.lines
        first = note.y - (len(lines) - 1) * LINE_MM / 2
        written.texts += [
            DrawnText(_n(x), _n(first + row * LINE_MM + 1.1), anchor, line, note.bold)
            for row, line in enumerate(lines)
        ]
        edge = x + 1 if lane is Lane.LEFT else x - 1
        written.leaders.append(
            f"M {_n(edge)} {_n(note.y)} L {_n(note.target[0])} {_n(note.target[1])}"
        )
