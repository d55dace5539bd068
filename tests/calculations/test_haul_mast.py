"""Davit masts: worked examples, against a plane frame program (anastruct) and integrals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from planbuilder.haul.mast import (
    bending_stress_pa,
    level_part_n,
    mast_moment_nm,
    socket_forces,
)
from planbuilder.haul.tube import tube_section_modulus_m3

SLACK = 1e-9
LINE_N = 140 * 9.80665
BOOM = {"boom_weight_n": 8 * 9.80665, "boom_arm_m": 0.275}
DAVIT = {**BOOM, "reach_m": 0.55, "head_height_m": 1.55}
SOCKET_M = 0.45
LEAN_RAD = math.radians(10)


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def frame_socket_forces(lean_rad):
    """Level reactions at the two bearings of a mast with its boom as a frame."""
    frame = pytest.importorskip("anastruct").SystemElements()
    frame.add_element([[0, 0], [0, SOCKET_M]])
    frame.add_element([[0, SOCKET_M], [0, SOCKET_M + 1.55]])
    frame.add_element([[0, SOCKET_M + 1.55], [0.275, SOCKET_M + 1.55]])
    frame.add_element([[0.275, SOCKET_M + 1.55], [0.55, SOCKET_M + 1.55]])
    frame.add_support_hinged(node_id=1)
    frame.add_support_roll(node_id=2, direction="y")
    frame.point_load(node_id=4, Fy=-BOOM["boom_weight_n"])
    frame.point_load(node_id=5, Fx=LINE_N * math.sin(lean_rad), Fy=-LINE_N * math.cos(lean_rad))
    frame.solve()
    return [abs(frame.get_node_results_system(node)["Fx"]) for node in (1, 2)]


def test_plumb_line_bends_the_mast_with_776_7_nm():
    """Worked example: 140 kg at 0.55 m and the boom's 8 kg at half of that."""
    moment_nm = mast_moment_nm(**DAVIT, line_force_n=LINE_N, lean_rad=0.0)
    forces = socket_forces(moment_nm=moment_nm, level_pull_n=0.0, bearing_spacing_m=SOCKET_M)

    assert four(moment_nm) == 776.7
    assert four(forces.bottom_n) == 1726
    assert forces.top_n == forces.bottom_n


def test_line_leaning_10_degrees_bends_the_mast_with_1135_nm():
    """Worked example."""
    level_n = level_part_n(line_force_n=LINE_N, lean_rad=LEAN_RAD)
    moment_nm = mast_moment_nm(**DAVIT, line_force_n=LINE_N, lean_rad=LEAN_RAD)
    forces = socket_forces(moment_nm=moment_nm, level_pull_n=level_n, bearing_spacing_m=SOCKET_M)

    assert four(level_n) == 238.4
    assert four(moment_nm) == 1135
    assert four(forces.bottom_n) == 2522
    assert four(forces.top_n) == 2760


@pytest.mark.parametrize("lean_deg", [0, 5, 10])
def test_bearings_carry_what_a_plane_frame_says(lean_deg):
    lean_rad = math.radians(lean_deg)

    forces = socket_forces(
        moment_nm=mast_moment_nm(**DAVIT, line_force_n=LINE_N, lean_rad=lean_rad),
        level_pull_n=level_part_n(line_force_n=LINE_N, lean_rad=lean_rad),
        bearing_spacing_m=SOCKET_M,
    )

    assert frame_socket_forces(lean_rad) == pytest.approx([forces.bottom_n, forces.top_n], rel=1e-6)


def test_tube_of_76_1_by_5_mm_is_stressed_with_60_88_mpa():
    """Worked example; the second moment is integrated over the ring."""
    outer_m, inner_m = 0.0761, 0.0661
    integral, _ = integrate.dblquad(
        lambda radius, turn: radius**3 * math.sin(turn) ** 2, 0, math.tau, inner_m / 2, outer_m / 2
    )
    modulus_m3 = tube_section_modulus_m3(outer_m=outer_m, wall_m=0.005)
    moment_nm = mast_moment_nm(**DAVIT, line_force_n=LINE_N, lean_rad=LEAN_RAD)

    assert four(modulus_m3 * 1e6) == 18.64
    assert modulus_m3 == pytest.approx(integral / (outer_m / 2))
    assert (
        four(bending_stress_pa(moment_nm=moment_nm, section_modulus_m3=modulus_m3) / 1e6) == 60.88
    )


@given(reach=st.floats(0.2, 1.5), lean=st.floats(0, 0.3), more=st.floats(0, 1))
def test_longer_reach_heavier_load_or_higher_head_never_bends_less(reach, lean, more):
    davit = {**BOOM, "reach_m": reach, "head_height_m": 1.5}
    before = mast_moment_nm(**davit, line_force_n=LINE_N, lean_rad=lean)

    for worse in (
        {**davit, "reach_m": reach + more},
        {**davit, "head_height_m": 1.5 + more},
        {**davit, "boom_weight_n": BOOM["boom_weight_n"] * (1 + more)},
    ):
        assert mast_moment_nm(**worse, line_force_n=LINE_N, lean_rad=lean) >= before - SLACK
    assert mast_moment_nm(**davit, line_force_n=LINE_N * (1 + more), lean_rad=lean) >= before


@given(reach=st.floats(0.2, 1.5), lean=st.floats(0, 0.3), more=st.floats(0, 0.3))
def test_more_lean_never_bends_less_while_the_head_is_higher_than_the_reach(reach, lean, more):
    """Up to a lean of atan(height / reach), above 45 degrees here, the moment grows."""
    davit = {**BOOM, "reach_m": reach, "head_height_m": 1.5}

    assert (
        mast_moment_nm(**davit, line_force_n=LINE_N, lean_rad=lean + more)
        >= mast_moment_nm(**davit, line_force_n=LINE_N, lean_rad=lean) - SLACK
    )


@given(moment=st.floats(0, 5000), level=st.floats(0, 500), spacing=st.floats(0.1, 1))
def test_deeper_socket_never_presses_harder(moment, level, spacing):
    shallow = socket_forces(moment_nm=moment, level_pull_n=level, bearing_spacing_m=spacing)
    deep = socket_forces(moment_nm=moment, level_pull_n=level, bearing_spacing_m=spacing * 1.5)

    assert deep.bottom_n <= shallow.bottom_n
    assert deep.top_n <= shallow.top_n
    assert shallow.top_n - shallow.bottom_n == pytest.approx(level, abs=1e-6)
