"""Horizontal lines: worked examples, against vector balance, root finding and least energy."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from planbuilder.haul.lifeline import (
    angle_for_tension_rad,
    bow_length_m,
    elastic_sag_m,
    hanging_sag_m,
    length_for_angle_m,
    level_pull_n,
    midspan_tension_n,
    own_weight_at_midspan_n,
    sag_angle_rad,
    slack_of_hanging_m,
)

SLACK = 1e-9
LINE = {"load_n": 6000.0, "span_m": 12.0}
ELASTIC = {**LINE, "slack_length_m": 12.02, "modulus_n": 1e6}


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def test_6_kn_in_a_12_m_span_with_0_6_m_sag_pulls_with_30_15_kn():
    """Worked example; numpy balances the point in the middle."""
    half = np.array([6.0, 0.6]) / math.hypot(6.0, 0.6)
    tensions = np.linalg.solve([[half[0], -half[0]], [half[1], half[1]]], [0, 6000])

    ours = midspan_tension_n(**LINE, sag_m=0.6)

    assert four(ours / 1000) == 30.15
    assert tensions == pytest.approx([ours, ours])
    assert four(tensions[0] * half[0] / 1000) == 30.00  # the level part, P L / (4 s)


def test_elastic_line_of_the_worked_example():
    """Stretches from 12.02 m until it carries 6 kN; scipy finds the least energy."""

    def energy(sag_m):
        stretch_m = max(0.0, 2 * math.hypot(6.0, sag_m) - 12.02)
        return 1e6 * stretch_m**2 / (2 * 12.02) - 6000 * sag_m

    least = optimize.minimize_scalar(energy, bounds=(0.1, 3), options={"xatol": 1e-9})

    sag_m = elastic_sag_m(**ELASTIC)

    assert four(sag_m) == 1.137
    assert sag_m == pytest.approx(least.x, rel=1e-6)
    assert four(midspan_tension_n(**LINE, sag_m=sag_m) / 1000) == 16.11
    assert four(math.degrees(sag_angle_rad(span_m=12.0, sag_m=sag_m))) == 10.73


@given(
    load=st.floats(0.5, 2e4),
    span=st.floats(0.5, 30),
    slack=st.floats(-0.005, 0.05),
    modulus=st.floats(5e4, 5e6),
)
def test_sag_is_where_tension_by_stretch_meets_tension_by_balance(load, span, slack, modulus):
    length_m = span * (1 + slack)

    sag_m = elastic_sag_m(load_n=load, span_m=span, slack_length_m=length_m, modulus_n=modulus)
    stretched_n = modulus * (2 * math.hypot(span / 2, sag_m) / length_m - 1)

    balanced_n = midspan_tension_n(load_n=load, span_m=span, sag_m=sag_m)
    # A sag found to 1e-10 moves the stretch by up to the modulus times that.
    assert stretched_n == pytest.approx(balanced_n, rel=1e-5, abs=1e-8 * modulus)


def test_even_load_of_5_n_per_m_on_12_m_with_0_3_m_sag_pulls_with_300_n():
    """Worked example, level part; the moment of half the line about its end, by integration."""
    half_nm, _ = integrate.quad(lambda at_m: 5 * at_m, 0, 6)

    middle_n = own_weight_at_midspan_n(5.0 * 12)
    along_n = midspan_tension_n(load_n=middle_n, span_m=12.0, sag_m=0.3)
    level_n = along_n * math.cos(sag_angle_rad(span_m=12.0, sag_m=0.3))

    assert four(level_n) == 300.0
    assert level_n == pytest.approx(half_nm / 0.3)


@pytest.mark.parametrize(("point_n", "even_n_per_m"), [(1500, 5), (1500, 40), (50, 20)])
def test_half_the_own_weight_in_the_middle_pulls_as_the_whole_of_it_spread_out(
    point_n, even_n_per_m
):
    """A line of 40 links with its weight in the joints, found by scipy at least energy."""
    span_m, length_m, links = 12.0, 12.2, 40
    weights_n = np.full(links - 1, even_n_per_m * length_m / links)
    weights_n[links // 2 - 1] += point_n

    def ends_m(turns):
        return length_m / links * np.array([np.cos(turns).sum(), np.sin(turns).sum()])

    def energy(turns):
        return -weights_n @ np.cumsum(np.sin(turns))[:-1] * length_m / links

    start = np.where(np.arange(links) < links / 2, 0.18, -0.18)
    hung = optimize.minimize(
        energy,
        start,
        constraints={"type": "eq", "fun": lambda turns: ends_m(turns) - [span_m, 0]},
        options={"maxiter": 500, "ftol": 1e-12},
    )
    turns = hung.x
    sag_m = np.sin(turns[: links // 2]).sum() * length_m / links
    # The middle joint hangs on two links of one level pull.
    level_n = weights_n[links // 2 - 1] / (
        np.tan(turns[links // 2 - 1]) - np.tan(turns[links // 2])
    )

    middle_n = point_n + own_weight_at_midspan_n(even_n_per_m * length_m)
    ours_n = midspan_tension_n(load_n=middle_n, span_m=span_m, sag_m=sag_m)

    assert ours_n * math.cos(sag_angle_rad(span_m=span_m, sag_m=sag_m)) == pytest.approx(
        level_n, rel=0.02
    )


@pytest.mark.parametrize(("angle_deg", "ratio"), [(30, 1.000), (15, 1.932), (5, 5.737)])
def test_tension_over_load_grows_as_the_line_gets_flatter(angle_deg, ratio):
    """Worked factors; numpy balances the point in the middle."""
    angle_rad = math.radians(angle_deg)
    along = np.array([math.cos(angle_rad), math.sin(angle_rad)])
    tensions = np.linalg.solve([[along[0], -along[0]], [along[1], along[1]]], [0, 1])

    ours = midspan_tension_n(load_n=1.0, span_m=12.0, sag_m=6 * math.tan(angle_rad))

    assert four(ours) == ratio
    assert tensions == pytest.approx([ours, ours])


@pytest.mark.parametrize("share", [0.1, 0.03, 0.01, 0.001])
def test_exact_tension_nears_a_quarter_of_load_times_span_over_sag(share):
    """The difference is 2 (sag / span)^2 of it, to first order."""
    exact_n = midspan_tension_n(load_n=1.0, span_m=1.0, sag_m=share)

    assert exact_n * 4 * share - 1 == pytest.approx(2 * share**2, rel=0.03)


@given(load=st.floats(100, 2e4), angle=st.floats(0.02, 1.2), modulus=st.floats(2e5, 5e6))
def test_length_for_an_angle_hangs_at_that_angle(load, angle, modulus):
    line = {"load_n": load, "span_m": 12.0, "modulus_n": modulus}

    length_m = length_for_angle_m(**line, angle_rad=angle)

    sag_m = elastic_sag_m(**line, slack_length_m=length_m)
    assert sag_angle_rad(span_m=12.0, sag_m=sag_m) == pytest.approx(angle, rel=1e-6)


@given(sag=st.floats(0.05, 3), load=st.floats(100, 1e4), more=st.floats(0, 1))
def test_less_sag_heavier_load_or_longer_span_never_pulls_less(sag, load, more):
    line = {"load_n": load, "span_m": 10.0}
    before = midspan_tension_n(**line, sag_m=sag)

    assert midspan_tension_n(**line, sag_m=sag / (1 + more)) >= before - SLACK * before
    assert midspan_tension_n(load_n=load * (1 + more), span_m=10.0, sag_m=sag) >= before
    assert midspan_tension_n(load_n=load, span_m=10.0 + more, sag_m=sag) >= before


@given(load=st.floats(100, 2e4), slack=st.floats(-0.003, 0.03), more=st.floats(0, 1))
def test_heavier_load_never_sags_less_and_a_tighter_line_never_pulls_less(load, slack, more):
    line = {"span_m": 12.0, "modulus_n": 1e6}
    length_m = 12.0 * (1 + slack)
    sag_m = elastic_sag_m(**line, load_n=load, slack_length_m=length_m)
    heavy_m = elastic_sag_m(**line, load_n=load * (1 + more), slack_length_m=length_m)
    tight_m = elastic_sag_m(**line, load_n=load, slack_length_m=length_m - 0.01 * more)

    assert heavy_m >= sag_m * (1 - SLACK)
    assert tight_m <= sag_m * (1 + SLACK)


def test_halving_the_sag_of_a_flat_line_doubles_the_tension():
    once_n, twice_n = (midspan_tension_n(**LINE, sag_m=sag_m) for sag_m in (0.1, 0.05))

    assert twice_n == pytest.approx(2 * once_n, rel=1e-3)


def test_long_soft_line_sags_past_its_span():
    """A sling of 40 m over 2 m hangs nearly straight down."""
    sag_m = elastic_sag_m(load_n=2000.0, span_m=2.0, slack_length_m=40.0, modulus_n=1e5)

    assert sag_m == pytest.approx(math.sqrt((20 * 1.01) ** 2 - 1), rel=1e-3)


def test_very_soft_line_is_followed_far_down():
    sag_m = elastic_sag_m(load_n=5000.0, span_m=2.0, slack_length_m=2.0, modulus_n=100.0)

    assert sag_m == pytest.approx(math.sqrt(26.0**2 - 1), rel=0.01)


def test_line_without_load_or_stiffness_is_refused():
    with pytest.raises(ValueError, match=r"must be above 0, got 0 N, 12 m, 12\.02 m and"):
        elastic_sag_m(**{**ELASTIC, "load_n": 0.0})


def test_line_that_hangs_at_no_angle_is_refused():
    with pytest.raises(ValueError, match="above 0 and below pi/2 rad, got 0"):
        length_for_angle_m(load_n=1.0, span_m=1.0, angle_rad=0.0, modulus_n=1.0)


WIRE = {"span_m": 12.0, "modulus_n": 3.07e6}


@pytest.mark.parametrize(
    ("sag_m", "loaded_m", "drop_m", "tension_kn"),
    [(0.2, 0.7711, 0.5711, 23.53), (0.6, 0.9131, 0.3131, 19.94)],
)
def test_line_of_the_worked_fall_goes_down_and_pulls_as_printed(
    sag_m, loaded_m, drop_m, tension_kn
):
    """12 m, 3.07 MN, 6 kN, two straight halves; scipy finds where the energy is stationary."""
    length_m = 2 * math.hypot(6.0, sag_m)

    def pull_less_load(low_m):
        half_m = math.hypot(6.0, low_m)
        return 2 * 3.07e6 * (2 * half_m / length_m - 1) * low_m / half_m - 6000

    root_m = optimize.brentq(pull_less_load, sag_m, 6.0, xtol=1e-12)

    ours_m = elastic_sag_m(**WIRE, load_n=6000.0, slack_length_m=length_m)
    tension_n = midspan_tension_n(load_n=6000.0, span_m=12.0, sag_m=ours_m)

    assert four(ours_m) == loaded_m
    assert four(ours_m - sag_m) == drop_m
    assert four(tension_n / 1000) == tension_kn
    assert ours_m == pytest.approx(root_m, rel=1e-8)


def test_worked_fall_needs_4_641_m_and_its_line_leans_7_324_degrees():
    ours_m = elastic_sag_m(**WIRE, load_n=6000.0, slack_length_m=2 * math.hypot(6.0, 0.2))

    assert four(math.degrees(sag_angle_rad(span_m=12.0, sag_m=ours_m))) == 7.324
    assert four(1.8 + 1.07 + 0.3 + (ours_m - 0.2) + 0.9) == 4.641


def test_even_load_hangs_by_the_level_pull():
    """The moment of half the line about its end is the level pull times the sag; integrated."""
    half_nm, _ = integrate.quad(lambda at_m: 5 * at_m, 0, 6)

    assert level_pull_n(weight_n=60.0, span_m=12.0, sag_m=0.3) == pytest.approx(half_nm / 0.3)
    assert four(level_pull_n(weight_n=60.0, span_m=12.0, sag_m=0.3)) == 300.0


@pytest.mark.parametrize("sag_m", [0.01, 0.2, 1.2])
def test_bow_is_as_long_as_its_arc(sag_m):
    arc_m, _ = integrate.quad(lambda at: math.hypot(1, 8 * sag_m * at / 144), -6, 6)

    assert bow_length_m(span_m=12.0, sag_m=sag_m) == pytest.approx(arc_m, rel=1e-9)


@given(sag=st.floats(0.01, 1.2), weight=st.floats(5, 200))
def test_sag_by_itself_and_length_are_each_the_other_way_of_telling(sag, weight):
    line = {**WIRE, "weight_n": weight}
    length_m = slack_of_hanging_m(**line, sag_m=sag)

    assert hanging_sag_m(**line, slack_length_m=length_m) == pytest.approx(sag, rel=1e-5)


def test_taut_line_is_shorter_than_its_span():
    """48 N/m over 12 m held to 1 cm takes 86 kN, 2.8 % of its stiffness."""
    assert slack_of_hanging_m(**WIRE, sag_m=0.01, weight_n=576.0) < 12.0


def test_line_without_weight_does_not_hang():
    with pytest.raises(ValueError, match="has a weight above 0, got 0 N"):
        slack_of_hanging_m(**WIRE, sag_m=0.2, weight_n=0.0)


def test_long_line_hangs_below_its_span():
    sag_m = hanging_sag_m(**WIRE, slack_length_m=40.0, weight_n=100.0)

    assert bow_length_m(span_m=12.0, sag_m=sag_m) == pytest.approx(40.0, rel=1e-4)
    assert sag_m > 12.0


@pytest.mark.parametrize(("angle_deg", "ratio"), [(30, 1.0), (15, 1.93185), (5, 5.73686)])
def test_angle_for_a_tension_is_where_the_balance_gives_it(angle_deg, ratio):
    angle_rad = angle_for_tension_rad(load_n=1.0, tension_n=ratio)

    assert math.degrees(angle_rad) == pytest.approx(angle_deg, rel=1e-5)


def test_no_angle_brings_the_tension_to_half_the_load():
    with pytest.raises(ValueError, match=r"above half the load \(500 N\), got 500 N"):
        angle_for_tension_rad(load_n=1000.0, tension_n=500.0)
