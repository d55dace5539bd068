"""MUTCD, buffer space by speed and tapers for a 12 ft lane (recalled; the formulas agree)."""

import pytest

from planbuilder.clearance.surroundings import (
    buffer_needed_m,
    fast_taper_m,
    is_slow,
    slow_taper_m,
)

pytestmark = pytest.mark.published

FT, MPH = 0.3048, 0.44704
BUFFER_FT = (115, 155, 200, 250, 305, 360, 425, 495, 570, 645, 730, 820)


@pytest.mark.parametrize(("mph", "feet"), list(zip(range(20, 80, 5), BUFFER_FT, strict=True)))
def test_buffer_space(mph: int, feet: int) -> None:
    """R20."""
    assert buffer_needed_m(speed_m_per_s=mph * MPH) / FT == pytest.approx(feet, abs=1e-6)


@pytest.mark.parametrize(("mph", "feet"), [(30, 180), (40, 320), (45, 540), (55, 660)])
def test_taper(mph: int, feet: int) -> None:
    length = slow_taper_m if is_slow(mph * MPH) else fast_taper_m

    found = length(speed_m_per_s=mph * MPH, lane_width_m=12 * FT)

    assert found / FT == pytest.approx(feet, abs=1e-6)
