"""Worked examples on bases, raising and landing, held against the functions that checks ask."""

import math

import pytest
from broken_sites import plan_with

from planbuilder.haul.apex import apex_m
from planbuilder.haul.stability import EdgeMoments, ballast_n


def test_w22_a_tripod_of_2_6_m_legs_on_a_circle_of_0_9_m():
    """Head 2.439 m high; folded and stood up it needs 0.1607 m more."""
    feet = [
        (0.9 * math.cos(at), 0.9 * math.sin(at), 0.0)
        for at in (0, 2 * math.pi / 3, 4 * math.pi / 3)
    ]
    head_m = apex_m(feet=feet, leg_length_m=2.6)[2]

    assert head_m == pytest.approx(2.439, abs=5e-4)
    assert 2.6 - head_m == pytest.approx(0.1607, abs=5e-4)


def test_w23_ballast_of_2_559_kn_holds_an_overhang_of_0_65_m():
    """W 1.4 kN, k 1.5, a 0.9, b_f 0.25, ballast 0.80 m behind, factor 1.5."""
    tipping = EdgeMoments(stabilising_nm=0.0, overturning_nm=1.5 * 1400 * (0.9 - 0.25))

    needed_n = ballast_n(moments=tipping, behind_m=0.8, safety_factor=1.5)

    assert needed_n == pytest.approx(2559, abs=0.5)
    assert needed_n / 9.80665 == pytest.approx(261, abs=0.5)


def test_h16_a_landing_is_3_2_m_by_2_m():
    """A casualty of 2.0 by 0.8 m with 0.6 m to kneel on every side."""
    defaults = plan_with().defaults

    sides = [defaults.of(one).value for one in ("landing-length", "landing-width")]
    assert sides == pytest.approx([2.0 + 2 * 0.6, 0.8 + 2 * 0.6])
