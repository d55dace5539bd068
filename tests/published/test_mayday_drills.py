"""About 200 mayday drills of a city fire department: a "30 minute" cylinder lasted 18.7 min +-30 %.

The cylinders held 1,200 to 1,280 L.
"""

import pytest

from planbuilder.defaults import tool_defaults
from planbuilder.response.air import lasts_s

pytestmark = pytest.mark.published
L_MIN = 1e-3 / 60


@pytest.mark.parametrize(("litres", "rate"), [(1200, 64.2), (1280, 68.5)])
def test_mean_rate_of_the_drills(litres, rate):
    minutes = lasts_s(volume_m3=litres * 1e-3, rate_m3_per_s=rate * L_MIN) / 60

    assert minutes == pytest.approx(18.7, abs=0.05)


@pytest.mark.parametrize("name", ["air-rate-in", "air-rate-work", "air-rate-out"])
def test_planning_rates_lie_in_the_range_of_the_drills(name):
    assert 49 <= tool_defaults().of(name).value / L_MIN <= 98
