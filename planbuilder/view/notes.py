"""The words beside a drawing: broken into lines, set apart from each other."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from planbuilder.sketches.shapes import Point

COLUMN_LETTERS = 25  # of the drawing's letters, in the text column
BOLD_LETTERS = 22
LINE_MM = 3.7  # from line to line of one text
ROW_MM = 4.6  # least distance between two lines of text
_HELD = "\N{FIGURE SPACE}"
_BEFORE_UNIT = re.compile(r"(\d) (?=(?:mm|m|ft|in|deg|kV|V|kN|N|lbf|psi|kPa)\b)")


@dataclass(slots=True)
class Note:
    """Text waiting for a place: where its leader points, and where it would like to stand."""

    target: Point
    y: float
    text: str
    bold: bool = False

    @property
    def lines(self) -> list[str]:
        """The text, broken so that it fits its column, never between a number and its unit."""
        held = _BEFORE_UNIT.sub(rf"\1{_HELD}", self.text)
        rows = textwrap.wrap(held, _letters(self.text, bold=self.bold)) or [""]
        return [row.replace(_HELD, " ") for row in rows]


def _letters(text: str, *, bold: bool) -> int:
    """How many letters of *text* fit the column: capitals are wider, M and W widest."""
    wide = sum(1.7 if one in "MW@" else 1.3 if one.isupper() else 1.0 for one in text)
    room = BOLD_LETTERS if bold else COLUMN_LETTERS
    return max(1, int(room * len(text) / max(wide, 1.0)))


def set_apart(notes: Iterable[Note], bottom: float) -> list[Note]:
    """The notes from top to bottom, pushed down where they would touch, and up from the end."""
    ordered = sorted(notes, key=lambda one: one.y)
    for above, below in pairwise(ordered):
        below.y = max(below.y, above.y + _apart(above, below))
    for below, above in pairwise([Note((0, 0), bottom + ROW_MM, ""), *reversed(ordered)]):
        above.y = min(above.y, below.y - _apart(above, below))
    return ordered


def _apart(above: Note, below: Note) -> float:
    """The least distance of the middles of two notes."""
    return ROW_MM + (len(above.lines) + len(below.lines) - 2) * LINE_MM / 2
