"""Swing beside the plumb line: worked examples, and a pendulum integrated step by step (scipy)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from planbuilder.clearance.swing import (
    equal_fall_m,
    largest_offset_at_m,
    largest_offset_m,
    swing_angle_rad,
    swing_drop_m,
    swing_speed_m_per_s,
)

G = 9.80665


@pytest.mark.parametrize(
    ("depth_m", "offset_m", "angle_deg", "drop_m", "speed"),
    [(3, 4, 53.13, 2.0, 6.263), (2, 1.5, 36.87, 0.5, 3.132), (6, 3, 26.57, 0.7082, 3.727)],
)
def test_swing_of_the_worked_examples(depth_m, offset_m, angle_deg, drop_m, speed):
    """The last is W09."""
    where = {"depth_m": depth_m, "offset_m": offset_m}

    assert round(math.degrees(swing_angle_rad(**where)), 2) == angle_deg
    assert round(swing_drop_m(**where), 4) == drop_m
    assert round(swing_speed_m_per_s(**where, at_m=0, free_fall_m=0), 3) == speed


def test_speed_is_that_of_an_integrated_pendulum():
    """R22."""
    line_m, start = math.hypot(6, 3), math.atan2(3, 6)

    run = solve_ivp(
        lambda _, s: [s[1], -G / line_m * math.sin(s[0])],
        (0, 2),
        [start, 0.0],
        dense_output=True,
        rtol=1e-10,
        atol=1e-12,
    )
    plumb_s = brentq(lambda t: run.sol(t)[0], 0.5, 2)

    speed = swing_speed_m_per_s(depth_m=6, offset_m=3, at_m=0, free_fall_m=0)
    assert speed == pytest.approx(abs(run.sol(plumb_s)[1]) * line_m, rel=1e-6)


def test_wall_one_metre_aside_is_met_at_3_524_m_per_s():
    assert round(swing_speed_m_per_s(depth_m=6, offset_m=3, at_m=1, free_fall_m=0), 3) == 3.524


def test_swing_does_not_reach_beyond_its_turn():
    with pytest.raises(ValueError, match=r"the swing turns 3 m aside, got -3\.5 m"):
        swing_speed_m_per_s(depth_m=6, offset_m=3, at_m=-3.5, free_fall_m=0)


@pytest.mark.parametrize(("depth_m", "offset_m"), [(2, 2.498), (6, 3.980)])
def test_largest_offset_for_a_drop_of_1_2_m(depth_m, offset_m):
    """The first is W10."""
    assert largest_offset_m(depth_m=depth_m, drop_m=1.2) == pytest.approx(offset_m, abs=5e-4)


@given(depth_m=st.floats(0.1, 20), drop_m=st.floats(0.01, 3), angle=st.floats(0.01, 1.2))
def test_largest_offsets_give_back_their_limit(depth_m, drop_m, angle):
    by_drop_m = largest_offset_m(depth_m=depth_m, drop_m=drop_m)
    by_angle_m = largest_offset_at_m(depth_m=depth_m, angle_rad=angle)

    assert swing_drop_m(depth_m=depth_m, offset_m=by_drop_m) == pytest.approx(drop_m)
    assert swing_angle_rad(depth_m=depth_m, offset_m=by_angle_m) == pytest.approx(angle)


@given(
    depth_m=st.floats(0.1, 20),
    offset_m=st.floats(0, 5),
    more_m=st.floats(0, 3),
    fall_m=st.floats(0, 2),
)
def test_farther_aside_or_a_longer_fall_is_never_gentler(depth_m, offset_m, more_m, fall_m):
    def speed(offset_m, free_fall_m):
        return swing_speed_m_per_s(
            depth_m=depth_m, offset_m=offset_m, at_m=0, free_fall_m=free_fall_m
        )

    assert speed(offset_m + more_m, 0) >= speed(offset_m, 0) - 1e-9
    assert speed(offset_m, fall_m) >= speed(offset_m, 0)


def test_speed_of_a_fall_gives_back_its_height():
    """Recalled: a free fall of 1.8 m ends at 5.942 m/s."""
    assert equal_fall_m(5.942) == pytest.approx(1.8, abs=5e-4)
