"""Leg reactions and pads: worked examples, against linear programmes (scipy) and least squares."""

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize

from planbuilder.haul.legs import (
    GROUNDS,
    elastic_reactions_n,
    greatest_reactions_n,
    pad_area_m2,
    pad_pressure_pa,
)

SLACK = 1e-9
G = 9.80665
# 0.9 m from the middle, at 90, 210 and 330 degrees.
TRIANGLE = [
    (0.9 * math.cos(math.radians(turn)), 0.9 * math.sin(math.radians(turn)))
    for turn in (90, 210, 330)
]
RECTANGLE = [(0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.75, -0.60)]
# Base 45 kg and mast 17 kg in the middle, boom 8 kg half way to 140 kg at a reach of 0.55 m.
TOTAL_N = 210 * G
REACH_M = (140 * 0.55 + 8 * 0.275) / 210
LEFT = (0.0, REACH_M)
CORNERWISE = (REACH_M / math.sqrt(2), REACH_M / math.sqrt(2))

coordinate = st.integers(-1200, 1200).map(lambda millimetres: millimetres / 1000)
points = st.tuples(coordinate, coordinate)


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def equilibrium(feet):
    """Rows of the three balances: all pressures, and their moments about both axes."""
    return np.array([[1.0] * len(feet), *np.array(feet).T])


def programme(feet, load_n, centre_m):
    """Most of each foot by linear programming, None where nothing balances."""
    right = load_n * np.array([1, *centre_m])
    found = [
        optimize.linprog(-row, A_eq=equilibrium(feet), b_eq=right) for row in np.eye(len(feet))
    ]
    return None if found[0].status == 2 else [-one.fun for one in found]


def test_three_legs_of_the_worked_example():
    """140 kg at y 0.30, 40 kg in the middle, 20 kg at 0.05 m: pad on sand 100.4 mm square."""
    load_n, centre_m = 200 * G, (0.0, (140 * 0.30 + 20 * 0.05) / 200)

    legs_n = greatest_reactions_n(feet=TRIANGLE, load_n=load_n, centre_m=centre_m)
    area_m2 = pad_area_m2(reaction_n=max(legs_n), bearing_pa=GROUNDS["sand"].bearing_pa)

    assert [four(leg_n) for leg_n in legs_n] == [966.1, 497.6, 497.6]
    assert legs_n == pytest.approx(
        np.linalg.solve(equilibrium(TRIANGLE), load_n * np.array([1, *centre_m]))
    )
    assert four(area_m2 * 1e4) == 100.9
    assert four(math.sqrt(area_m2) * 1000) == 100.4


@pytest.mark.parametrize(
    ("centre_m", "elastic", "most"),
    [
        pytest.param(
            LEFT, (838.5, 838.5, 191.2, 191.2), (1030, 1030, 382.5, 382.5), id="to the left"
        ),
        pytest.param(
            CORNERWISE, (926.7, 560.6, 102.9, 469.1), (1396, 663.6, 572.0, 572.0), id="to a corner"
        ),
    ],
)
def test_four_legs_of_the_worked_example(centre_m, elastic, most):
    """Springs alike share with the least sum of squares; the most of a leg is a programme's."""
    four_legs: dict[str, Any] = {"feet": RECTANGLE, "load_n": TOTAL_N, "centre_m": centre_m}
    right = TOTAL_N * np.array([1, *centre_m])

    shared_n, most_n = elastic_reactions_n(**four_legs), greatest_reactions_n(**four_legs)

    assert [four(leg_n) for leg_n in shared_n] == list(elastic)
    assert shared_n == pytest.approx(np.linalg.pinv(equilibrium(RECTANGLE)) @ right)
    assert [four(leg_n) for leg_n in most_n] == list(most)
    assert most_n == pytest.approx(programme(RECTANGLE, TOTAL_N, centre_m))


def test_elastic_sharing_understates_a_foot_by_a_third_or_more():
    four_legs: dict[str, Any] = {"feet": RECTANGLE, "load_n": TOTAL_N, "centre_m": CORNERWISE}

    ratio = elastic_reactions_n(**four_legs)[0] / greatest_reactions_n(**four_legs)[0]

    assert ratio < 2 / 3


@given(feet=st.lists(points, min_size=3, max_size=6, unique=True), centre_m=points)
def test_envelope_exists_just_where_the_centre_is_inside_the_feet(feet, centre_m):
    hull = shapely.MultiPoint(feet).convex_hull
    assume(hull.area > 0.02)
    assume(hull.exterior.distance(shapely.Point(centre_m)) > 1e-6)

    if hull.contains(shapely.Point(centre_m)):
        most_n = greatest_reactions_n(feet=feet, load_n=1000.0, centre_m=centre_m)
        assert most_n == pytest.approx(programme(feet, 1000.0, centre_m), abs=0.01)
    else:
        with pytest.raises(ValueError, match="the base tips"):
            greatest_reactions_n(feet=feet, load_n=1000.0, centre_m=centre_m)


