"""Centre of pressure and moments about the edges: against cross products (numpy) and shapely."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from planbuilder.haul.stability import (
    EdgeMoments,
    Force,
    allowed_load_n,
    ballast_n,
    base_edges,
    centre_of_pressure_m,
    edge_moments,
    margin_m,
    moment_nm,
)

SLACK = 1e-9
G = 9.80665
RECTANGLE = [(0.75, 0.60), (-0.75, 0.60), (-0.75, -0.60), (0.75, -0.60)]

coordinate = st.integers(-1200, 1200).map(lambda millimetres: millimetres / 1000)
feet_strategy = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=6, unique=True)
place = st.tuples(coordinate, coordinate, st.floats(0, 3))
push = st.tuples(st.floats(-300, 300), st.floats(-300, 300), st.floats(-2000, -10))
forces_strategy = st.lists(
    st.builds(lambda at, by: Force(at_m=at, force_n=by), place, push), min_size=1, max_size=5
)


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def weight(mass_kg, x_m, y_m, z_m=0.0):
    return Force(at_m=(x_m, y_m, z_m), force_n=(0.0, 0.0, -mass_kg * G))


def own_weights(boom_y_m):
    """Base 45 kg and mast 17 kg in the middle, boom 8 kg."""
    return [weight(45, 0, 0), weight(17, 0, 0), weight(8, 0, boom_y_m)]


def edge_to_the_left():
    """The edge over which the davit with its boom to the left may tip."""
    return max(base_edges(RECTANGLE), key=lambda edge: math.sin(edge.out_rad))


def turned(point, turn_rad):
    x, y, *z = point
    cosine, sine = math.cos(turn_rad), math.sin(turn_rad)
    return (x * cosine - y * sine, x * sine + y * cosine, *z)


def test_reach_of_0_90_m_tips_as_in_the_worked_example():
    """140 kg at 0.90 m over an edge at 0.60 m: factor below 1, 128 kg at most."""
    own, hook = own_weights(0.45), weight(140, 0, 0.90)
    edge = edge_to_the_left()

    centre = centre_of_pressure_m([*own, hook])
    held, moments = edge_moments(own, edge), edge_moments([*own, hook], edge)

    assert four(centre[1]) == 0.6171
    assert four(margin_m(feet=RECTANGLE, centre_m=centre)) == -0.01714
    assert round(moments.stabilising_nm, 1) == 376.6
    assert round(moments.overturning_nm, 1) == 411.9
    assert four(moments.factor) == 0.9143
    for factor, mass_kg in ((1.0, 128.0), (2.0, 64.0)):
        allowed_n = allowed_load_n(moments=held, overhang_m=0.30, safety_factor=factor)
        assert round(allowed_n / G, 1) == mass_kg


def test_ballast_of_38_kg_on_the_far_edge_brings_a_factor_of_2():
    """Worked example; the ballast is then put there and the factor taken again."""
    own, hook = own_weights(0.45), weight(140, 0, 0.90)
    edge = edge_to_the_left()
    moments = edge_moments([*own, hook], edge)

    needed_n = ballast_n(moments=moments, behind_m=1.2, safety_factor=2.0)
    with_ballast = edge_moments([*own, hook, weight(needed_n / G, 0, -0.60)], edge)

    assert round(needed_n / G, 1) == 38.0
    assert with_ballast.factor == pytest.approx(2.0)


def test_reach_of_0_55_m_keeps_the_centre_0_2229_m_inside():
    """Worked example: the load line is inside, so nothing tips."""
    forces = [*own_weights(0.275), weight(140, 0, 0.55)]

    centre = centre_of_pressure_m(forces)

    assert four(centre[1]) == 0.3771
    assert four(margin_m(feet=RECTANGLE, centre_m=centre)) == 0.2229
    assert edge_moments(forces, edge_to_the_left()).factor == math.inf


@given(forces=forces_strategy)
def test_nothing_tips_about_the_centre_of_pressure(forces):
    """Moment of all forces about it, by cross products: none in the plane of the feet."""
    centre = np.array([*centre_of_pressure_m(forces), 0.0])

    moments = [np.cross(np.array(one.at_m) - centre, one.force_n) for one in forces]

    assert np.sum(moments, axis=0)[:2] == pytest.approx([0, 0], abs=1e-6)


@given(feet=feet_strategy, force=st.builds(lambda at, by: Force(at_m=at, force_n=by), place, push))
def test_moment_about_an_edge_is_the_triple_product(feet, force):
    """Arm from a corner of the hull, force, and the edge's direction with the base on its left."""
    hull = shapely.MultiPoint(feet).convex_hull
    assume(hull.area > 0.02)

    for edge in base_edges(feet):
        along = np.array([edge.inward[1], -edge.inward[0], 0.0])
        corner = np.array([*(edge.offset_m * np.array(edge.inward)), 0.0])
        triple = np.cross(np.array(force.at_m) - corner, force.force_n) @ along
        assert moment_nm(force, edge) == pytest.approx(-triple, abs=1e-6)
        assert np.allclose(along[:2] @ np.array(edge.inward), 0)


@given(feet=feet_strategy, centre_m=st.tuples(coordinate, coordinate))
def test_margin_has_the_size_and_sign_that_shapely_finds(feet, centre_m):
    hull = shapely.MultiPoint(feet).convex_hull
    assume(hull.area > 0.02)
    point = shapely.Point(centre_m)

    inside_m = margin_m(feet=feet, centre_m=centre_m)

    if hull.covers(point):
        assert inside_m == pytest.approx(hull.exterior.distance(point), abs=1e-9)
    else:
        assert -hull.distance(point) - SLACK <= inside_m < SLACK


