"""Stair climbing in sets (Applied Ergonomics 41:251-259): the alarm at a quarter of 1,240 L.

First alarm after 8 minutes; 19 of 36 before 12 minutes.
"""

import pytest

from planbuilder.response.air import lasts_s

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("minutes", "rate"), [(8, 116.3), (12, 77.5)])
def test_rate_that_brings_the_alarm(minutes, rate):
    used_m3 = 0.75 * 1.240

    lasted = lasts_s(volume_m3=used_m3, rate_m3_per_s=rate * 1e-3 / 60) / 60

    assert lasted == pytest.approx(minutes, abs=0.01)
