"""The head of a tripod on level and uneven feet, against a numerical solution."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from planbuilder.haul.apex import apex_m
from planbuilder.haul.tripod import leg_forces

CIRCLE = [math.pi / 2, math.pi * 7 / 6, math.pi * 11 / 6]


def feet_at(levels: tuple[float, float, float]) -> list[tuple[float, float, float]]:
    return [(math.cos(a), math.sin(a), z) for a, z in zip(CIRCLE, levels, strict=True)]


def test_level_feet_put_the_head_over_the_middle() -> None:
    head = apex_m(feet=feet_at((0, 0, 0)), leg_length_m=2.4)

    height = math.sqrt(2.4**2 - 1.0**2)
    assert head == pytest.approx((0.0, 0.0, height), abs=1e-12)


@settings(max_examples=30)
@given(levels=st.tuples(*[st.floats(-0.5, 0.5)] * 3))
def test_every_leg_has_its_length(levels: tuple[float, float, float]) -> None:
    feet = feet_at(levels)

    head = apex_m(feet=feet, leg_length_m=2.4)

    assert [math.dist(head, foot) for foot in feet] == pytest.approx([2.4] * 3)
    assert head[2] > max(levels)


def test_uneven_feet_agree_with_a_numerical_solution() -> None:
    feet = np.array(feet_at((0.4, 0.0, -0.1)))

    solved = fsolve(lambda head: ((head - feet) ** 2).sum(axis=1) - 2.4**2, [0, 0, 2.0])

    head = apex_m(feet=[tuple(foot) for foot in feet], leg_length_m=2.4)
    assert head == pytest.approx(tuple(solved), abs=1e-9)


def test_a_foot_far_too_high_lifts() -> None:
    feet = feet_at((1.2, 0.0, 0.0))
    head = apex_m(feet=feet, leg_length_m=2.4)

    forces = leg_forces(feet=feet, head=head, head_force_n=(0.0, 0.0, -1000.0))

    assert min(one.vertical_n for one in forces) < 0


def test_short_legs_do_not_meet() -> None:
    with pytest.raises(ValueError, match="too short"):
        apex_m(feet=feet_at((0, 0, 0)), leg_length_m=0.9)


def test_feet_in_one_line_carry_no_tripod() -> None:
    with pytest.raises(ValueError, match="in one line"):
        apex_m(feet=[(0, 0, 0), (1, 0, 0), (2, 0, 0)], leg_length_m=2.4)
