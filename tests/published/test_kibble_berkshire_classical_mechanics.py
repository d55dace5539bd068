"""Kibble and Berkshire, Classical Mechanics, 5th ed., chapter 1, problem 8 (tripod).

Front legs of 1.4 m with feet 0.8 m apart, a third leg of 1.5 m with its foot 1.5 m behind their
midpoint, a mass of 2 kg, g = 10. Printed (answer on edu.com): height 1.2 m; 7, 7 and 10 N.
"""

import math

import pytest

from planbuilder.haul.tripod import leg_forces

pytestmark = pytest.mark.published

FEET = [(0.4, 0.0, 0.0), (-0.4, 0.0, 0.0), (0.0, -1.5, 0.0)]
HEAD = (0.0, -0.6, 1.2)


def test_head_at_the_printed_height_is_reached_by_all_three_legs():
    assert [math.dist(foot, HEAD) for foot in FEET] == pytest.approx([1.4, 1.4, 1.5])


def test_legs_push_with_7_7_and_10_n():
    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -20.0))

    assert [leg.push_n for leg in legs] == pytest.approx([7, 7, 10])


def test_an_answer_page_with_12_6_and_7_4_n_is_wrong():
    """It takes the head 0.52 m high, where no leg reaches; its pushes do not hold 20 N up."""
    claimed = [12.6, 12.6, 7.4]
    legs = leg_forces(feet=FEET, head=HEAD, head_force_n=(0.0, 0.0, -20.0))

    ups = [leg.vertical_n / leg.push_n for leg in legs]

    held_n = sum(push_n * up for push_n, up in zip(claimed, ups, strict=True))
    assert held_n != pytest.approx(20, rel=0.2)
    assert [leg.push_n for leg in legs] != pytest.approx(claimed, rel=0.1)
