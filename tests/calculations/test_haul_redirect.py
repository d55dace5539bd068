"""Redirects: worked examples, vectors, and the rope pressed on the sheave inch by inch."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from planbuilder.haul.friction import turn_efficiency
from planbuilder.haul.redirect import hauled_side_n, redirect_force_raising_n, resultant_n

force = st.floats(10, 5000)
angle = st.floats(0, math.pi)


def without_friction(line_n: float, between_rad: float) -> float:
    """Both strands pull alike."""
    return redirect_force_raising_n(load_side_n=line_n, efficiency=1, between_rad=between_rad)


@pytest.mark.parametrize(
    ("between_deg", "factor"),
    [
        (0, 2.0),
        (30, 1.932),
        (45, 1.848),
        (60, 1.732),
        (90, 1.414),
        (120, 1.0),
        (135, 0.7654),
        (150, 0.5176),
        (180, 0.0),
    ],
)
def test_anchor_takes_the_share_of_the_line_force_in_the_table(between_deg, factor):
    """Worked table; the same as vectors: two pulls of 1, turned apart."""
    between_rad = math.radians(between_deg)
    vectors = np.array([(1.0, 0.0), (math.cos(between_rad), math.sin(between_rad))])

    redirect = without_friction(1.0, between_rad)

    assert redirect == pytest.approx(factor, abs=5e-4)
    assert redirect == pytest.approx(float(np.linalg.norm(vectors.sum(axis=0))), abs=1e-12)


def test_strands_50_degrees_apart_with_1373_n_take_the_forces_of_the_worked_example():
    """There 0.95 is the efficiency at this turn."""
    apart_rad = math.radians(50)

    assert round(without_friction(1373, apart_rad)) == 2489
    raising_n = redirect_force_raising_n(load_side_n=1373, efficiency=0.95, between_rad=apart_rad)
    assert round(raising_n) == 2554


@given(load_n=force, half_turn=st.floats(0.3, 1), between_rad=angle)
def test_raising_force_is_the_rope_pressed_on_the_sheave_along_its_turn(
    load_n, half_turn, between_rad
):
    """Belt: over the turn the tension grows evenly; each bit pulls inward and along the rope."""
    turn_rad = math.pi - between_rad
    growth = -math.log(half_turn) / math.pi

    def tension(at_rad):
        return load_n * math.exp(growth * at_rad)

    def pressed(at_rad, inward, along):
        return tension(at_rad) * (inward + growth * along)

    x_n, _ = quad(lambda a: pressed(a, -math.sin(a), math.cos(a)), 0, turn_rad, epsrel=1e-10)
    y_n, _ = quad(lambda a: pressed(a, math.cos(a), math.sin(a)), 0, turn_rad, epsrel=1e-10)
    efficiency = turn_efficiency(half_turn_efficiency=half_turn, turn_rad=turn_rad)

    redirect_n = redirect_force_raising_n(
        load_side_n=load_n, efficiency=efficiency, between_rad=between_rad
    )

    assert redirect_n == pytest.approx(math.hypot(x_n, y_n), rel=1e-6, abs=1e-6 * load_n)


@given(load_n=force, extra_n=st.floats(0, 500), efficiency=st.floats(0.5, 1), between_rad=angle)
def test_more_load_or_a_worse_pulley_never_lightens_the_anchor(
    load_n, extra_n, efficiency, between_rad
):
    """At any angle, since the haul side is the larger of the two."""
    now_n = redirect_force_raising_n(
        load_side_n=load_n, efficiency=efficiency, between_rad=between_rad
    )
    heavier_n = redirect_force_raising_n(
        load_side_n=load_n + extra_n, efficiency=efficiency, between_rad=between_rad
    )
    worse_n = redirect_force_raising_n(
        load_side_n=load_n, efficiency=efficiency * 0.9, between_rad=between_rad
    )

    assert heavier_n >= now_n * (1 - 1e-9)
    assert worse_n >= now_n * (1 - 1e-9)


@given(line_n=force, one_rad=angle, other_rad=angle)
def test_strands_closer_together_never_lighten_the_anchor(line_n, one_rad, other_rad):
    closer_rad, wider_rad = sorted((one_rad, other_rad))

    closer_n = without_friction(line_n, closer_rad)
    wider_n = without_friction(line_n, wider_rad)

    assert closer_n >= wider_n - 1e-9 * line_n


@given(load_n=force, efficiency=st.floats(0.3, 1), between_rad=angle)
def test_friction_never_lightens_the_anchor_and_never_more_than_doubles_the_haul_side(
    load_n, efficiency, between_rad
):
    raising_n = redirect_force_raising_n(
        load_side_n=load_n, efficiency=efficiency, between_rad=between_rad
    )

    plain_n = without_friction(load_n, between_rad)
    assert raising_n >= plain_n - 1e-9 * load_n
    assert raising_n <= 2 * load_n / efficiency * (1 + 1e-9)


@pytest.mark.parametrize("between_rad", [-0.1, 3.2])
def test_angle_past_half_a_turn_is_refused(between_rad):
    with pytest.raises(ValueError, match=rf"must be 0 to pi rad, got {between_rad}"):
        resultant_n(first_n=1, second_n=1, between_rad=between_rad)


@pytest.mark.parametrize("efficiency", [0, -0.5, 1.01])
def test_pulley_that_gains_is_refused(efficiency):
    with pytest.raises(ValueError, match=rf"above 0 and at most 1, got {efficiency}"):
        redirect_force_raising_n(load_side_n=1, efficiency=efficiency, between_rad=1)


@given(scale=st.floats(0.1, 10), between_rad=angle)
def test_force_grows_with_the_forces_it_is_made_of(scale, between_rad):
    """For the dimension: `math.hypot` takes no quantity."""
    one_n = resultant_n(first_n=3, second_n=5, between_rad=between_rad)

    scaled_n = resultant_n(first_n=3 * scale, second_n=5 * scale, between_rad=between_rad)

    assert scaled_n == pytest.approx(scale * one_n, rel=1e-9)


def test_each_sheave_costs_its_share_of_the_pull():
    """Two turns at 0.9: 1000 / 0.9 / 0.9."""
    line = {"load_side_n": 1000.0, "efficiency": 0.9}

    assert hauled_side_n(**line, redirects=0) == 1000
    assert hauled_side_n(**line, redirects=2) == pytest.approx(1234.5679)
    with pytest.raises(ValueError, match="above 0 and at most 1"):
        hauled_side_n(load_side_n=1000.0, efficiency=0.0, redirects=1)
