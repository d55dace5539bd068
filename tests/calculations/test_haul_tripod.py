"""Tripods: worked examples, against a space-truss program (PyNite) and numpy balances."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from planbuilder.haul.apex import apex_m
from planbuilder.haul.head_pull import head_pull, lead_angle_rad
from planbuilder.haul.tripod import (
    chain_tension_n,
    hardest_legs,
    largest_lead_m,
    largest_lean_rad,
    lean_offset_m,
    leg_buckling_n,
    leg_forces,
    lightest_legs,
    winch_leg_n,
)
from planbuilder.haul.tube import tube_second_moment_m4

SLACK = 1e-9
# Casualty of 141.5 kg with an attendant of 96 kg.
LOAD_N = 237.5 * 9.80665
FEET = [
    (math.cos(math.radians(turn)), math.sin(math.radians(turn)), 0.0) for turn in (90, 210, 330)
]
HEAD = apex_m(feet=FEET, leg_length_m=2.4)
HEIGHT_M = HEAD[2]
LIMIT_RAD = largest_lean_rad(feet=FEET, head=HEAD)
PLUMB: dict[str, Any] = {"feet": FEET, "head": HEAD, "down_n": LOAD_N, "level_n": 0.0}
STEEL_PA = 200e9


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def balance(feet, head, force_n):
    """Pushes of the legs, by numpy."""
    along = np.array([(np.array(head) - foot) / math.dist(head, foot) for foot in feet]).T
    return np.linalg.solve(along, -np.array(force_n))


def side_pull(azimuth_rad, lean_rad):
    """1 N that leans off plumb toward a side."""
    level, plumb = math.sin(lean_rad), math.cos(lean_rad)
    return [level * math.cos(azimuth_rad), level * math.sin(azimuth_rad), -plumb]


def led_off(lead_m):
    """The pull of the load's line led off without friction, 1 N each strand."""
    lead_rad = lead_angle_rad(height_m=HEIGHT_M, lead_m=lead_m)
    return head_pull(hanging_n=1.0, lean_rad=0.0, led_off_n=1.0, lead_rad=lead_rad)


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


def test_worked_example_of_the_tripod():
    """Each leg, its thrust and chain; friction that would do without is thrust over plumb push."""
    assert four(HEIGHT_M) == 2.182
    for leg in leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -LOAD_N)):
        assert four(leg.push_n) == 854.0
        assert four(leg.thrust_n) == 355.8
        assert four(chain_tension_n(thrust_n=leg.thrust_n)) == 205.4
        assert four(leg.thrust_n / leg.vertical_n) == 0.4583
        assert leg.vertical_n == pytest.approx(LOAD_N / 3)
        assert four(math.degrees(math.atan2(leg.thrust_n, leg.vertical_n))) == 24.62


def test_legs_and_feet_carry_what_a_space_truss_says():
    model = truss(LOAD_N, chained=False)
    thrust_n = math.hypot(
        *(model.nodes["foot 1"].__dict__[f"Rxn{axis}"]["Combo 1"] for axis in ("FX", "FY"))
    )

    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -LOAD_N))

    assert [axial(model, f"leg {place}") for place in range(3)] == pytest.approx(
        [leg.push_n for leg in legs]
    )
    assert thrust_n == pytest.approx(legs[1].thrust_n)


def test_chain_carries_what_a_space_truss_says():
    model = truss(LOAD_N, chained=True)

    chain_n = chain_tension_n(thrust_n=hardest_legs(**PLUMB)[0].thrust_n)

    assert [axial(model, f"chain {place}") for place in range(3)] == pytest.approx([-chain_n] * 3)


def test_winch_on_a_leg_presses_that_leg_with_3183_n():
    """Worked example: the head carries load and line, the line along that leg."""
    along = (np.array(FEET[0]) - HEAD) / math.dist(HEAD, FEET[0])
    head_n = LOAD_N * (along + np.array([0, 0, -1]))

    leg_n = winch_leg_n(leg_force_n=hardest_legs(**PLUMB)[0].push_n, line_force_n=LOAD_N)

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
    pull = led_off(3.0)
    azimuth_rad = math.radians(azimuth_deg)
    head_n = LOAD_N * pull.size_n * np.array(side_pull(azimuth_rad, pull.lean_rad))

    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=tuple(head_n))

    assert [four(leg.push_n) for leg in legs] == list(pushes)
    assert [leg.push_n for leg in legs] == pytest.approx(balance(FEET, HEAD, head_n))
    assert four(lean_offset_m(height_m=HEIGHT_M, lean_rad=pull.lean_rad)) == 1.111


def test_worst_side_of_a_line_led_off_is_over_a_foot_or_between_two():
    """The worked example's hardest leg and deepest lift, with no side given."""
    pull = led_off(3.0)
    parts = {"down_n": LOAD_N * pull.down_n, "level_n": LOAD_N * pull.level_n}

    hard = hardest_legs(feet=FEET, head=HEAD, **parts)
    light = lightest_legs(feet=FEET, head=HEAD, **parts)

    assert [four(leg.push_n) for leg in hard] == [4370] * 3
    assert [four(leg.push_n) for leg in light] == [-1657] * 3


