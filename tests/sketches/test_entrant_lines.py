"""The lines of several inside, from above: as the site file places them, and what is not met."""

from __future__ import annotations

import broken_line
import pytest
from broken_line import two_lines
from broken_sites import Break, plan_with
from on_paper import drawings, overlaps

from planbuilder.findings import Unit
from planbuilder.sketches.entrant_lines import entrant_lines
from planbuilder.sketches.shapes import Disc, Pen, Sketch, Stroke

IN, FT = 0.0254, 0.3048
CASES = {name: one for name, one in broken_line.CASES.items() if "/lines-" in name}


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.3f} {unit}"


def of(*breaks: Break) -> Sketch | None:
    """The lines inside the wet well."""
    space = plan_with(*breaks).spaces[0]
    return entrant_lines(space.scene, metres, space.findings)


def drawn(*breaks: Break) -> Sketch:
    """The same where there are some."""
    sketch = of(*breaks)
    assert sketch is not None
    return sketch


def test_nobody_with_a_line_of_their_own_draws_nothing():
    assert of() is None


def test_each_line_runs_from_its_head_to_its_place():
    lines = [one for one in drawn(two_lines()).shapes if isinstance(one, Stroke)]

    assert len(lines) == 2
    assert lines[0].points[0] == pytest.approx((0.0, 0.0))
    assert lines[0].points[1] == pytest.approx((-2 * FT, 0.0))


def test_the_opening_lies_about_the_origin():
    ring = next(
        one for one in drawn(two_lines()).shapes if isinstance(one, Disc) and one.pen is Pen.RING
    )

    assert ring.centre == (0.0, 0.0)
    assert ring.radius == pytest.approx(12 * IN)


def test_what_is_met_is_said_without_a_mark():
    assert "No two lines cross" in drawn(two_lines()).notes


@pytest.mark.parametrize("name", CASES)
def test_what_is_not_met_names_its_rule(name):
    notes = " ".join(drawn(CASES[name].fires).notes)

    assert f"FAILS {name}" in notes


def test_a_place_that_is_not_stated_is_a_note():
    sketch = drawn(two_lines(at=None))

    assert len([one for one in sketch.shapes if isinstance(one, Stroke)]) == 1
    assert any(one.startswith("Place of ") for one in sketch.notes)


@pytest.mark.parametrize("name", CASES)
def test_no_words_touch(name):
    for change in (CASES[name].fires, CASES[name].unknown):
        for one in drawings(plan_with(change)):
            assert overlaps(one) == [], one.title
