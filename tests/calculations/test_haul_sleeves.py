"""Sleeves on walls and floors: worked examples, against balances and least-norm solves (numpy).

Bolts that stretch alike share with the least sum of squares, so the pseudo-inverse of the balances
gives their tensions without any closed form.
"""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planbuilder.haul.mast import level_part_n, mast_moment_nm
from planbuilder.haul.sleeves import (
    BoltTension,
    bolt_shear_n,
    bolt_use,
    bracket_bolt_tension_n,
    breakout_n,
    clamp_force_n,
    couple_n,
    embedment_needed_m,
    floor_bolt_tension,
    offset_moment_nm,
    swung_bolt_tension_n,
    wall_overturning_nm,
    wall_stabilising_nm,
    wall_strip_weight_n,
)

SLACK = 1e-9
G = 9.80665
# 140 kg at 0.60 m from the middle of the wall, clamp of 30 kg at 0.25 m.
CLAMP = [(140 * G, 0.60), (30 * G, 0.25)]
WALL_M = 0.20
# Mast moment with the line leaning 10 degrees; mast and boom of 25 kg press the plate down too.
LEAN_RAD = math.radians(10)
MOMENT_NM = mast_moment_nm(
    line_force_n=140 * G,
    lean_rad=LEAN_RAD,
    reach_m=0.55,
    boom_weight_n=8 * G,
    boom_arm_m=0.275,
    head_height_m=1.55,
)
AXIAL_N = (140 * math.cos(LEAN_RAD) + 25) * G
BOLTS = [(0.10, 0.10), (-0.10, 0.10), (-0.10, -0.10), (0.10, -0.10)]
FLOOR: dict[str, Any] = {"offsets_m": (0.10, 0.10, -0.10, -0.10), "toe_m": 0.15}


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def test_wall_clamp_of_the_worked_example():
    moment_nm = offset_moment_nm(CLAMP)
    face_n = clamp_force_n(vertical_n=170 * G, friction=0.3, safety_factor=2.0)

    assert four(moment_nm) == 897.3
    assert four(couple_n(moment_nm=moment_nm, spacing_m=0.40)) == 2243
    assert four(face_n) == 5557


def test_couple_and_friction_balance_the_clamp():
    """Unknown: forces on outer and inner face, and the friction shared by both."""
    _, inner_n, friction_n = np.linalg.solve(
        np.array([[1, -1, 0], [0, 0.40, 0], [0, 0, 2]]),
        np.array([0, sum(force_n * arm_m for force_n, arm_m in CLAMP), 170 * G]),
    )

    assert couple_n(moment_nm=offset_moment_nm(CLAMP), spacing_m=0.40) == pytest.approx(inner_n)
    assert clamp_force_n(vertical_n=170 * G, friction=0.3, safety_factor=2.0) == pytest.approx(
        2 * friction_n / 0.3
    )


def test_strip_of_unreinforced_wall_tips_in_the_worked_example():
    strip_n = wall_strip_weight_n(
        unit_weight_n_per_m3=2400 * G, height_m=1.1, width_m=1.0, thickness_m=WALL_M
    )
    held_nm = wall_stabilising_nm(strip_weight_n=strip_n, thickness_m=WALL_M)
    tips_nm = wall_overturning_nm(
        loads=CLAMP, thickness_m=WALL_M, level_pull_n=0.0, pull_height_m=0.0
    )

    assert four(strip_n) == 5178
    assert four(held_nm) == 517.8
    assert four(tips_nm) == 730.6
    assert tips_nm > held_nm


def test_wider_strip_weighs_as_much_more():
    """2.5 m3 of 24 kN/m3."""
    strip_n = wall_strip_weight_n(
        unit_weight_n_per_m3=24_000, height_m=2.5, width_m=5.0, thickness_m=WALL_M
    )

    assert strip_n == pytest.approx(60_000)


def test_wall_moments_are_cross_products_about_the_outer_foot():
    """With x outward from the middle of the wall, z up from its foot; line leaning 10 degrees."""
    foot = np.array([WALL_M / 2, 0.0, 0.0])
    pull = 140 * G * np.array([math.sin(LEAN_RAD), 0, -math.cos(LEAN_RAD)])
    forces = [((0.60, 0, 2.3), pull), ((0.25, 0, 1.1), np.array([0, 0, -30 * G]))]
    tipping = sum(np.cross(np.array(at) - foot, force)[1] for at, force in forces)

    tips_nm = wall_overturning_nm(
        loads=[(-pull[2], 0.60), (30 * G, 0.25)],
        thickness_m=WALL_M,
        level_pull_n=pull[0],
        pull_height_m=2.3,
    )

    assert tips_nm == pytest.approx(tipping)