heights = st.floats(-0.4, 0.4)
levels = st.tuples(heights, heights, heights)


def stepped(feet_levels):
    return [(x, y, level) for (x, y, _), level in zip(FEET, feet_levels, strict=True)]


@given(levels=levels, lean_deg=st.floats(0, 40))
def test_worst_side_is_no_better_than_any_of_360_and_not_far_worse(levels, lean_deg):
    feet, lean_rad = stepped(levels), math.radians(lean_deg)
    sides = [side_pull(math.radians(turn), lean_rad) for turn in range(360)]
    pushes = np.array([balance(feet, HEAD, side) for side in sides])
    parts = {"down_n": math.cos(lean_rad), "level_n": math.sin(lean_rad)}

    most = [leg.push_n for leg in hardest_legs(feet=feet, head=HEAD, **parts)]
    least = [leg.push_n for leg in lightest_legs(feet=feet, head=HEAD, **parts)]

    assert np.array(most) == pytest.approx(pushes.max(axis=0), abs=1e-3)
    assert np.array(least) == pytest.approx(pushes.min(axis=0), abs=1e-3)
    assert all(np.array(most) >= pushes.max(axis=0) - SLACK)
    assert all(np.array(least) <= pushes.min(axis=0) + SLACK)


def test_largest_lean_is_where_the_foot_opposite_just_lifts():
    """Worked example: 12.91 degrees."""
    lean_rad = optimize.brentq(
        lambda lean: balance(FEET, HEAD, side_pull(math.radians(30), lean))[1], 0.01, 1
    )

    assert four(math.degrees(LIMIT_RAD)) == 12.91
    assert pytest.approx(lean_rad) == LIMIT_RAD
    assert lean_offset_m(height_m=HEIGHT_M, lean_rad=LIMIT_RAD) == pytest.approx(0.5)


@pytest.mark.parametrize("slope_deg", [0, 3, 7])
def test_slope_of_the_ground_uses_up_lean(slope_deg):
    """A tripod turned as a whole: what it stands downhill is less by the slope."""
    slope = math.radians(slope_deg)

    def turned(point):
        x, y, z = point
        return (
            x,
            y * math.cos(slope) - z * math.sin(slope),
            y * math.sin(slope) + z * math.cos(slope),
        )

    lean_rad = largest_lean_rad(feet=[turned(foot) for foot in FEET], head=turned(HEAD))

    # Turned so that it leans away from foot 0, squarely over the edge between the other two.
    assert lean_rad == pytest.approx(LIMIT_RAD - slope)


@given(levels=levels)
def test_at_the_largest_lean_the_lightest_foot_just_presses(levels):
    feet = stepped(levels)
    lean_rad = largest_lean_rad(feet=feet, head=HEAD)
    parts = {"down_n": math.cos(lean_rad), "level_n": math.sin(lean_rad)}

    if lean_rad > 0:
        legs = lightest_legs(feet=feet, head=HEAD, **parts)
        assert min(leg.push_n for leg in legs) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("share", [0.2, 0.4, 1.0, 1 / 0.9, 2.0])
def test_largest_lead_is_where_the_foot_opposite_just_lifts(share):
    """By scipy: where the push of the foot opposite is nothing; 0.2 of the load never lifts it."""

    def push_opposite(lead_m):
        lead_rad = math.atan2(lead_m, HEIGHT_M)
        led = np.array(side_pull(math.radians(30), lead_rad))
        return balance(FEET, HEAD, share * led + np.array([0, 0, -1]))[1]

    lead_m = largest_lead_m(height_m=HEIGHT_M, largest_lean_rad=LIMIT_RAD, led_share=share)

    if lead_m == math.inf:
        assert push_opposite(1e6) > 0
    else:
        assert lead_m == pytest.approx(optimize.brentq(push_opposite, 0.01, 1000))


def test_largest_lead_of_the_worked_example():
    lead_m = largest_lead_m(height_m=HEIGHT_M, largest_lean_rad=LIMIT_RAD, led_share=1.0)

    assert four(lead_m) == 1.055
    assert four(math.degrees(lead_angle_rad(height_m=HEIGHT_M, lead_m=lead_m))) == 25.82


def test_tripod_that_lifts_a_foot_by_itself_may_lead_no_line_off():
    assert largest_lead_m(height_m=2.0, largest_lean_rad=-0.1, led_share=1.0) == 0


def test_flat_tripod_has_no_largest_lead():
    """Half the foot circle is wider than the head is high: even a level pull stays inside."""
    flat = largest_lean_rad(feet=FEET, head=(0.0, 0.0, 0.4))

    assert largest_lead_m(height_m=0.4, largest_lean_rad=flat, led_share=1.0) == math.inf


def test_arrest_of_8_kn_at_the_head():
    """Worked example."""
    for leg in leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -8000.0)):
        assert four(leg.push_n) == 2933
        assert four(chain_tension_n(thrust_n=leg.thrust_n)) == 705.7


