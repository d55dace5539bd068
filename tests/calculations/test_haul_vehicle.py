"""A vehicle as an anchor: worked examples, against a free body solved by numpy.

The oracle knows the wheels' pressures and the line as unknowns and solves their balance at the
moment of sliding.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.haul.vehicle import (
    SURFACES,
    Vehicle,
    allowable_pull_n,
    rear_axle_pull_n,
    slide_pull_n,
    tip_or_lift_pull_n,
    tip_pull_n,
    vehicle_mass_needed_kg,
)

SLACK = 1e-9
VAN_N = 2500 * 9.80665
VAN = Vehicle(
    weight_n=VAN_N,
    wheelbase_m=3.0,
    centre_ahead_m=1.3,
    centre_height_m=0.8,
    hitch_height_m=0.6,
    hitch_behind_m=0.9,
)
HITCH = {"hitch_height_m": 0.6, "overhang_m": 0.0, "rise_rad": 0.0}


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def sliding(friction, slope_deg, rise_deg):
    """Line force from two balances, square to the ground and along it."""
    slope, rise = math.radians(slope_deg), math.radians(rise_deg)
    pressure_and_pull = np.linalg.solve(
        [[1, math.sin(rise)], [friction, -math.cos(rise)]],
        [VAN_N * math.cos(slope), VAN_N * math.sin(slope)],
    )
    return pressure_and_pull[1]


@pytest.mark.parametrize(
    ("slope_deg", "rise_deg", "pull_n"), [(0, 0, 8581), (3, 0, 7286), (3, 20, 6877)]
)
def test_van_on_gravel_slides_at_the_pull_of_the_worked_example(slope_deg, rise_deg, pull_n):
    ours = slide_pull_n(
        weight_n=VAN_N,
        friction=SURFACES["gravel"].friction,
        slope_rad=math.radians(slope_deg),
        rise_rad=math.radians(rise_deg),
    )

    assert four(ours) == pull_n
    assert ours == pytest.approx(sliding(0.35, slope_deg, rise_deg))


def free_body(vehicle, friction, slope_deg, rise_deg):
    """Unknown: pressures of rear and front axle and the pull, from three balances.

    The ground is x toward the pull from the rear axle, z up; the slope falls toward the pull.
    """
    slope, rise = math.radians(slope_deg), math.radians(rise_deg)
    down, along = vehicle.weight_n * math.cos(slope), vehicle.weight_n * math.sin(slope)
    pull = np.array([math.cos(rise), math.sin(rise)])
    hitch = (vehicle.hitch_behind_m, vehicle.hitch_height_m)
    centre = (-vehicle.centre_ahead_m, vehicle.centre_height_m)
    moment = hitch[0] * pull[1] - hitch[1] * pull[0]
    balance = [
        [-friction, 0, pull[0]],
        [1, 1, pull[1]],
        [0, -vehicle.wheelbase_m, moment],
    ]
    own = [-along, down, -(centre[0] * -down - centre[1] * along)]
    return np.linalg.solve(balance, own)[2]


@pytest.mark.parametrize(("toward", "pull_n"), [(1, 5228), (-1, 4544)])
def test_van_with_rear_brakes_only_slides_at_the_pull_of_the_worked_example(toward, pull_n):
    """Unknown: pressures of both axles and the pull, rearward (1) or forward (-1).

    A forward pull lifts what a rearward one presses: it has the moment of a hitch below ground.
    """
    balance = np.array([[1, 1, 0], [0, 0.35, -1], [3.0, 0, toward * 0.6]])
    _, _, oracle_n = np.linalg.solve(balance, np.array([VAN_N, 0, VAN_N * 1.3]))

    hitched = replace(VAN, hitch_height_m=toward * 0.6)
    ours = rear_axle_pull_n(hitched, friction=0.35, slope_rad=0.0, rise_rad=0.0)

    assert four(ours) == pull_n
    assert ours == pytest.approx(oracle_n)


@pytest.mark.parametrize(
    ("slope_deg", "rise_deg"), [(0, 0), (3, 0), (0, 20), (3, 20), (5, -15), (8, 40)]
)
def test_van_with_rear_brakes_only_slides_where_the_free_body_does(slope_deg, rise_deg):
    ours = rear_axle_pull_n(
        VAN, friction=0.35, slope_rad=math.radians(slope_deg), rise_rad=math.radians(rise_deg)
    )

    assert ours == pytest.approx(free_body(VAN, 0.35, slope_deg, rise_deg))


@pytest.mark.parametrize("rise_deg", [-40, 0, 30, 60, 85])
@pytest.mark.parametrize("slope_deg", [0, 4])
def test_van_turns_about_the_axle_that_lets_go_first(rise_deg, slope_deg):
    """Both axles' pressures by cross products; the pull at which the first is nothing."""
    slope, rise = math.radians(slope_deg), math.radians(rise_deg)
    pull = np.array([math.cos(rise), math.sin(rise)])

    def least_n(falls):
        weight = VAN_N * np.array([falls * math.sin(slope), -math.cos(slope)])
        limits = []
        for axle_x in (0.0, -3.0):  # rear, front
            centre, hitch = np.array([-1.3 - axle_x, 0.8]), np.array([0.9 - axle_x, 0.6])
            held, tips = (
                arm[0] * force[1] - arm[1] * force[0]
                for arm, force in ((centre, weight), (hitch, pull))
            )
            limits.append(-held / tips if held * tips < 0 else math.inf)
        return min(limits)

    ours = tip_or_lift_pull_n(VAN, slope_rad=slope, rise_rad=rise)

    assert ours == pytest.approx(min(least_n(1), least_n(-1)))