@given(feet=feet_strategy)
def test_edges_are_those_of_the_hull_seen_from_inside(feet):
    hull = shapely.MultiPoint(feet).convex_hull
    assume(hull.area > 0.02)
    middle = hull.centroid.coords[0]

    edges = base_edges(feet)

    assert len(edges) == len(shapely.simplify(hull, 0).exterior.coords) - 1
    for edge in edges:
        assert math.hypot(*edge.inward) == pytest.approx(1)
        assert edge.inside_m(middle) > 0
        assert min(edge.inside_m(foot) for foot in feet) == pytest.approx(0, abs=1e-9)
        assert math.cos(edge.out_rad) == pytest.approx(-edge.inward[0])


@given(forces=forces_strategy, turn_rad=st.floats(-math.pi, math.pi))
def test_turning_base_and_forces_together_changes_no_factor_and_no_margin(forces, turn_rad):
    turned_feet = [turned(foot, turn_rad) for foot in RECTANGLE]
    turned_forces = [
        Force(at_m=turned(one.at_m, turn_rad), force_n=turned(one.force_n, turn_rad))
        for one in forces
    ]

    before = sorted(edge_moments(forces, edge).stabilising_nm for edge in base_edges(RECTANGLE))
    after = sorted(
        edge_moments(turned_forces, edge).stabilising_nm for edge in base_edges(turned_feet)
    )

    assert after == pytest.approx(before, abs=1e-4)
    assert margin_m(
        feet=turned_feet, centre_m=centre_of_pressure_m(turned_forces)
    ) == pytest.approx(margin_m(feet=RECTANGLE, centre_m=centre_of_pressure_m(forces)), abs=1e-6)


@given(forces=forces_strategy)
def test_centre_is_inside_an_edge_just_where_more_holds_than_tips(forces):
    centre = centre_of_pressure_m(forces)

    for edge in base_edges(RECTANGLE):
        moments = edge_moments(forces, edge)
        assume(abs(edge.inside_m(centre)) > 1e-9)
        assert (moments.factor > 1) == (edge.inside_m(centre) > 0)


def test_level_push_at_a_height_tips_without_any_weight_of_its_own():
    """100 N at 2 m, pushing to the left: 200 N m about the left edge, held back at the right."""
    push_left = Force(at_m=(0.0, 0.0, 2.0), force_n=(0.0, 100.0, 0.0))

    moments = edge_moments([push_left, weight(70, 0, 0)], edge_to_the_left())

    assert moments.overturning_nm == pytest.approx(200)
    assert moments.stabilising_nm == pytest.approx(70 * G * 0.6)


@given(
    held=st.floats(0, 1000),
    tipping=st.floats(0, 1000),
    overhang=st.floats(0.01, 1),
    factor=st.floats(1, 3),
    more=st.floats(0, 1),
)
def test_longer_overhang_or_higher_factor_never_allows_more_or_needs_less(
    held, tipping, overhang, factor, more
):
    moments = EdgeMoments(stabilising_nm=held, overturning_nm=tipping)
    case = {"moments": moments, "safety_factor": factor}
    allowed_n = allowed_load_n(**case, overhang_m=overhang)
    needed_n = ballast_n(**case, behind_m=1.0)
    stricter = {"moments": moments, "safety_factor": factor + more}

    assert allowed_load_n(**case, overhang_m=overhang + more) <= allowed_n
    assert allowed_load_n(**stricter, overhang_m=overhang) <= allowed_n + SLACK * allowed_n
    assert ballast_n(**stricter, behind_m=1.0) >= needed_n
    assert ballast_n(**case, behind_m=1.0 - more * 0.5) >= needed_n - SLACK


def test_what_already_tips_the_base_is_taken_off_the_load_allowed():
    """300 N m held by a factor of 2 are 150; 50 tip already, so 100 are left at 0.5 m: 200 N."""
    tipping = EdgeMoments(stabilising_nm=300.0, overturning_nm=50.0)
    hopeless = EdgeMoments(stabilising_nm=300.0, overturning_nm=200.0)

    assert allowed_load_n(moments=tipping, overhang_m=0.5, safety_factor=2.0) == 200
    assert allowed_load_n(moments=hopeless, overhang_m=0.5, safety_factor=2.0) == 0


def test_load_that_overhangs_nothing_is_not_limited_by_tipping():
    moments = EdgeMoments(stabilising_nm=100.0, overturning_nm=0.0)

    assert allowed_load_n(moments=moments, overhang_m=0.0, safety_factor=2.0) == math.inf
    assert moments.factor == math.inf


def test_ballast_on_the_edge_itself_can_never_be_enough():
    moments = EdgeMoments(stabilising_nm=100.0, overturning_nm=80.0)

    assert ballast_n(moments=moments, behind_m=0.0, safety_factor=2.0) == math.inf
    assert ballast_n(moments=moments, behind_m=0.0, safety_factor=1.2) == 0


def test_forces_that_lift_the_base_are_refused():
    lifted = Force(at_m=(0.0, 0.0, 0.0), force_n=(0.0, 0.0, 10.0))

    with pytest.raises(ValueError, match=r"must press the base down, got -10 N"):
        centre_of_pressure_m([lifted])


def test_feet_that_span_no_area_are_refused():
    with pytest.raises(ValueError, match="three feet or more that are not in one line"):
        base_edges([(0.0, 0.0), (1.0, 0.0)])
