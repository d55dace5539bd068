"""Marked minutes of breathing sets (standards body's forum: 1,200 L "30 min", 1,800 L "45 min")."""

import pytest

from planbuilder.response.air import lasts_s, rated_volume_m3

pytestmark = pytest.mark.published
RATE = 40e-3 / 60


@pytest.mark.parametrize(("litres", "minutes"), [(1200, 30), (1800, 45)])
def test_marked_minutes_are_those_at_forty_litres_a_minute(litres, minutes):
    assert lasts_s(volume_m3=litres * 1e-3, rate_m3_per_s=RATE) / 60 == pytest.approx(minutes)
    volume_m3 = rated_volume_m3(rated_s=minutes * 60.0, rate_m3_per_s=RATE)
    assert volume_m3 * 1e3 == pytest.approx(litres)
