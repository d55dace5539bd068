"""From metres to paper: true to scale, inside the page, and no words on words."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from planbuilder.render import templates_folder
from planbuilder.site.file import UnitSystem
from planbuilder.sketches.shapes import Dimension, Disc, Label, Lane, Pen, Sketch, Stroke
from planbuilder.view.drawing import draw
from planbuilder.view.notes import ROW_MM
from planbuilder.view.pages import view_of
from planbuilder.view.paper import SCALES, TALLEST_MM, WIDEST_MM

US, SI = UnitSystem.US, UnitSystem.SI
DEEPEST_M, WIDEST_M = 500.0, 500.0  # what a site file may say
FONT_SIZE_MM = 3.1  # of the template sketches/section.svg


def well(
    *, depth: float = 6.0, width: float = 2.0, hook: float = 2.0, labels: int = 2, guesses=()
) -> Sketch:
    """A box in the ground with a line over it, a dimension on each side, and some labels."""
    half = width / 2
    return Sketch(
        title="A well",
        shapes=(
            Stroke(
                ((-half, 0.0), (-half, -depth), (half, -depth), (half, 0.0)),
                Pen.WALL,
            ),
            Stroke(((0.0, hook), (0.0, -depth)), Pen.LINE),
            Disc((0.0, hook - 0.2), 0.1, Pen.BODY),
        ),
        dimensions=(
            Dimension(Lane.LEFT, -depth, 0.0, -half, "depth"),
            Dimension(Lane.RIGHT, 0.0, hook, 0.0, "hook"),
            Dimension(Lane.BELOW, -half, half, -depth, "width"),
        ),
        labels=tuple(
            Label((Lane.FAR_LEFT, Lane.FAR_RIGHT)[n % 2], (0.0, 0.0), f"label {n}")
            for n in range(labels)
        ),
        guesses=guesses,
        left=-half,
        right=half,
        top=hook + 0.15,
        bottom=-depth - 0.2,
    )


def drawing_of(sketch: Sketch, system: UnitSystem = SI):
    """The drawing of *sketch*."""
    return draw(sketch, drawing_id="d", alt="a", system=system)


def scale_of(drawing) -> int:
    """The scale that the drawing says it has."""
    return int(re.findall(r"scale 1:(\d+)", drawing.scale_text.text)[0])


def points(path: str) -> list[tuple[float, float]]:
    """The points of an SVG path."""
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]


def everywhere(drawing) -> list[tuple[float, float]]:
    """Every point that is drawn or written at."""
    paths = [*drawing.arrows, *drawing.leaders, drawing.scale_path]
    rows = [one for path in paths for one in points(path)]
    for shape in drawing.shapes:
        rows += points(shape.path)
        if shape.r:
            x, y, r = float(shape.cx), float(shape.cy), float(shape.r)
            rows += [(x - r, y - r), (x + r, y + r)]
    return rows + [(float(one.x), float(one.y)) for one in drawing.texts]


@given(
    depth=st.floats(0.3, DEEPEST_M),
    width=st.floats(0.3, WIDEST_M),
    hook=st.floats(0.5, 6.0),
    labels=st.integers(0, 4),
)
def test_a_drawing_fits_the_page_whatever_its_size(depth, width, hook, labels):
    drawing = drawing_of(well(depth=depth, width=width, hook=hook, labels=labels))

    assert float(drawing.width) <= WIDEST_MM
    assert float(drawing.height) <= TALLEST_MM + 30
    for x, y in everywhere(drawing):
        assert 0 <= x <= float(drawing.width)
        assert 0 <= y <= float(drawing.height)


@given(depth=st.floats(0.3, 100.0), width=st.floats(0.3, 60.0), hook=st.floats(0.5, 6.0))
def test_lengths_on_paper_are_lengths_on_site_over_the_scale(depth, width, hook):
    drawing = drawing_of(well(depth=depth, width=width, hook=hook))
    left, right, below = (points(one) for one in drawing.arrows)
    millimetres = 1000 / scale_of(drawing)

    assert scale_of(drawing) in SCALES
    # Positions are printed to a hundredth of a millimetre.
    assert abs(left[0][1] - left[1][1]) == pytest.approx(depth * millimetres, abs=0.011)
    assert abs(right[0][1] - right[1][1]) == pytest.approx(hook * millimetres, abs=0.011)
    assert abs(below[0][0] - below[1][0]) == pytest.approx(width * millimetres, abs=0.011)


@pytest.mark.parametrize(("system", "unit", "size_mm"), [(US, "ft", 304.8), (SI, "m", 1000.0)])
@given(depth=st.floats(0.3, 300.0))
def test_the_scale_bar_is_as_long_as_it_says(system, unit, size_mm, depth):
    drawing = drawing_of(well(depth=depth), system)
    bar = points(drawing.scale_path)
    count = int(re.findall(rf"^(\d+) {unit};", drawing.scale_text.text)[0])

    length = max(x for x, _ in bar) - min(x for x, _ in bar)

    assert length == pytest.approx(count * size_mm / scale_of(drawing), abs=0.011)


@given(depth=st.floats(0.3, 30.0), labels=st.integers(0, 8))
def test_no_line_of_text_stands_on_another(depth, labels):
    drawing = drawing_of(well(depth=depth, labels=labels))

    for anchor in ("start", "end"):
        rows = sorted(float(one.y) for one in drawing.texts if one.anchor == anchor)
        gaps = [below - above for above, below in pairwise(rows)]
        assert all(gap >= ROW_MM - 0.011 for gap in gaps)


def test_the_larger_scale_wins_where_both_fit():
    """188 mm hold 5.64 m at 1:30; the sketch is 2.35 m taller than the well is deep."""
    assert scale_of(drawing_of(well(depth=3.28, hook=2.0))) == 30
    assert scale_of(drawing_of(well(depth=3.30, hook=2.0))) == 40


def test_a_guess_takes_the_scale_away_and_is_named():
    drawing = drawing_of(well(guesses=("depth", "hook height")))

    assert drawing.caution == "NOT TO SCALE: not measured: depth, hook height (dashed)"
    assert drawing.scale_path == ""
    assert "1:" not in drawing.scale_text.text


def test_a_measured_sketch_has_no_caution():
    assert drawing_of(well()).caution == ""


@pytest.mark.parametrize("name", ["pump_station", "call_and_wait", "half_measured"])
def test_the_sketches_of_the_samples_fit_their_page_and_say_their_measures(sample_plan, name):
    drawings = [one for space in view_of(sample_plan(name)).spaces for one in space.drawings]

    assert drawings
    assert len({one.id for one in drawings}) == len(drawings)
    for one in drawings:
        assert all(0 <= x <= float(one.width) for x, _ in everywhere(one))
        assert all(0 <= y <= float(one.height) for _, y in everywhere(one))
        assert one.alt.startswith(one.title)


@pytest.mark.parametrize("name", ["pump_station", "call_and_wait", "half_measured"])
def test_no_word_of_a_sketch_runs_off_the_paper(sample_plan, name):
    """Widths of the letters are read from the typeface that ships."""
    file = templates_folder() / "fonts" / "AtkinsonHyperlegibleNext-Regular.ttf"
    font = ImageFont.truetype(file, 1000)
    drawings = [one for space in view_of(sample_plan(name)).spaces for one in space.drawings]

    for one in drawings:
        for text in one.texts:
            wide = font.getlength(text.text) / 1000 * FONT_SIZE_MM
            ends = {"end": (-wide, 0), "start": (0, wide), "middle": (-wide / 2, wide / 2)}
            left, right = (float(text.x) + end for end in ends[text.anchor])
            assert left >= 0, text.text
            assert right <= float(one.width), text.text


def test_the_alternative_text_says_every_dimension(sample_plan):
    drawing = view_of(sample_plan("pump_station")).spaces[0].drawings[0]

    assert drawing.alt.startswith(
        "Section of Wet well 2, primary method: depth 21.00 ft (6.40 m); "
        "liquid 48.0 in (1.22 m); hook 8.33 ft (2.54 m); inside width 8.00 ft (2.44 m); "
        "coaming 6.0 in (152 mm); neck 10.0 in (254 mm); hook block 10.0 in (254 mm); "
        "connector 6.0 in (152 mm); "
        "dorsal attachment to toes "
    )
    assert "feet above rim 7.5 in (192 mm); needed above rim 5.9 in (150 mm)" in drawing.alt
