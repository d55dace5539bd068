"""The line to a casualty who may lie aside, in the section: where statics puts it."""

from __future__ import annotations

import broken_line
import pytest
from broken_haul import both, rig
from broken_line import at, dragged, edges, lies
from broken_sites import Break, plan_with
from on_paper import drawings, overlaps
from shapely import LineString

from planbuilder.findings import Unit
from planbuilder.sketches.section import section
from planbuilder.sketches.shapes import Disc, Pen, Sketch, Stroke

IN, FT = 0.0254, 0.3048
LYING_M = 0.2  # the attachment of somebody who lies on the floor, defaults.toml
FIRES = {name: one.fires for name, one in broken_line.CASES.items()}
UNKNOWN = {name: one.unknown for name, one in broken_line.CASES.items() if one.unknown}


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.3f} {unit}"


def of(*breaks: Break) -> Sketch:
    """The section of the wet well's primary method."""
    space = plan_with(*breaks).spaces[0]
    return section(next(space.scene.ways()), metres, space.findings)


def slanted(sketch: Sketch) -> list[Stroke]:
    """The lines that do not hang plumb."""
    return [
        one
        for one in sketch.shapes
        if isinstance(one, Stroke) and one.pen is Pen.LINE and one.points[0][0] != one.points[-1][0]
    ]


def texts(sketch: Sketch) -> list[str]:
    """Everything that is written on it."""
    return [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]


def said(sketch: Sketch, words: str) -> str:
    """The one text with these words."""
    (found,) = [one for one in texts(sketch) if words in one]
    return found


def test_the_line_runs_straight_to_where_the_casualty_may_lie():
    (line,) = slanted(of())

    assert line.points[0] == pytest.approx((0.0, 100 * IN))
    assert line.points[1][0] == pytest.approx(18 * IN)
    assert len(line.points) == 2


def test_the_line_at_the_rim_is_where_geometry_cuts_it():
    sketch = of()
    (line,) = slanted(sketch)
    neck = LineString([(-5, -10 * IN), (5, -10 * IN)])

    cut = LineString(line.points).intersection(neck)

    assert f"line {cut.x:.3f} m off the centre at the rim" in said(sketch, "at the rim")


def test_a_line_that_bears_on_the_rim_bends_there_and_names_its_rule():
    sketch = of(lies("1.2 m"), edges("1 deg"))
    (line,) = slanted(sketch)

    assert line.points[1] == pytest.approx((12 * IN, -10 * IN))
    contact = [one for one in sketch.shapes if isinstance(one, Disc) and one.pen is Pen.BODY]
    assert any(one.centre == pytest.approx((12 * IN, -10 * IN)) for one in contact)
    text = said(sketch, "bears on the rim")
    assert "FAILS clearance/rim-friction-not-counted" in text


def test_the_drag_is_drawn_from_where_they_lie_with_what_is_required():
    sketch = of(lies("4 ft"), dragged("2 ft"))

    drag = next(one for one in sketch.dimensions if one.label.startswith("drag 0."))
    assert (drag.start, drag.end) == pytest.approx((2 * FT, 4 * FT))
    need = next(one for one in sketch.dimensions if one.label.startswith("drag required"))
    assert need.required
    assert need.end == pytest.approx(4 * FT)


def test_a_drag_that_is_not_planned_and_needed_says_so():
    text = said(of(lies("4 ft")), "drag required")

    assert "FAILS clearance/drags-before-it-lifts" in text


def test_who_lies_under_the_hook_is_drawn_there_once():
    sketch = of(lies("0 m"))
    ghosts = [one for one in sketch.shapes if isinstance(one, Disc) and one.pen is Pen.GHOST]

    assert len(ghosts) == 1
    assert slanted(sketch) == []


def test_an_unknown_place_is_a_note_not_a_line():
    sketch = of(at(lies_off=None))

    assert slanted(sketch) == []
    assert any("UNKNOWN clearance/line-on-rim" in one for one in sketch.notes)


def test_a_hook_off_its_centre_starts_the_line_there():
    (line,) = slanted(of(both(rig(off_centre="2 in"), lies("3 ft"))))

    assert line.points[0][0] == pytest.approx(2 * IN)


@pytest.mark.parametrize("change", [*FIRES.values(), *UNKNOWN.values()], ids=[*FIRES, *UNKNOWN])
def test_no_words_touch_on_broken_lines(change):
    for one in drawings(plan_with(change)):
        assert overlaps(one) == [], one.title
