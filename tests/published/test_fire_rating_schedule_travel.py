"""Rating-schedule guidance on fire-engine travel, and the RAND study R-1449 behind its form."""

import pytest

from planbuilder.response.travel import MILE_M, road_junction_m, road_s

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("miles", "minutes"), [(1.5, 3.2), (2.5, 4.9)])
def test_travel_times_of_the_guidance_page(miles, minutes):
    assert road_s(distance_m=miles * MILE_M) / 60 == pytest.approx(minutes, abs=0.05)


def test_both_forms_meet_with_equal_slopes():
    """R-1449: square root up to the point where the slopes meet; 1.700 min/mi at 0.3824 mi."""
    junction, step = road_junction_m(), 1e-3
    at = road_s(distance_m=junction)

    below = (at - road_s(distance_m=junction - step)) / step
    above = (road_s(distance_m=junction + step) - at) / step

    assert junction / MILE_M == pytest.approx(0.3824, abs=5e-5)
    assert at / 60 == pytest.approx(1.300, abs=5e-4)
    assert below * MILE_M / 60 == pytest.approx(1.700, rel=1e-5)
    assert above * MILE_M / 60 == pytest.approx(1.700, rel=1e-5)