def test_load_within_the_thickness_of_the_wall_does_not_tip_it():
    tips_nm = wall_overturning_nm(
        loads=[(1000.0, 0.08)], thickness_m=WALL_M, level_pull_n=0.0, pull_height_m=0.0
    )

    assert tips_nm == 0


def test_floor_bolts_of_the_worked_example():
    tension = floor_bolt_tension(**FLOOR, moment_nm=MOMENT_NM, axial_n=AXIAL_N)
    shear_n = bolt_shear_n(shear_n=level_part_n(line_force_n=140 * G, lean_rad=LEAN_RAD), bolts=4)

    assert four(AXIAL_N) == 1597
    assert four(tension.centroid_n) == 2438
    assert four(tension.toe_n) == 1721
    assert tension.larger_n == tension.centroid_n
    assert four(shear_n) == 59.6


offsets = st.lists(st.floats(0.02, 0.3), min_size=1, max_size=3)


@given(half=offsets, moment=st.floats(0, 3000), axial=st.floats(0, 3000), edge=st.floats(0, 0.2))
def test_bolts_share_with_the_least_sum_of_squares(half, moment, axial, edge):
    rows = np.array([*half, *(-offset for offset in half)])
    toe_m = max(half) + edge
    centroid = np.linalg.pinv(np.array([np.ones(len(rows)), rows])) @ [-axial, moment]
    toe = np.linalg.pinv(np.array([rows + toe_m])) @ [moment - axial * toe_m]

    tension = floor_bolt_tension(
        offsets_m=tuple(rows), moment_nm=moment, axial_n=axial, toe_m=toe_m
    )

    assert tension.centroid_n == pytest.approx(centroid.max(), abs=1e-6)
    if moment > axial * toe_m:
        assert tension.toe_n == pytest.approx(toe.max(), abs=1e-6)


def test_plate_that_stays_pressed_down_pulls_no_bolt():
    assert BoltTension(centroid_n=-120.0, toe_n=-300.0).larger_n == 0


@given(
    half=offsets, moment=st.floats(0, 3000), axial=st.floats(-2000, 3000), edge=st.floats(0, 0.2)
)
def test_toe_model_gives_more_only_where_the_plate_is_lifted(half, moment, axial, edge):
    """By the variance of bolts between edge and edge (Bhatia and Davis)."""
    rows = (*half, *(-offset for offset in half))

    tension = floor_bolt_tension(
        offsets_m=rows, moment_nm=moment, axial_n=axial, toe_m=max(half) + edge
    )

    if axial >= 0:
        assert tension.toe_n <= tension.centroid_n + SLACK * (1 + moment + axial) / 0.02
    assert tension.larger_n >= max(tension.toe_n, tension.centroid_n)


def test_toe_model_governs_a_lifted_plate():
    """Pure uplift of 1000 N on four bolts: a quarter each, more if the far edge stays down."""
    tension = floor_bolt_tension(**FLOOR, moment_nm=0.0, axial_n=-1000.0)

    assert tension.centroid_n == pytest.approx(250)
    assert tension.toe_n == pytest.approx(1000 * 0.15 * 0.25 / (2 * (0.05**2 + 0.25**2)))
    assert tension.larger_n == tension.toe_n


def test_diagonal_pulls_a_corner_bolt_1_41_times_as_hard_as_the_face():
    """Without weight on the plate; one bolt on the diagonal, 0.141 m out, instead of two."""
    face = floor_bolt_tension(**FLOOR, moment_nm=1000.0, axial_n=0.0).centroid_n

    swung = swung_bolt_tension_n(bolts=BOLTS, moment_nm=1000.0, axial_n=0.0)

    assert swung / face == pytest.approx(math.sqrt(2))


