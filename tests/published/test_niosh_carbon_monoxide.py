"""NIOSH limit for carbon monoxide: 35 ppm over 8 h was built on about 5 % in the blood (recalled).

Rest to moderate work lies between 4.2 and 5.2 %.
"""

import pytest

from planbuilder.response.carbon_monoxide import (
    Effort,
    balance_ratio,
    time_to_load_s,
    uptake_time_s,
)

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("air_ml_per_min", "diffusing"), [(6e3, 30), (12e3, 35), (20e3, 40)])
def test_eight_hours_at_the_limit_come_to_about_five_percent(air_ml_per_min, diffusing):
    effort = Effort(air_ml_per_min * 1e-6 / 60, diffusing * 1e-6 / 60 / 133.322)
    uptake_s, ratio = uptake_time_s(effort), balance_ratio(35e-6, effort)

    low, high = (time_to_load_s(uptake_s=uptake_s, ratio=ratio, load=x) for x in (0.042, 0.052))

    assert low <= 8 * 3600 <= high
