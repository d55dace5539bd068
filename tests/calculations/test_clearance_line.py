"""A line off plumb: worked examples, a friction balance and a pendulum solved by steps."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from shapely import LineString, Point

from planbuilder.clearance.line import (
    farthest_casualty_m,
    line_at_m,
    rim_turn_rad,
    side_force_n,
)
from planbuilder.clearance.swing import swing_angle_rad, swing_drop_m, swing_speed_m_per_s
from planbuilder.haul.drag import drag_force_n, lift_pull_n, slide_pull_n
from planbuilder.haul.friction import edge_factor
from planbuilder.haul.redirect import resultant_n

G = 9.80665
PLUMB = {"head_off_m": 0.0, "head_height_m": 2.4, "at_m": 0.0}
W_N = 100 * G


@pytest.mark.parametrize(("depth_m", "most_m"), [(6, 0.8925), (3, 0.57375)])  # W27
def test_the_worked_casualty_lies_this_far_aside(depth_m, most_m):
    found_m = farthest_casualty_m(room_m=0.305 - 0.05, depth_m=depth_m, **PLUMB)

    assert found_m == pytest.approx(most_m)
    assert line_at_m(casualty_off_m=most_m, depth_m=depth_m, **PLUMB) == pytest.approx(0.255)


def test_the_worked_lift_off():  # 6b
    angle_rad = swing_angle_rad(depth_m=8.4, offset_m=0.8925)

    assert math.degrees(angle_rad) == pytest.approx(6.065, abs=5e-4)
    assert side_force_n(weight_n=W_N, angle_rad=angle_rad) == pytest.approx(104.2, abs=0.05)
    assert swing_drop_m(depth_m=8.4, offset_m=0.8925) == pytest.approx(0.04728, abs=5e-6)
    speed = swing_speed_m_per_s(depth_m=8.4, offset_m=0.8925, at_m=0, free_fall_m=0)
    assert speed == pytest.approx(0.9630, abs=5e-5)


def test_the_speed_at_lift_off_is_that_of_a_pendulum_solved_by_steps():
    line_m, start_rad = math.hypot(8.4, 0.8925), math.atan2(0.8925, 8.4)

    def plumb(_time_s, state):
        return state[0]

    plumb.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(
        lambda _time_s, state: (state[1], -G / line_m * math.sin(state[0])),
        (0, 10),
        (start_rad, 0.0),
        events=plumb,
        rtol=1e-10,
        atol=1e-12,
    )

    speed = swing_speed_m_per_s(depth_m=8.4, offset_m=0.8925, at_m=0, free_fall_m=0)
    assert speed == pytest.approx(abs(run.y[1][-1]) * line_m, rel=1e-6)


def test_the_worked_drag():  # 6c
    most_m = farthest_casualty_m(room_m=0.255, depth_m=6, **PLUMB)

    assert 2.0 - most_m == pytest.approx(1.108, abs=6e-4)
    assert drag_force_n(weight_n=W_N, friction=0.5, upslope_rad=0) == pytest.approx(490.3, abs=0.05)


def test_the_worked_casualty_slides_before_being_lifted():  # 6d, W28
    angle_rad = math.radians(20)

    slides_n = slide_pull_n(weight_n=W_N, friction=0.5, angle_rad=angle_rad)
    assert slides_n == pytest.approx(604.0, abs=0.05)
    assert lift_pull_n(weight_n=W_N, angle_rad=angle_rad) == pytest.approx(1044, abs=0.5)


@given(friction=st.floats(0.05, 1.5), angle_rad=st.floats(0.01, 1.4))
def test_sliding_is_where_the_line_beats_friction_and_comes_first(friction, angle_rad):
    def beats_n(pull_n):
        return pull_n * math.sin(angle_rad) - friction * (W_N - pull_n * math.cos(angle_rad))

    slides_n = slide_pull_n(weight_n=W_N, friction=friction, angle_rad=angle_rad)
    assert slides_n == pytest.approx(brentq(beats_n, 0, 1e6), rel=1e-6)
    assert slides_n < lift_pull_n(weight_n=W_N, angle_rad=angle_rad)


def test_on_a_plumb_line_sliding_and_lifting_are_one():
    assert slide_pull_n(weight_n=W_N, friction=0.5, angle_rad=0) == pytest.approx(W_N)
    assert lift_pull_n(weight_n=W_N, angle_rad=0) == W_N


def test_the_worked_rim():  # 6e
    turn_rad = rim_turn_rad(rim_m=0.305, casualty_off_m=2.0, depth_m=6, **PLUMB)

    assert math.degrees(turn_rad) == pytest.approx(8.532, abs=5e-4)
    assert edge_factor([(0.3, turn_rad)]) == pytest.approx(1.046, abs=5e-4)
    both_n = resultant_n(first_n=1000, second_n=1000, between_rad=math.pi - turn_rad)
    assert both_n == pytest.approx(148.8, abs=0.05)


def test_friction_over_the_worked_rim_is_the_sum_of_small_steps():
    turn_rad = rim_turn_rad(rim_m=0.305, casualty_off_m=2.0, depth_m=6, **PLUMB)
    steps = np.full(100_000, 1 + 0.3 * turn_rad / 100_000)

    assert edge_factor([(0.3, turn_rad)]) == pytest.approx(float(np.prod(steps)), rel=1e-6)


@given(
    head_off_m=st.floats(0, 0.2),
    casualty_off_m=st.floats(0.3, 3),
    at_m=st.floats(0, 1),
    depth_m=st.floats(2, 20),
)
def test_the_line_at_the_rim_is_where_shapely_cuts_it(head_off_m, casualty_off_m, at_m, depth_m):
    line = LineString([(head_off_m, 2.4), (casualty_off_m, -depth_m)])
    cut = line.intersection(LineString([(-9, -at_m), (9, -at_m)]))

    assert isinstance(cut, Point)
    place = {"head_off_m": head_off_m, "head_height_m": 2.4, "depth_m": depth_m, "at_m": at_m}
    assert line_at_m(casualty_off_m=casualty_off_m, **place) == pytest.approx(cut.x, abs=1e-9)
    back_m = farthest_casualty_m(room_m=cut.x, **place)
    assert back_m == pytest.approx(casualty_off_m)


def test_a_line_clear_of_the_rim_does_not_turn():
    assert rim_turn_rad(rim_m=0.305, casualty_off_m=0.5, depth_m=6, **PLUMB) == 0


def test_a_head_beyond_the_room_leaves_no_place_and_a_rim_below_the_casualty_is_refused():
    aside = {**PLUMB, "head_off_m": 0.3}
    assert farthest_casualty_m(room_m=0.255, depth_m=6, **aside) == 0
    for wrong in (line_at_m, farthest_casualty_m):
        what = {"casualty_off_m": 1.0} if wrong is line_at_m else {"room_m": 0.255}
        with pytest.raises(ValueError, match="below the head"):
            wrong(depth_m=6, **{**PLUMB, "at_m": 7}, **what)


@pytest.mark.parametrize(("friction", "angle_rad"), [(0, 0.1), (0.5, -0.1), (0.5, 1.6)])
def test_a_pull_out_of_range_is_refused(friction, angle_rad):
    with pytest.raises(ValueError, match="needs friction"):
        slide_pull_n(weight_n=W_N, friction=friction, angle_rad=angle_rad)


@pytest.mark.parametrize("angle_rad", [-0.1, 1.6])
def test_a_lift_along_the_floor_is_refused(angle_rad):
    with pytest.raises(ValueError, match="angle"):
        lift_pull_n(weight_n=W_N, angle_rad=angle_rad)


@given(near=st.floats(0, 3), more=st.floats(0, 2), friction=st.floats(0.05, 1.5))
def test_farther_aside_is_never_easier(near, more, friction):
    place = {"depth_m": 6, **PLUMB}
    for worse in (
        lambda off: line_at_m(casualty_off_m=off, **place),
        lambda off: rim_turn_rad(rim_m=0.305, casualty_off_m=off, **place),
        lambda off: side_force_n(weight_n=W_N, angle_rad=swing_angle_rad(depth_m=8, offset_m=off)),
        lambda off: lift_pull_n(weight_n=W_N, angle_rad=swing_angle_rad(depth_m=8, offset_m=off)),
        lambda off: swing_drop_m(depth_m=8.4, offset_m=off),
    ):
        assert worse(near + more) >= worse(near) - 1e-9
