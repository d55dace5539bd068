"""Washington Administrative Code 296-155-77105, personnel hoists: factors of safety of the ropes.

Table: rope speed in feet per minute, minimum factor of safety.
"""

from typing import NamedTuple

import pytest

from planbuilder.haul.strength import personnel_hoist_factor

pytestmark = pytest.mark.published

METRE_PER_S_IN_FT_PER_MIN = 60 / 0.3048


class HoistRope(NamedTuple):
    where: str
    ft_per_min: float
    factor: float


@pytest.mark.parametrize(
    "row",
    [
        HoistRope("table, 50 ft/min", 50, 7.60),
        HoistRope("table, 75 ft/min", 75, 7.75),
        HoistRope("table, 100 ft/min", 100, 7.95),
        HoistRope("table, 125 ft/min", 125, 8.10),
        HoistRope("table, 150 ft/min", 150, 8.25),
        HoistRope("table, 175 ft/min", 175, 8.40),
        HoistRope("table, 200 ft/min", 200, 8.60),
        HoistRope("table, 225 ft/min", 225, 8.75),
        HoistRope("table, 250 ft/min", 250, 8.90),
        HoistRope("table, 300 ft/min", 300, 9.20),
        HoistRope("table, 350 ft/min", 350, 9.50),
        HoistRope("table, 400 ft/min", 400, 9.75),
        HoistRope("table, 450 ft/min", 450, 10.00),
        HoistRope("table, 500 ft/min", 500, 10.25),
        HoistRope("table, 550 ft/min", 550, 10.45),
        HoistRope("table, 600 ft/min", 600, 10.70),
    ],
    ids=lambda row: row.where,
)
def test_hoist_at_a_printed_speed_takes_the_printed_factor(row):
    speed_m_per_s = row.ft_per_min / METRE_PER_S_IN_FT_PER_MIN

    assert personnel_hoist_factor(rope_speed_m_per_s=speed_m_per_s) == row.factor