@given(levels=levels, side=st.floats(-500, 500))
def test_any_three_feet_balance_any_force(levels, side):
    feet = stepped(levels)
    force_n = (side, -side / 2, -2000.0)

    legs = leg_forces(feet=feet, head=HEAD, head_force_n=force_n)

    assert [leg.push_n for leg in legs] == pytest.approx(balance(feet, HEAD, force_n))
    assert sum(leg.vertical_n for leg in legs) == pytest.approx(2000.0)
    for leg in legs:
        assert math.copysign(math.hypot(leg.thrust_n, leg.vertical_n), leg.push_n) == (
            pytest.approx(leg.push_n)
        )


def test_foot_on_a_step_is_pressed_less_than_the_two_below():
    """Foot 0 is 0.4 m higher and its leg shorter: the head stands farther from it than before."""
    raised = [(FEET[0][0], FEET[0][1] + 0.4, 0.4), *FEET[1:]]

    legs = leg_forces(feet=raised, head=HEAD, head_force_n=(0.0, 0.0, -LOAD_N))

    assert legs[0].vertical_n < legs[1].vertical_n
    assert legs[1].vertical_n == pytest.approx(legs[2].vertical_n)


@given(height_m=st.floats(0.6, 4), more=st.floats(0, 2), share=st.floats(0.3, 2))
def test_higher_head_or_harder_pull_never_allows_a_longer_lead(height_m, more, share):
    def lead_m(height, led_share):
        limit = largest_lean_rad(feet=FEET, head=(0.0, 0.0, height))
        return largest_lead_m(height_m=height, largest_lean_rad=limit, led_share=led_share)

    before = lead_m(height_m, share)

    assert lead_m(height_m + more, 1.0) <= lead_m(height_m, 1.0) + SLACK
    assert lead_m(height_m, share + more) <= before + SLACK
    assert largest_lean_rad(feet=FEET, head=(0.0, 0.0, height_m + more)) <= largest_lean_rad(
        feet=FEET, head=(0.0, 0.0, height_m)
    )
    assert lean_offset_m(height_m=height_m + more, lean_rad=0.2) >= lean_offset_m(
        height_m=height_m, lean_rad=0.2
    )


@given(load_n=st.floats(100, 9000), level=st.floats(0, 900), more=st.floats(0, 900))
def test_more_side_pull_never_eases_the_hardest_or_presses_the_lightest(load_n, level, more):
    tripod = {"feet": FEET, "head": HEAD, "down_n": load_n}

    for before, after in zip(
        hardest_legs(**tripod, level_n=level),
        hardest_legs(**tripod, level_n=level + more),
        strict=True,
    ):
        assert after.push_n >= before.push_n - SLACK
        assert after.thrust_n >= before.thrust_n - SLACK
    for before, after in zip(
        lightest_legs(**tripod, level_n=level),
        lightest_legs(**tripod, level_n=level + more),
        strict=True,
    ):
        assert after.vertical_n <= before.vertical_n + SLACK


def test_buckling_push_is_the_least_eigenvalue_of_a_pinned_strut():
    """The bow y'' = -P / (E I) y on 400 points."""
    points, length_m = 400, 2.4
    step_m = length_m / points
    bow = (np.diag([2.0] * (points - 1)) - np.eye(points - 1, k=1) - np.eye(points - 1, k=-1)) / (
        step_m**2
    )
    section_m4 = tube_second_moment_m4(outer_m=0.05, wall_m=0.004)
    strut = {"elasticity_pa": 70e9, "second_moment_m4": section_m4, "length_m": length_m}

    push_n = leg_buckling_n(**strut, safety_factor=1.0)

    assert push_n == pytest.approx(70e9 * section_m4 * np.linalg.eigvalsh(bow)[0], rel=1e-4)
    assert leg_buckling_n(**strut, safety_factor=3.0) == pytest.approx(push_n / 3)


def test_second_moment_of_a_tube_is_its_integral():
    """y^2 over the ring, in polar form."""
    integral, _ = integrate.dblquad(
        lambda radius, turn: radius**3 * math.sin(turn) ** 2, 0, math.tau, 0.021, 0.025
    )

    assert tube_second_moment_m4(outer_m=0.05, wall_m=0.004) == pytest.approx(integral)


def test_geometry_that_no_tripod_has_is_refused():
    with pytest.raises(ValueError, match="a tripod has three feet, got 4"):
        leg_forces(feet=[*FEET, FEET[0]], head=HEAD, head_force_n=(0, 0, -1))
    with pytest.raises(ValueError, match="singular"):
        leg_forces(feet=FEET, head=(0.2, 0.1, 0.0), head_force_n=(0, 0, -1))
    with pytest.raises(ValueError, match="must stand above the ground"):
        lead_angle_rad(height_m=0.0, lead_m=1.0)
    with pytest.raises(ValueError, match="wall of a tube"):
        tube_second_moment_m4(outer_m=0.05, wall_m=0.026)
