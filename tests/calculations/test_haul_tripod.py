"""Tripods: worked examples, against a space-truss program (PyNite) and numpy balances."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from planbuilder.haul.tripod import (
    chain_tension_n,
    foot_friction_needed,
    foot_thrust_n,
    largest_lead_m,
    largest_lean_rad,
    lean_offset_m,
    led_off_force_n,
    led_off_offset_m,
    leg_buckling_n,
    leg_force_n,
    leg_forces,
    leg_gap_m,
    leg_lean_rad,
    tripod_height_m,
    tube_second_moment_m4,
    winch_leg_n,
)

SLACK = 1e-9
LEGS = {"leg_length_m": 2.4, "foot_circle_m": 1.0}
HEIGHT_M = math.sqrt(2.4**2 - 1.0**2)
# Casualty of 141.5 kg with an attendant of 96 kg.
LOAD_N = 237.5 * 9.80665
LEAN_RAD = leg_lean_rad(**LEGS)
FEET = [
    (math.cos(math.radians(turn)), math.sin(math.radians(turn)), 0.0) for turn in (90, 210, 330)
]
HEAD = (0.0, 0.0, HEIGHT_M)
STEEL_PA = 200e9


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def balance(feet, head, force_n):
    """Pushes of the legs, by numpy."""
    along = np.array([(np.array(head) - foot) / math.dist(head, foot) for foot in feet]).T
    return np.linalg.solve(along, -np.array(force_n))


def truss(load_n, *, chained):
    """A tripod of stiff legs in PyNite, on fixed feet or on feet that a chain holds together."""
    model = pytest.importorskip("Pynite").FEModel3D()
    model.add_material("steel", STEEL_PA, 80e9, 0.3, 7850)
    model.add_section("rod", 1e-3, 1e-6, 1e-6, 2e-6)
    for place, foot in enumerate(FEET):
        model.add_node(f"foot {place}", *foot)
    model.add_node("head", *HEAD)
    for place in range(3):
        add_rod(model, f"leg {place}", f"foot {place}", "head")
        if chained:
            add_rod(model, f"chain {place}", f"foot {place}", f"foot {(place + 1) % 3}")
        # A chained foot slides freely; foot 0 is held sideways so that the whole stays put.
        held = not chained
        model.def_support(f"foot {place}", held or place == 0, held or place < 2, True, *[True] * 3)
    model.def_support("head", support_RX=True, support_RY=True, support_RZ=True)
    model.add_node_load("head", "FZ", -load_n)
    model.analyze_linear(check_stability=False)
    return model


def add_rod(model, name, start, end):
    """A member that carries only along itself; one end may not spin freely about its own axis."""
    model.add_member(name, start, end, "steel", "rod")
    model.def_releases(name, Ryi=True, Rzi=True, Ryj=True, Rzj=True)


def axial(model, name):
    """Force along a member, compression positive."""
    return model.members[name].axial(0)


def test_worked_example_of_the_tripod_by_hand_formulas():
    assert four(tripod_height_m(**LEGS)) == 2.182
    assert four(math.degrees(LEAN_RAD)) == 24.62
    assert four(leg_force_n(load_n=LOAD_N, lean_rad=LEAN_RAD)) == 854.0
    thrust_n = foot_thrust_n(load_n=LOAD_N, lean_rad=LEAN_RAD)
    assert four(thrust_n) == 355.8
    assert four(chain_tension_n(thrust_n=thrust_n)) == 205.4
    assert four(foot_friction_needed(lean_rad=LEAN_RAD)) == 0.4583


def test_legs_and_feet_carry_what_a_space_truss_says():
    model = truss(LOAD_N, chained=False)
    thrust_n = math.hypot(
        *(model.nodes["foot 1"].__dict__[f"Rxn{axis}"]["Combo 1"] for axis in ("FX", "FY"))
    )

    leg_n = leg_force_n(load_n=LOAD_N, lean_rad=LEAN_RAD)

    assert [axial(model, f"leg {place}") for place in range(3)] == pytest.approx([leg_n] * 3)
    assert thrust_n == pytest.approx(foot_thrust_n(load_n=LOAD_N, lean_rad=LEAN_RAD))


def test_chain_carries_what_a_space_truss_says():
    model = truss(LOAD_N, chained=True)

    chain_n = chain_tension_n(thrust_n=foot_thrust_n(load_n=LOAD_N, lean_rad=LEAN_RAD))

    assert [axial(model, f"chain {place}") for place in range(3)] == pytest.approx([-chain_n] * 3)


def test_winch_on_a_leg_presses_that_leg_with_3183_n():
    """Worked example: the head carries load and line, the line along that leg."""
    along = (np.array(FEET[0]) - HEAD) / math.dist(HEAD, FEET[0])
    head_n = LOAD_N * (along + np.array([0, 0, -1]))

    leg_n = winch_leg_n(
        leg_force_n=leg_force_n(load_n=LOAD_N, lean_rad=LEAN_RAD), line_force_n=LOAD_N
    )

    assert four(leg_n) == 3183
    assert balance(FEET, HEAD, head_n)[0] == pytest.approx(leg_n)


@pytest.mark.parametrize(
    ("azimuth_deg", "pushes"),
    [
        pytest.param(30, (2863, -1657, 2863), id="between two feet"),
        pytest.param(90, (4370, -150.6, -150.6), id="over a foot"),
    ],
)
def test_line_led_off_3_m_lifts_a_foot(azimuth_deg, pushes):
    """Worked example: both ways the tripod tips."""
    azimuth_rad = math.radians(azimuth_deg)
    led_to = (3.0 * math.cos(azimuth_rad), 3.0 * math.sin(azimuth_rad), 0.0)
    head_n = led_off_force_n(line_force_n=LOAD_N, head=HEAD, led_to=led_to)

    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=head_n)

    assert [four(leg.push_n) for leg in legs] == list(pushes)
    assert [leg.push_n for leg in legs] == pytest.approx(balance(FEET, HEAD, head_n))
    assert four(led_off_offset_m(height_m=HEIGHT_M, lead_m=3.0)) == 1.111


def test_largest_lead_is_where_the_foot_opposite_just_lifts():
    """Worked example 1.055 m; scipy finds where the push of the foot opposite is nothing."""

    def push_opposite(lead_m):
        gamma_rad = math.atan2(lead_m, HEIGHT_M)
        level = [math.sin(gamma_rad) * part for part in (math.cos(math.pi / 6), 0.5)]
        return balance(FEET, HEAD, [*level, -1 - math.cos(gamma_rad)])[1]

    lead_m = largest_lead_m(height_m=HEIGHT_M, foot_circle_m=1.0)

    assert four(lead_m) == 1.055
    assert four(math.degrees(math.atan2(lead_m, HEIGHT_M))) == 25.82
    assert lead_m == pytest.approx(optimize.brentq(push_opposite, 0.1, 5))
    assert led_off_offset_m(height_m=HEIGHT_M, lead_m=lead_m) == pytest.approx(0.5)


def test_largest_lean_is_where_the_foot_opposite_just_lifts():
    """Worked example: 12.91 degrees."""

    def push_opposite(lean_rad):
        level = [math.sin(lean_rad) * part for part in (math.cos(math.pi / 6), 0.5)]
        return balance(FEET, HEAD, [*level, -math.cos(lean_rad)])[1]

    lean_rad = largest_lean_rad(height_m=HEIGHT_M, foot_circle_m=1.0)

    assert four(math.degrees(lean_rad)) == 12.91
    assert lean_rad == pytest.approx(optimize.brentq(push_opposite, 0.01, 1))
    assert lean_offset_m(height_m=HEIGHT_M, lean_rad=lean_rad) == pytest.approx(0.5)


def test_arrest_of_8_kn_at_the_head():
    """Worked example."""
    thrust_n = foot_thrust_n(load_n=8000, lean_rad=LEAN_RAD)

    assert four(leg_force_n(load_n=8000, lean_rad=LEAN_RAD)) == 2933
    assert four(chain_tension_n(thrust_n=thrust_n)) == 705.7


heights = st.floats(-0.4, 0.4)


@given(levels=st.tuples(heights, heights, heights), side=st.floats(-500, 500))
def test_any_three_feet_balance_any_force(levels, side):
    feet = [(x, y, level) for (x, y, _), level in zip(FEET, levels, strict=True)]
    force_n = (side, -side / 2, -2000.0)

    legs = leg_forces(feet=feet, head=HEAD, head_force_n=force_n)

    assert [leg.push_n for leg in legs] == pytest.approx(balance(feet, HEAD, force_n))
    assert sum(leg.vertical_n for leg in legs) == pytest.approx(2000.0)
    for leg in legs:
        assert math.copysign(math.hypot(leg.thrust_n, leg.vertical_n), leg.push_n) == (
            pytest.approx(leg.push_n)
        )


def test_even_feet_give_the_closed_form():
    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -LOAD_N))

    for leg in legs:
        assert leg.push_n == pytest.approx(leg_force_n(load_n=LOAD_N, lean_rad=LEAN_RAD))
        assert leg.thrust_n == pytest.approx(foot_thrust_n(load_n=LOAD_N, lean_rad=LEAN_RAD))
        assert leg.vertical_n == pytest.approx(LOAD_N / 3)


def test_foot_on_a_step_is_pressed_less_than_the_two_below():
    """Foot 0 is 0.4 m higher and its leg shorter: the head stands farther from it than before."""
    raised = [(FEET[0][0], FEET[0][1] + 0.4, 0.4), *FEET[1:]]

    legs = leg_forces(feet=raised, head=HEAD, head_force_n=(0.0, 0.0, -LOAD_N))

    assert legs[0].vertical_n < legs[1].vertical_n
    assert legs[1].vertical_n == pytest.approx(legs[2].vertical_n)


def test_flat_tripod_has_no_largest_lead():
    """Half the foot circle is wider than the head is high: even a level pull stays inside."""
    assert largest_lead_m(height_m=0.4, foot_circle_m=1.0) == math.inf
    assert led_off_offset_m(height_m=0.4, lead_m=1e9) < 0.5


@given(height_m=st.floats(0.6, 4), foot_m=st.floats(0.3, 1.2), more=st.floats(0, 2))
def test_higher_head_or_longer_lead_never_helps(height_m, foot_m, more):
    lead_m = largest_lead_m(height_m=height_m, foot_circle_m=foot_m)

    assert largest_lead_m(height_m=height_m + more, foot_circle_m=foot_m) <= lead_m + SLACK
    assert largest_lean_rad(height_m=height_m + more, foot_circle_m=foot_m) <= largest_lean_rad(
        height_m=height_m, foot_circle_m=foot_m
    )
    assert led_off_offset_m(height_m=height_m, lead_m=1 + more) >= led_off_offset_m(
        height_m=height_m, lead_m=1
    )
    assert lean_offset_m(height_m=height_m + more, lean_rad=0.2) >= lean_offset_m(
        height_m=height_m, lean_rad=0.2
    )


@given(lean_rad=st.floats(0, 1.2), more=st.floats(0, 0.3), load_n=st.floats(100, 9000))
def test_wider_feet_or_heavier_load_never_lower_a_force(lean_rad, more, load_n):
    for force in (leg_force_n, foot_thrust_n):
        before = force(load_n=load_n, lean_rad=lean_rad)
        assert force(load_n=load_n, lean_rad=lean_rad + more) >= before - SLACK * load_n
        assert force(load_n=load_n * (1 + more), lean_rad=lean_rad) >= before
    assert foot_friction_needed(lean_rad=lean_rad + more) >= foot_friction_needed(lean_rad=lean_rad)


@pytest.mark.parametrize("above_m", [0.0, 0.7, 1.5])
@pytest.mark.parametrize("circle_m", [0.8, 1.0, 1.3])
def test_gap_is_the_distance_between_points_on_two_legs(above_m, circle_m):
    height_m = math.sqrt(2.4**2 - circle_m**2)
    head, share = np.array([0.0, 0.0, height_m]), above_m / height_m
    one, other = (
        circle_m * np.array(foot) + share * (head - circle_m * np.array(foot)) for foot in FEET[:2]
    )

    gap_m = leg_gap_m(leg_length_m=2.4, foot_circle_m=circle_m, above_feet_m=above_m)

    assert gap_m == pytest.approx(np.linalg.norm(one - other))


def test_buckling_push_is_the_least_eigenvalue_of_a_pinned_strut():
    """The bow y'' = -P / (E I) y on 400 points."""
    points, length_m = 400, 2.4
    step_m = length_m / points
    bow = (np.diag([2.0] * (points - 1)) - np.eye(points - 1, k=1) - np.eye(points - 1, k=-1)) / (
        step_m**2
    )
    section_m4 = tube_second_moment_m4(outer_m=0.05, inner_m=0.042)
    strut = {"elasticity_pa": 70e9, "second_moment_m4": section_m4, "length_m": length_m}

    push_n = leg_buckling_n(**strut, length_factor=1.0, safety_factor=1.0)

    assert push_n == pytest.approx(70e9 * section_m4 * np.linalg.eigvalsh(bow)[0], rel=1e-4)
    assert leg_buckling_n(**strut, length_factor=2.0, safety_factor=1.0) == pytest.approx(
        push_n / 4
    )
    assert leg_buckling_n(**strut, length_factor=1.0, safety_factor=3.0) == pytest.approx(
        push_n / 3
    )


def test_second_moment_of_a_tube_is_its_integral():
    """y^2 over the ring, in polar form."""
    integral, _ = integrate.dblquad(
        lambda radius, turn: radius**3 * math.sin(turn) ** 2, 0, math.tau, 0.021, 0.025
    )

    assert tube_second_moment_m4(outer_m=0.05, inner_m=0.042) == pytest.approx(integral)


def test_geometry_that_no_tripod_has_is_refused():
    with pytest.raises(ValueError, match=r"longer than the radius through the feet \(1 m\)"):
        tripod_height_m(leg_length_m=1.0, foot_circle_m=1.0)
    with pytest.raises(ValueError, match="between feet and head"):
        leg_gap_m(**LEGS, above_feet_m=2.3)
    with pytest.raises(ValueError, match="a tripod has three feet, got 4"):
        leg_forces(feet=[*FEET, FEET[0]], head=HEAD, head_force_n=(0, 0, -1))
    with pytest.raises(ValueError, match="singular"):
        leg_forces(feet=FEET, head=(0.2, 0.1, 0.0), head_force_n=(0, 0, -1))
