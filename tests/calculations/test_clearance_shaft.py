"""Plumb line in a shaft: worked examples, and shapely as another route."""

import math

import pytest
from shapely import Point, box, maximum_inscribed_circle
from shapely.affinity import rotate

from planbuilder.clearance.shaft import Obstruction, Section, best_plumb_m, clear_radius_m

ROUND = Section(length_m=1.2, width_m=1.2, is_round=True)
LADDER = Obstruction(towards_rad=math.pi / 2, reaches_in_m=0.18)  # 0.42 m off the axis
PIPE = Obstruction(  # 0.2 m across at (-0.45, -0.20)
    towards_rad=math.atan2(-0.20, -0.45), reaches_in_m=0.6 - math.hypot(0.45, 0.20) + 0.1
)
LEDGE = Obstruction(towards_rad=0.0, reaches_in_m=0.25)  # from x = 0.35 m


@pytest.mark.parametrize(
    ("there", "radius_m"),
    [([LADDER], 0.4200), ([LADDER, PIPE], 0.3924), ([LADDER, PIPE, LEDGE], 0.3500)],
)
def test_the_axis_of_the_worked_shaft_has_this_room(there, radius_m):
    """W29 with the ladder alone."""
    found_m = clear_radius_m(section=ROUND, obstructions=there, x_m=0.0, y_m=0.0)

    assert found_m == pytest.approx(radius_m, abs=5e-5)


def test_the_best_place_beside_the_worked_ladder():
    """W29."""
    x_m, y_m, radius_m = best_plumb_m(section=ROUND, obstructions=[LADDER])

    assert (x_m, y_m) == pytest.approx((0.0, -0.090), abs=1e-3)
    assert radius_m == pytest.approx(0.5100)


@pytest.mark.parametrize("is_round", [True, False])
@pytest.mark.parametrize("there", [[LADDER, PIPE], [LADDER, PIPE, LEDGE]])
def test_the_best_place_is_that_of_the_largest_circle_in_the_free_section(there, is_round):
    section = Section(length_m=1.2 if is_round else 1.6, width_m=1.2, is_round=is_round)
    free = Point(0, 0).buffer(0.6, quad_segs=512) if is_round else box(-0.8, -0.6, 0.8, 0.6)
    for one in there:
        out_m = section.out_to_m(one.towards_rad) - one.reaches_in_m
        beyond = box(out_m, -5, out_m + 5, 5)
        free -= rotate(beyond, one.towards_rad, origin=(0, 0), use_radians=True)

    radius_m = best_plumb_m(section=section, obstructions=there)[2]

    assert radius_m == pytest.approx(
        maximum_inscribed_circle(free, tolerance=1e-5).length, abs=2e-4
    )


def test_a_line_behind_a_ledge_has_no_room():
    assert clear_radius_m(section=ROUND, obstructions=[LEDGE], x_m=0.5, y_m=0.0) < 0


def test_of_places_that_are_as_good_the_middle_of_a_long_shaft_is_named():
    """A shelf along one long wall: nothing is gained by moving along the shaft."""
    shaft = Section(length_m=2.4, width_m=1.2, is_round=False)
    shelf = Obstruction(towards_rad=math.pi / 2, reaches_in_m=0.3)

    x_m, y_m, radius_m = best_plumb_m(section=shaft, obstructions=[shelf])

    assert (x_m, y_m, radius_m) == pytest.approx((0.0, -0.15, 0.45), abs=1e-5)