def test_line_that_leaves_backward_is_refused():
    with pytest.raises(ValueError, match=r"-pi/2 to pi/2 rad, got 1\.6"):
        slide_pull_n(weight_n=VAN_N, friction=0.35, slope_rad=0.0, rise_rad=1.6)
    with pytest.raises(ValueError, match=r"-pi/2 to pi/2 rad, got -1\.6"):
        rear_axle_pull_n(VAN, friction=0.35, slope_rad=0.0, rise_rad=-1.6)


def test_vehicle_that_slides_by_itself_holds_nothing_with_one_axle_either():
    steep = {"friction": 0.10, "rise_rad": 0.0}

    assert rear_axle_pull_n(VAN, **steep, slope_rad=math.radians(5)) == 0
    assert rear_axle_pull_n(VAN, **steep, slope_rad=math.radians(2)) > 0


def test_mass_needed_is_what_holds_the_pull():
    """By trying: a vehicle of that mass slides at the factor times the pull."""
    slides = {"friction": 0.35, "slope_rad": 0.05, "rise_rad": 0.3}
    mass_kg = vehicle_mass_needed_kg(
        mass_kg=2500,
        pull_n=6000,
        slide_n=slide_pull_n(weight_n=VAN_N, **slides),
        tip_n=50_000,
        safety_factor=2.0,
    )

    assert slide_pull_n(weight_n=mass_kg * 9.80665, **slides) == pytest.approx(12_000)
    assert (
        vehicle_mass_needed_kg(
            mass_kg=2500, pull_n=6000, slide_n=0.0, tip_n=50_000, safety_factor=2.0
        )
        == math.inf
    )


def test_van_tips_over_its_rear_axle_at_53_12_kn():
    """Worked example: 1.3 m from the axle to the centre of mass, hitch at 0.6 m."""
    ours = tip_pull_n(weight_n=VAN_N, centre_to_axle_m=1.3, **HITCH)

    assert four(ours / 1000) == 53.12
    assert ours * 0.6 == pytest.approx(VAN_N * 1.3)


@pytest.mark.parametrize("rise_deg", [-90, -60, -20, 0, 15])
def test_tipping_pull_has_no_moment_left_about_the_axle(rise_deg):
    """The cross product of arm and pull against the weight's."""
    rise_rad = math.radians(rise_deg)
    pull_n = tip_pull_n(
        weight_n=VAN_N,
        centre_to_axle_m=1.3,
        hitch_height_m=0.6,
        overhang_m=0.9,
        rise_rad=rise_rad,
    )

    arm, pull = (0.9, 0.6), (pull_n * math.cos(rise_rad), pull_n * math.sin(rise_rad))
    tipping_nm = arm[1] * pull[0] - arm[0] * pull[1]

    assert tipping_nm == pytest.approx(VAN_N * 1.3)


def test_davit_in_a_receiver_tips_by_its_overhang_alone():
    ours = tip_pull_n(
        weight_n=VAN_N,
        centre_to_axle_m=1.3,
        hitch_height_m=0.6,
        overhang_m=1.3,
        rise_rad=-math.pi / 2,
    )

    assert ours == pytest.approx(VAN_N)


def test_line_that_lifts_the_overhang_does_not_tip_the_vehicle_over_that_axle():
    rising = {"hitch_height_m": 0.6, "overhang_m": 1.0, "rise_rad": math.radians(60)}

    assert tip_pull_n(weight_n=VAN_N, centre_to_axle_m=1.3, **rising) == math.inf


