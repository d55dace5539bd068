"""Engineering Mechanics 1, exercise 27, Rope friction (open statics course, pickedshares.com).

A mass of 100 kg hangs on a rope laid three quarters of a turn round a post, friction 0.2; the
exercise takes 9.81 m/s^2 and asks for the force that just holds it.
"""

import math

import pytest

from planbuilder.haul.friction import edge_factor

pytestmark = pytest.mark.published


def test_force_that_holds_the_mass_is_the_one_of_exercise_27():
    weight_n = 100 * 9.81

    held_n = weight_n / edge_factor([(0.2, 1.5 * math.pi)])

    assert round(held_n, 2) == 382.26
