"""The section through a manway in a wall, in metres: sill at nought, inside to the right.

The tank: manway 30 in round, neck 8 in, sills 2 ft on both sides, table 7 ft.
"""

from __future__ import annotations

import pytest
from broken_openings import opening
from broken_sites import Break, plan_with

from planbuilder.sketches.shapes import Lane, Pen, Sketch
from planbuilder.sketches.side import side_section

IN, FT = 0.0254, 0.3048


def manway(*breaks: Break) -> Sketch:
    """The section at the manway of the tank."""
    space = plan_with(*breaks, sample="storage_tank").spaces[0]
    sketch = side_section(space.scene, lambda value, unit: f"{value:.4f} {unit}", space.findings)
    assert sketch is not None
    return sketch


def row(sketch: Sketch, start: str):
    """The dimension whose label starts so."""
    return next(one for one in sketch.dimensions if one.label.startswith(start))


@pytest.mark.parametrize(
    ("name", "lane", "start", "end"),
    [
        ("sill inside", Lane.RIGHT, -2 * FT, 0.0),
        ("sill outside", Lane.LEFT, -2 * FT, 0.0),
        ("neck", Lane.BELOW, -8 * IN, 0.0),
        ("table", Lane.BELOW, -8 * IN - 7 * FT, -8 * IN),
    ],
)
def test_each_measure_stands_where_the_site_file_puts_it(name, lane, start, end):
    one = row(manway(), name)

    assert one.lane is lane
    assert (one.start, one.end) == pytest.approx((start, end))
    assert not one.required


def test_the_height_allowed_without_footholds_is_dashed():
    allowed = [one for one in manway().dimensions if one.label.startswith("without footholds")]

    assert len(allowed) == 2
    assert all(one.required and one.end - one.start == pytest.approx(0.6) for one in allowed)


def test_a_sill_too_high_and_a_table_too_short_name_their_rules():
    labels = [one.label for one in manway(opening(footholds=False, landing="4 ft")).dimensions]

    assert any(one.endswith("FAILS clearance/sill-too-high") for one in labels)
    assert any(one.endswith("FAILS clearance/manway-table-too-short") for one in labels)


def test_a_sill_outside_that_is_not_measured_is_guessed_and_has_no_dimension():
    sketch = manway(opening(sill_outside=None))

    assert sketch.guesses == ("sill outside",)
    assert not any(one.label.startswith("sill outside") for one in sketch.dimensions)
    assert any(one.pen is Pen.GUESS for one in sketch.shapes)


def test_the_straight_runs_are_said_in_words():
    assert any("outside 2.7432 m, inside 6.0960 m" in one for one in manway().notes)


def test_a_space_entered_from_above_has_none():
    space = plan_with().spaces[0]

    assert side_section(space.scene, lambda value, unit: "", space.findings) is None