@pytest.mark.parametrize(
    ("surface", "slope_deg", "mass_t"), [("wet-grass", 0, 11.3), ("gravel", 3, 7.63)]
)
def test_mass_that_holds_5000_lbf(surface, slope_deg, mass_t):
    """Worked consequence for 22.2 kN, that is 5,000 lbf, rounded there to three digits."""
    per_newton = slide_pull_n(
        weight_n=1.0,
        friction=SURFACES[surface].friction,
        slope_rad=math.radians(slope_deg),
        rise_rad=0.0,
    )

    assert float(f"{5000 * 4.4482216 / per_newton / 9806.65:.3g}") == mass_t


def test_vehicle_that_slides_by_itself_holds_nothing():
    on_ice = {"friction": 0.10, "rise_rad": 0.0}

    assert slide_pull_n(weight_n=VAN_N, slope_rad=math.radians(6), **on_ice) == 0
    assert slide_pull_n(weight_n=VAN_N, slope_rad=math.radians(5), **on_ice) > 0


def test_line_pulling_steeply_down_only_presses_the_vehicle_on():
    """The tangent of 75 degrees is above 1 / 0.35: friction grows faster than the pull."""
    ours = slide_pull_n(weight_n=VAN_N, friction=0.35, slope_rad=0.0, rise_rad=math.radians(-75))

    assert ours == math.inf


def test_rear_axle_that_is_pressed_faster_than_pulled_leaves_tipping_to_govern():
    high = replace(VAN, wheelbase_m=1.5, hitch_height_m=2.1)

    assert rear_axle_pull_n(high, friction=0.75, slope_rad=0.0, rise_rad=0.0) == math.inf


@pytest.mark.parametrize(
    ("slide_n", "tip_n", "rating_n", "allowed_n"),
    [(8000, 50_000, 20_000, 4000), (80_000, 30_000, 20_000, 15_000), (8e4, 9e4, 20_000, 20_000)],
)
def test_allowable_pull_is_the_least_of_three(slide_n, tip_n, rating_n, allowed_n):
    ours = allowable_pull_n(
        slide_n=slide_n, tip_n=tip_n, hitch_rating_n=rating_n, safety_factor=2.0
    )

    assert ours == allowed_n


@given(
    friction=st.floats(0.1, 0.8),
    slope=st.floats(0, 0.3),
    rise=st.floats(0, 1),
    more=st.floats(0, 0.3),
)
def test_steeper_slope_or_less_grip_never_holds_more(friction, slope, rise, more):
    held_n = slide_pull_n(weight_n=VAN_N, friction=friction, slope_rad=slope, rise_rad=rise)

    assert (
        slide_pull_n(weight_n=VAN_N, friction=friction, slope_rad=slope + more, rise_rad=rise)
        <= held_n + SLACK
    )
    assert (
        slide_pull_n(weight_n=VAN_N, friction=friction * (1 - more), slope_rad=slope, rise_rad=rise)
        <= held_n + SLACK
    )


@given(friction=st.floats(0.1, 0.8), share=st.floats(0, 1))
def test_rising_line_never_holds_more_than_a_level_one(friction, share):
    """Up to twice the friction angle; steeper, the line lifts more than it pulls."""
    rise_rad = share * 2 * math.atan(friction)
    held = {"weight_n": VAN_N, "friction": friction, "slope_rad": 0.0}

    assert slide_pull_n(**held, rise_rad=rise_rad) <= slide_pull_n(**held, rise_rad=0.0) + SLACK * (
        VAN_N
    )


@given(height=st.floats(0.2, 1.5), overhang=st.floats(0, 2), more=st.floats(0, 1))
def test_higher_hitch_or_longer_overhang_never_tips_later(height, overhang, more):
    van = {"weight_n": VAN_N, "centre_to_axle_m": 1.3, "rise_rad": -0.5}
    before = tip_pull_n(**van, hitch_height_m=height, overhang_m=overhang)

    assert tip_pull_n(**van, hitch_height_m=height + more, overhang_m=overhang) <= before + SLACK
    assert tip_pull_n(**van, hitch_height_m=height, overhang_m=overhang + more) <= before + SLACK


@pytest.mark.parametrize(
    ("surface", "friction"),
    [
        ("dry-concrete", 0.75),
        ("dry-asphalt", 0.65),
        ("wet-concrete", 0.60),
        ("wet-asphalt", 0.50),
        ("gravel", 0.35),
        ("wet-grass", 0.20),
        ("snow", 0.20),
        ("ice", 0.10),
    ],
)
def test_surfaces_take_the_low_end_of_the_quoted_range(surface, friction):
    assert SURFACES[surface].friction == friction
    assert SURFACES[surface].mark == "read"


def test_table_of_surfaces_cannot_be_changed():
    with pytest.raises(TypeError):
        SURFACES["gravel"] = SURFACES["ice"]  # type: ignore[index]
