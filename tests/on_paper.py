"""Where words and lines of a sketch lie on the paper, and what touches what."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations

from PIL import ImageFont
from shapely import LineString, box

from planbuilder.render import templates_folder
from planbuilder.view.drawing import Drawing, DrawnText
from planbuilder.view.pages import view_of

FONT_SIZE_MM = 3.1  # of the template sketches/drawing.svg
SCALE_SIZE_MM = 2.8
ABOVE, BELOW = 0.72, 0.2  # of the size: how far letters reach from their line
SAMPLES = (
    "pump_station",
    "shored_trench",
    "transformer_deck",
    "storage_tank",
    "cramped_chamber",
    "borough_culvert",
    "grain_terminal",
    "call_and_wait",
    "half_measured",
)


@cache
def font(*, bold: bool) -> ImageFont.FreeTypeFont:
    """The typeface that ships."""
    name = f"AtkinsonHyperlegibleNext-{'Bold' if bold else 'Regular'}.ttf"
    return ImageFont.truetype(templates_folder() / "fonts" / name, 1000)


def room(text: DrawnText, size_mm: float = FONT_SIZE_MM):
    """The place that a line of text takes on the paper."""
    wide = font(bold=text.bold).getlength(text.text) / 1000 * size_mm
    left = float(text.x) - {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    base = float(text.y)
    return box(left, base - ABOVE * size_mm, left + wide, base + BELOW * size_mm)


def lines_of(drawing: Drawing):
    """Every line that is drawn; circles as their outline."""
    paths = [*drawing.arrows, *drawing.required, *drawing.leaders, drawing.scale_path]
    paths += [one.path for one in drawing.shapes]
    for path in paths:
        for run in re.split("M ", path.replace(" Z", ""))[1:]:
            points = [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", run)]
            yield LineString(points)
    for one in drawing.shapes:
        if one.r:
            yield LineString([(float(one.cx), float(one.cy))] * 2).buffer(float(one.r)).exterior


def overlaps(drawing: Drawing) -> list[str]:
    """Words on words, words on lines, and words off the paper."""
    rooms = [(one.text, room(one)) for one in drawing.texts]
    rooms.append((drawing.scale_text.text, room(drawing.scale_text, SCALE_SIZE_MM)))
    paper = box(0, 0, float(drawing.width), float(drawing.height))
    found = [
        f"{one} / {other}" for (one, a), (other, b) in combinations(rooms, 2) if a.intersects(b)
    ]
    found += [f"{one} / a line" for one, a in rooms for b in lines_of(drawing) if a.intersects(b)]
    return found + [f"{one} / off the paper" for one, a in rooms if not paper.contains(a)]


def drawings(plan) -> list[Drawing]:
    """Every sketch of a plan."""
    return [one for space in view_of(plan).spaces for one in (*space.drawings, *space.bases)]