@given(feet=st.lists(points, min_size=3, max_size=6, unique=True), centre_m=points)
def test_elastic_reactions_add_up_to_the_load_and_its_moments(feet, centre_m):
    assume(shapely.MultiPoint(feet).convex_hull.area > 0.02)

    legs_n = elastic_reactions_n(feet=feet, load_n=1000.0, centre_m=centre_m)

    assert equilibrium(feet) @ legs_n == pytest.approx(
        [1000, *(1000 * np.array(centre_m))], abs=1e-6
    )


@given(feet=st.lists(points, min_size=3, max_size=3, unique=True), centre_m=points)
def test_three_legs_have_one_answer_by_all_three_ways(feet, centre_m):
    triangle = shapely.Polygon(feet)
    assume(triangle.area > 0.02)
    three_legs: dict[str, Any] = {"feet": feet, "load_n": 1000.0, "centre_m": centre_m}

    legs_n = elastic_reactions_n(**three_legs)

    assert sum(legs_n) == pytest.approx(1000)
    balanced = np.linalg.solve(equilibrium(feet), 1000 * np.array([1, *centre_m]))
    assert legs_n == pytest.approx(balanced, abs=1e-6)
    if min(legs_n) > 1e-3:
        assert legs_n == pytest.approx(greatest_reactions_n(**three_legs))
    assert (min(legs_n) >= -1e-6) == (triangle.distance(shapely.Point(centre_m)) < 1e-9)


def test_centre_on_the_line_between_two_feet_loads_only_these():
    on_edge: dict[str, Any] = {"feet": RECTANGLE, "load_n": 1000.0, "centre_m": (0.25, 0.60)}

    assert greatest_reactions_n(**on_edge) == pytest.approx((2000 / 3, 1000 / 3, 0, 0))


def test_centre_over_the_crossing_of_four_feet_lets_any_pair_carry_all():
    """On uneven ground a four-legged base stands on one diagonal."""
    in_the_middle: dict[str, Any] = {"feet": RECTANGLE, "load_n": 1000.0, "centre_m": (0.0, 0.0)}

    assert elastic_reactions_n(**in_the_middle) == pytest.approx((250,) * 4)
    assert greatest_reactions_n(**in_the_middle) == pytest.approx((500,) * 4)


@given(centre_m=st.tuples(st.floats(-0.7, 0.7), st.floats(-0.55, 0.55)), more=st.floats(0, 1))
def test_heavier_load_or_softer_ground_never_needs_a_smaller_pad(centre_m, more):
    before = greatest_reactions_n(feet=RECTANGLE, load_n=1000.0, centre_m=centre_m)
    after = greatest_reactions_n(feet=RECTANGLE, load_n=1000.0 * (1 + more), centre_m=centre_m)

    assert all(late >= early for early, late in zip(before, after, strict=True))
    assert pad_area_m2(reaction_n=max(after), bearing_pa=1e5) >= pad_area_m2(
        reaction_n=max(before), bearing_pa=1e5 * (1 + more)
    )


@given(centre_m=st.tuples(st.floats(-0.7, 0.7), st.floats(-0.55, 0.55)))
def test_envelope_never_says_less_than_elastic_sharing(centre_m):
    four_legs: dict[str, Any] = {"feet": RECTANGLE, "load_n": 1000.0, "centre_m": centre_m}
    shared_n = elastic_reactions_n(**four_legs)
    assume(min(shared_n) >= 0)

    for most_n, leg_n in zip(greatest_reactions_n(**four_legs), shared_n, strict=True):
        assert most_n >= leg_n - SLACK * 1000


def test_pad_of_the_area_needed_presses_with_the_bearing_pressure():
    area_m2 = pad_area_m2(reaction_n=966.1, bearing_pa=95_760.0)

    assert pad_pressure_pa(reaction_n=966.1, area_m2=area_m2) == pytest.approx(95_760)


def test_very_soft_clay_or_loose_fill_has_the_500_psf_of_an_older_city_code():
    """23.9 kPa; the building code of 2012 gives such ground no value."""
    ground = GROUNDS["very-soft-clay-or-loose-fill"]

    assert round(ground.bearing_pa / 1000, 1) == 23.9
    assert "city" in ground.document


@pytest.mark.parametrize("soil", ["mud", "peat", "organic-soil", "uncontrolled-fill"])
def test_ground_without_a_value_has_none(soil):
    assert soil not in GROUNDS


def test_feet_in_one_line_have_no_elastic_sharing():
    with pytest.raises(ValueError, match="singular"):
        elastic_reactions_n(feet=[(0, 0), (1, 1), (2, 2)], load_n=1.0, centre_m=(0.0, 0.0))
