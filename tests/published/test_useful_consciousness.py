"""Time of useful consciousness (aviation table) beside the sea-level table of oxygen (both copies).

The two agree in their order: coma in about 40 s at 4 % of oxygen, useful consciousness of 15 to
20 s at flight level 400, whose dry air is as thin as 3.88 % at sea level.
"""

import pytest

from planbuilder.checks.timing.endurance import _consciousness
from planbuilder.response.oxygen import air_pressure_pa, useful_consciousness_s

pytestmark = pytest.mark.published

PRINTED_LEAST_S = {
    150: 1800,
    180: 1200,
    220: 300,
    250: 180,
    280: 150,
    300: 60,
    350: 30,
    400: 15,
    430: 9,
}


@pytest.mark.parametrize("flight_level", PRINTED_LEAST_S)
def test_the_table_as_shipped_gives_the_lower_end_as_printed(flight_level):
    rows = _consciousness()
    fraction = next(
        one.oxygen_fraction
        for one in rows
        if one.altitude_m == pytest.approx(flight_level * 100 * 0.3048)
    )

    assert len(rows) == len(PRINTED_LEAST_S)
    assert useful_consciousness_s(rows, fraction) == PRINTED_LEAST_S[flight_level]


def test_the_two_tables_are_of_one_order():
    dry = 20.95 * air_pressure_pa(40_000 * 0.3048) / 101_325

    assert dry == pytest.approx(3.88, abs=0.005)
    assert 40 / 3 <= 20 <= 40 * 3  # s at flight level 400 against coma at 4 %


def test_flight_level_250_is_7_77_percent_dry():
    assert 20.95 * air_pressure_pa(7620) / 101_325 == pytest.approx(7.77, abs=0.005)
