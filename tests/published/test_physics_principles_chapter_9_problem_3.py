"""Giancoli, Physics: Principles with Applications, 7th ed., chapter 9, problem 3 (solution pages).

A tower crane lifts 2800 kg at 7.7 m with a counterweight of 9500 kg that reaches 3.4 m (arms on
vaia.com, answers on we-jia.com too): (a) it stands at 2.26 m, printed truncated from 2.269; (b) at
full reach 4194.8 kg can be lifted.
"""

import pytest

from planbuilder.haul.stability import EdgeMoments, allowed_load_n, ballast_n

pytestmark = pytest.mark.published

G = 9.8
LOADED = EdgeMoments(stabilising_nm=0.0, overturning_nm=2800 * G * 7.7)


def test_counterweight_stands_between_2_26_and_2_27_m():
    too_close_n, far_enough_n = (
        ballast_n(moments=LOADED, behind_m=arm_m, safety_factor=1.0) for arm_m in (2.26, 2.27)
    )

    assert far_enough_n < 9500 * G < too_close_n


def test_counterweight_at_full_reach_lifts_4194_8_kg():
    held = EdgeMoments(stabilising_nm=9500 * G * 3.4, overturning_nm=0.0)

    assert round(allowed_load_n(moments=held, overhang_m=7.7, safety_factor=1.0) / G, 1) == 4194.8
