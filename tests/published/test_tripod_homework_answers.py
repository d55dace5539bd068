"""Tripod problems of two homework pages: one right in its remark, one wrong in its number.

askfilo.com, question 3333323630333738: 2.5 kN at (0, 2, 0), feet (1.5, 0, 0), (-1.5, 0, 0) and
(0, 0, 1.25), y up: leg C may carry no load. Its figures for A and B are not printed in the copy.
studyx.ai, question 4le5492: 1000 N on legs of 4 m, feet 3 m apart: it prints 216.5 N a leg, and a
sum of 649.5 N that it blames on rounding.
"""

import math

import pytest

from planbuilder.haul.apex import apex_m
from planbuilder.haul.tripod import leg_forces

pytestmark = pytest.mark.published


def test_leg_behind_the_plane_of_load_and_two_feet_carries_nothing():
    """By hand: 2.5 / 2 kN up in each of A and B, over 2 / 2.5 of their slope: 1.5625 kN."""
    feet = [(1.5, 0.0, 0.0), (-1.5, 0.0, 0.0), (0.0, -1.25, 0.0)]

    legs = leg_forces(feet=feet, head=(0.0, 0.0, 2.0), head_force_n=(0.0, 0.0, -2.5))

    assert [leg.push_n for leg in legs] == pytest.approx([1.5625, 1.5625, 0], abs=1e-6)


def test_three_legs_of_216_5_n_do_not_hold_1000_n_up():
    """Feet 3 m apart stand on a circle of sqrt(3) m; a leg along itself carries above 333 N."""
    radius_m = math.sqrt(3)
    azimuths = [math.tau * leg / 3 for leg in range(3)]
    feet = [(radius_m * math.cos(at), radius_m * math.sin(at), 0.0) for at in azimuths]
    head = apex_m(feet=feet, leg_length_m=4.0)

    legs = leg_forces(feet=feet, head=head, head_force_n=(0.0, 0.0, -1000.0))

    upright = head[2] / 4.0
    assert sum(leg.vertical_n for leg in legs) == pytest.approx(1000)
    assert 3 * 216.5 * upright < 600
    assert legs[0].push_n > 1000 / 3
