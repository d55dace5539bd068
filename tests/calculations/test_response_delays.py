"""Delay of detection and spread of durations, against the distributions of scipy."""

from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planbuilder.response.detection import slow_delay_s, usual_delay_s
from planbuilder.response.spread import SPREAD_Z, slow_duration_s, spread_sigma


def test_checks_every_10_minutes_notice_after_5_usually_and_9_one_time_in_ten():
    """Worked example, derived and cross-checked."""
    assert usual_delay_s(600) == 300
    assert slow_delay_s(600) == 540


@given(check_interval_s=st.floats(1, 7200))
def test_delay_is_uniform_over_the_interval(check_interval_s):
    uniform = stats.uniform(0, check_interval_s)

    assert usual_delay_s(check_interval_s) == pytest.approx(uniform.mean())
    assert usual_delay_s(check_interval_s) == pytest.approx(uniform.median())
    assert slow_delay_s(check_interval_s) == pytest.approx(uniform.ppf(0.9))


def test_z_is_the_90th_percentile_of_the_normal_distribution():
    assert pytest.approx(NormalDist().inv_cdf(0.9), rel=1e-12) == SPREAD_Z
    assert pytest.approx(stats.norm.ppf(0.9), rel=1e-12) == SPREAD_Z
    assert round(SPREAD_Z, 4) == 1.2816


def test_3_5_usually_and_8_one_time_in_ten_give_sigma_0_6451():
    """Worked example, derived and cross-checked."""
    assert round(spread_sigma(usual_s=3.5 * 60, slow_s=8.0 * 60), 4) == 0.6451


def test_sigma_of_0_30_makes_one_time_in_ten_1_469_times_the_usual():
    """Worked example, derived and cross-checked."""
    assert round(slow_duration_s(usual_s=1.0, sigma=0.30), 3) == 1.469


@given(usual_s=st.floats(1, 5000), sigma=st.floats(0.01, 1.5))
def test_slow_duration_is_the_90th_percentile_of_the_log_normal(usual_s, sigma):
    log_normal = stats.lognorm(s=sigma, scale=usual_s)

    assert slow_duration_s(usual_s=usual_s, sigma=sigma) == pytest.approx(log_normal.ppf(0.9))


@given(usual_s=st.floats(1, 5000), ratio=st.floats(1.01, 20))
def test_sigma_puts_one_time_in_ten_where_the_crew_put_it(usual_s, ratio):
    sigma = spread_sigma(usual_s=usual_s, slow_s=usual_s * ratio)

    assert stats.lognorm(s=sigma, scale=usual_s).sf(usual_s * ratio) == pytest.approx(0.1)


@pytest.mark.parametrize(("usual_s", "slow_s"), [(60, 59.9), (60, 30), (0, 60), (-1, 60)])
def test_slow_must_be_above_usual_and_usual_above_zero(usual_s, slow_s):
    with pytest.raises(ValueError, match=f"got usual {usual_s} s, slow {slow_s} s"):
        spread_sigma(usual_s=usual_s, slow_s=slow_s)