@given(
    bolts=st.lists(
        st.tuples(st.integers(-30, 30), st.integers(-30, 30)), min_size=3, max_size=6, unique=True
    ),
    moment=st.floats(100, 3000),
    axial=st.floats(0, 2000),
)
def test_swung_bolts_are_the_worst_of_a_fine_sweep(bolts, moment, axial):
    """Tensions by least norm in both axes, for the moment in every direction."""
    points = np.array(bolts) / 100
    arms = points - points.mean(axis=0)
    assume(np.linalg.matrix_rank(arms, tol=0.02) == 2)
    turns = np.linspace(0, math.tau, 1441)
    loads = np.array([np.full(1441, -axial), moment * np.cos(turns), moment * np.sin(turns)])
    tensions = np.linalg.pinv(np.array([np.ones(len(arms)), *arms.T])) @ loads

    swung_n = swung_bolt_tension_n(
        bolts=[tuple(point) for point in points], moment_nm=moment, axial_n=axial
    )

    assert swung_n == pytest.approx(max(0.0, tensions.max()), rel=1e-4, abs=0.05)


def test_breakout_of_an_80_mm_anchor_in_25_mpa_is_25_04_kn():
    """Worked example; sqrt 25 is 5 and 80^1.5 is 715.54."""
    ours = breakout_n(concrete_strength_pa=25e6, embedment_m=0.080)

    assert four(ours / 1000) == 25.04
    assert ours == pytest.approx(7 * 5 * 715.5418, rel=1e-6)


@given(pull=st.floats(500, 1e5), strength=st.floats(1e7, 6e7))
def test_bolt_embedded_as_deep_as_needed_breaks_out_at_that_pull(pull, strength):
    deep_m = embedment_needed_m(pull_n=pull, concrete_strength_pa=strength)

    assert breakout_n(concrete_strength_pa=strength, embedment_m=deep_m) == pytest.approx(pull)


def test_wall_sleeve_of_the_worked_example():
    """140 kg at 0.45 m, sleeve of 20 kg at 0.20 m, brackets 0.50 m apart, two bolts on top."""
    moment_nm = offset_moment_nm([(140 * G, 0.45), (20 * G, 0.20)])
    lower_n, upper_n = np.linalg.solve(np.array([[1, -1], [0, 0.50]]), np.array([0, moment_nm]))

    assert four(couple_n(moment_nm=moment_nm, spacing_m=0.50)) == 1314
    assert upper_n == pytest.approx(lower_n)
    assert couple_n(moment_nm=moment_nm, spacing_m=0.50) == pytest.approx(upper_n)
    per_bolt_n = bracket_bolt_tension_n(moment_nm=moment_nm, spacing_m=0.50, bolts_in_top_bracket=2)
    assert four(per_bolt_n) == 657.0
    assert four(bolt_shear_n(shear_n=160 * G, bolts=4)) == 392.3


def test_bolt_at_both_limits_is_used_twice():
    use = bolt_use(tension_n=3000.0, allowed_tension_n=3000.0, shear_n=500.0, allowed_shear_n=500.0)

    assert use == 2


@given(reach=st.floats(0.1, 1.5), more=st.floats(0, 1), moment=st.floats(10, 3000))
def test_longer_reach_heavier_load_or_steeper_lean_never_help(reach, more, moment):
    wall = {"thickness_m": WALL_M, "level_pull_n": 100.0, "pull_height_m": 2.0}
    loads, longer, heavier = (
        [(1400.0, reach)],
        [(1400.0, reach + more)],
        [(1400.0 * (1 + more), reach)],
    )
    leaning = {**wall, "level_pull_n": 100.0 * (1 + more)}
    before_nm = wall_overturning_nm(loads=loads, **wall)

    assert offset_moment_nm(longer) >= offset_moment_nm(loads)
    assert wall_overturning_nm(loads=longer, **wall) >= before_nm
    assert wall_overturning_nm(loads=heavier, **wall) >= before_nm
    assert wall_overturning_nm(loads=loads, **leaning) >= before_nm
    bolts: dict[str, Any] = {"bolts": BOLTS, "axial_n": 500.0}
    assert swung_bolt_tension_n(**bolts, moment_nm=moment * (1 + more)) >= swung_bolt_tension_n(
        **bolts, moment_nm=moment
    )


def test_bolts_on_the_axis_are_refused():
    with pytest.raises(ValueError, match="must not all lie on the axis"):
        floor_bolt_tension(offsets_m=(0.0, 0.0), moment_nm=1.0, axial_n=0.0, toe_m=0.1)
