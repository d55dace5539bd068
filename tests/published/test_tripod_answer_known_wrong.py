"""An answer site on a tripod of 4 m legs, feet 3 m apart in a triangle, under 1000 N. It is wrong.

It gives 216.5 N a leg, finds that three of them carry 649.5 N, calls the rest a rounding error and
settles on 333.33 N, which is the plumb share of a leg and not the force along it. Kept so that
nobody copies such answers without doing the statics.
"""

import math

import pytest

from planbuilder.haul.linear import solve

pytestmark = pytest.mark.published

LEG_M, SIDE_M, LOAD_N = 4.0, 3.0, 1000.0
FIRST_STATED_N, THEN_STATED_N = 216.5, 333.33


def leg_forces_n() -> tuple[float, ...]:
    """Forces along the legs that balance the load at the head: three directions, three legs."""
    foot_circle_m = SIDE_M / math.sqrt(3)
    head_m = math.sqrt(LEG_M**2 - foot_circle_m**2)
    azimuths = [math.tau * leg / 3 for leg in range(3)]
    along_x = [-foot_circle_m * math.cos(azimuth) / LEG_M for azimuth in azimuths]
    along_y = [-foot_circle_m * math.sin(azimuth) / LEG_M for azimuth in azimuths]
    return solve([along_x, along_y, [head_m / LEG_M] * 3], [0.0, 0.0, LOAD_N])


def test_neither_stated_force_carries_the_load():
    """Each leg carries a third of the load over the cosine of its lean, 1000 / 3 * 4 / sqrt 13."""
    forces_n = leg_forces_n()

    assert forces_n == pytest.approx([LOAD_N / 3 * LEG_M / math.sqrt(13)] * 3)
    assert min(forces_n) > THEN_STATED_N * 1.1 > FIRST_STATED_N


def test_stated_check_does_not_add_up_to_the_load():
    """Even standing upright the legs would carry 649.5 N."""
    stated_n = 3 * FIRST_STATED_N

    assert stated_n == pytest.approx(649.5)
    assert stated_n < LOAD_N * 0.7
