"""The paper of a drawing: its scale, where metres go, and the bar that shows the scale."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.site.file import UnitSystem
from planbuilder.sketches.shapes import Dimension, Lane, Sketch

SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200, 300, 500, 1000, 2000, 5000, 10_000)
TEXT_COLUMN_MM = 44.0
LANE_MM = 7.0
NEXT_LANE_MM = 4.0  # from one run of dimensions to the next farther out
WIDEST_MM = 180.0
TALLEST_MM = 188.0
HEAD_MM = 2.0
BAR_COUNTS = (1, 2, 5, 10, 20, 50, 100, 500, 1000)
SHORTEST_BAR_MM = 18.0
FOOT_MM = 20.0  # room below the drawing for one width and the scale bar
WIDTH_ROW_MM = 9.0  # for each further width
SAME_M = 1e-9


@dataclass(frozen=True, slots=True)
class Lanes:
    """The dimensions of one sketch, those of one side with how far out each stands, from nought."""

    left: tuple[tuple[Dimension, int], ...]
    right: tuple[tuple[Dimension, int], ...]
    below: tuple[Dimension, ...]

    @property
    def out(self) -> int:
        """How many lanes the fuller side takes beyond its first."""
        return max((row for _, row in (*self.left, *self.right)), default=0)

    @property
    def foot_mm(self) -> float:
        """The room that widths and scale bar take below."""
        return FOOT_MM + WIDTH_ROW_MM * max(0, len(self.below) - 1)


def lanes_of(sketch: Sketch) -> Lanes:
    """Each dimension in the innermost lane where it covers no other, the shortest first."""
    return Lanes(
        _side(sketch, Lane.LEFT),
        _side(sketch, Lane.RIGHT),
        tuple(one for one in sketch.dimensions if one.lane is Lane.BELOW),
    )


def _side(sketch: Sketch, lane: Lane) -> tuple[tuple[Dimension, int], ...]:
    placed: list[tuple[Dimension, int]] = []
    here = [one for one in sketch.dimensions if one.lane is lane]
    for one in sorted(here, key=lambda each: abs(each.end - each.start)):
        taken = {row for other, row in placed if _cover(one, other)}
        placed.append((one, next(row for row in range(len(here)) if row not in taken)))
    return tuple(sorted(placed, key=lambda pair: here.index(pair[0])))


def _cover(one: Dimension, other: Dimension) -> bool:
    low, high = sorted((one.start, one.end))
    least, most = sorted((other.start, other.end))
    return low < most - SAME_M and least < high - SAME_M


@dataclass(frozen=True, slots=True)
class Paper:
    """Metres of the sketch to millimetres of the paper."""

    sketch: Sketch
    lanes: Lanes
    scale: int
    width: float
    drop: float = HEAD_MM  # room above the drawing; more where texts stack higher than it

    def x(self, metres: float) -> float:
        """How far right on the paper."""
        middle = (self.sketch.left + self.sketch.right) / 2
        return self.width / 2 + (metres - middle) * 1000 / self.scale

    def y(self, metres: float) -> float:
        """How far down on the paper."""
        return (self.sketch.top - metres) * 1000 / self.scale + self.drop

    def lane_x(self, lane: Lane, row: int) -> float:
        """Where a run of dimensions stands."""
        out = LANE_MM + NEXT_LANE_MM * row
        left = lane is Lane.LEFT
        return self.x(self.sketch.left) - out if left else self.x(self.sketch.right) + out

    def text_x(self, lane: Lane) -> float:
        """Where the text column of a side begins, next to the drawing."""
        return self.lane_x(lane, self.lanes.out) + (-3.0 if lane is Lane.LEFT else 3.0)

    @property
    def bottom(self) -> float:
        """The lower end of the drawing."""
        return self.y(self.sketch.bottom)

    @property
    def height(self) -> float:
        """The whole drawing with its foot."""
        return self.bottom + self.lanes.foot_mm


def paper_for(sketch: Sketch, tallest_mm: float) -> Paper:
    """The paper at the largest round scale that fits the page."""
    lanes = lanes_of(sketch)
    room = WIDEST_MM - 2 * (TEXT_COLUMN_MM + LANE_MM + NEXT_LANE_MM * lanes.out)
    wide, tall = sketch.right - sketch.left, sketch.top - sketch.bottom
    high = tallest_mm - (lanes.foot_mm - FOOT_MM)
    fits = (s for s in SCALES if wide * 1000 / s <= room and tall * 1000 / s <= high)
    return Paper(sketch, lanes, next(fits, SCALES[-1]), WIDEST_MM)


def scale_bar(paper: Paper, system: UnitSystem) -> tuple[str, float, float, str]:
    """The path of the bar, where its words end, and the words."""
    unit, name = (0.3048, "ft") if system is UnitSystem.US else (1.0, "m")
    count = next(n for n in BAR_COUNTS if n * unit * 1000 / paper.scale >= SHORTEST_BAR_MM)
    length = count * unit * 1000 / paper.scale
    right, y = paper.width - 4, paper.height - 8
    left = right - length
    path = (
        f"M {left:.2f} {y - 1.5:.2f} L {left:.2f} {y:.2f} L {right:.2f} {y:.2f} "
        f"L {right:.2f} {y - 1.5:.2f}"
    )
    words = f"{count} {name}; scale 1:{paper.scale} when printed at full size"
    return path, right, y + 4.5, words
