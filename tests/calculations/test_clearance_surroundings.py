"""Angles between bearings against vectors, tapers at their join."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.clearance.surroundings import angle_between_rad, fast_taper_m, slow_taper_m

BEARING = st.floats(0, 2 * math.pi)


@given(BEARING, BEARING)
def test_angle_is_that_between_the_directions(one: float, other: float) -> None:
    first, second = (np.array([math.sin(a), math.cos(a)]) for a in (one, other))
    across = float(first[0] * second[1] - first[1] * second[0])

    found = angle_between_rad(bearing_rad=one, other_rad=other)

    assert found == pytest.approx(math.atan2(abs(across), float(first @ second)), abs=1e-9)


@given(st.floats(40 * 0.44704, 60 * 0.44704))
def test_between_forty_and_sixty_the_longer_taper_counts(speed: float) -> None:
    slow = slow_taper_m(speed_m_per_s=speed, lane_width_m=3.6)

    assert fast_taper_m(speed_m_per_s=speed, lane_width_m=3.6) >= slow - 1e-9
