"""WHO guideline for carbon monoxide (copy in occup-med s12995-018-0214-9, table 1).

90 ppm for 15 min, 50 ppm for 30 min, 25 ppm for 1 h and 10 ppm for 8 h keep the blood at 2.5 %
carboxyhaemoglobin or less. The model at heavy work stays within 2.6 %.
"""

import pytest

from planbuilder.response.carbon_monoxide import (
    HEAVY,
    balance_ratio,
    time_to_load_s,
    uptake_time_s,
)

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("ppm", "minutes"), [(90, 15), (50, 30), (25, 60), (10, 480)])
def test_the_guideline_keeps_the_blood_at_two_and_a_half_percent(ppm, minutes):
    time_s = time_to_load_s(
        uptake_s=uptake_time_s(HEAVY), ratio=balance_ratio(ppm / 1e6, HEAVY), load=0.026
    )

    assert time_s >= minutes * 60
