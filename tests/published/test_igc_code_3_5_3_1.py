"""IGC Code 3.5.3.1.2 to 3.5.3.1.4, openings for a person with a breathing set, hoisted if injured.

Horizontal openings at least 600 x 600 mm, vertical ones 600 x 800 mm, round ones 600 mm. The sizes
are printed; that the outlines below pass them is derived (ANSUR II men, 70 mm for clothing and
movement, body and set as one ellipse).
"""

from typing import NamedTuple

import pytest

from planbuilder.clearance.outline import Outline, enclosing_diameter_m, short_side_needed_m

pytestmark = pytest.mark.published


class Opening(NamedTuple):
    where: str
    breadth_m: float
    depth_m: float
    long_side_m: float
    short_side_m: float


@pytest.mark.parametrize(
    "row",
    [
        Opening("3.5.3.1.3, vertical, P95 with set and allowance", 0.637, 0.568, 0.8, 0.6),
        Opening("3.5.3.1.2, horizontal, P95 with set, no allowance", 0.567, 0.498, 0.6, 0.6),
    ],
    ids=lambda row: row.where,
)
def test_large_man_with_a_set_passes_the_openings_of_the_code(row):
    """R09."""
    outline = Outline(breadth_m=row.breadth_m, depth_m=row.depth_m, set_width_m=0, set_depth_m=0)

    assert short_side_needed_m(outline, long_side_m=row.long_side_m) <= row.short_side_m


def test_large_man_with_a_set_does_not_pass_18_inches_square():
    """R09. For comparison: an opening of 457 mm, below the code's smallest."""
    outline = Outline(breadth_m=0.567, depth_m=0.498, set_width_m=0, set_depth_m=0)

    assert short_side_needed_m(outline, long_side_m=0.457) > 0.457


def test_large_man_without_a_set_passes_the_round_opening():
    """P95 without allowance: 567 mm; 3.5.3.1.4 asks for 600 mm."""
    outline = Outline(breadth_m=0.567, depth_m=0.298, set_width_m=0, set_depth_m=0)

    assert enclosing_diameter_m(outline) <= 0.6
