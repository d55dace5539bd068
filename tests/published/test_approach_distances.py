"""Approach distances to power lines as the rules print them, each row with its document."""

import pytest

from planbuilder.checks.room.approach_tables import approach_tables
from planbuilder.clearance.approach import Row, Step, tabled_distance_m

pytestmark = pytest.mark.published

FT = 0.3048
KV = 1000.0
PRINTED = [
    # 29 CFR 1926.1408 Table A, upper bound included (R04)
    *[
        ("us-crane", kv, feet * FT)
        for kv, feet in [
            *[(0.1, 10), (50, 10), (50.1, 15), (200, 15), (200.1, 20), (350, 20), (350.1, 25)],
            *[(500, 25), (500.1, 35), (750, 35), (750.1, 45), (1000, 45)],
        ]
    ],
    # 30 CFR 77.807-2, lower bound included (R06)
    *[
        ("us-mine", kv, feet * FT)
        for kv, feet in [
            *[(68, 10), (69, 12), (114, 12), (115, 15), (229, 15), (230, 20), (344, 20)],
            *[(345, 25), (499, 25), (500, 35), (765, 35)],
        ]
    ],
    # Alberta OHS Code, Schedule 4 (R07)
    *[
        ("ca-alberta", kv, metres)
        for kv, metres in [(0.75, 1), (25, 3), (72, 3.5), (144, 4), (260, 5), (500, 7)]
    ],
    # South Australia, Electricity (General) Regulations 2012, reg 64(3), any person
    *[
        ("au-south-australia", kv, metres)
        for kv, metres in [(0.415, 3), (11, 3), (33, 3), (66, 4), (132, 5), (275, 6)]
    ],
    # Western Australia, WHS (General) Regulations 2022 r. 166A (secondary copy)
    *[("au-western-australia", kv, metres) for kv, metres in [(1, 1), (33, 3), (66, 6), (330, 6)]],
    # O. Reg. 213/91 s. 188, recalled
    *[("ca-ontario", kv, metres) for kv, metres in [(150, 3), (250, 4.5), (500, 6)]],
    # 29 CFR 1910.333(c)(3)(i)(A): 10 ft to 50 kV, then 4 in for each begun 10 kV
    *[
        ("us-electrical", kv, feet * FT)
        for kv, feet in [(33, 10), (50, 10), (60, 10 + 4 / 12), (138, 13), (345, 20), (500, 25)]
    ],
    # WAC 296-874-20046
    *[("us-wa-scaffold", kv, feet * FT) for kv, feet in [(0.24, 10), (12.5, 10), (50, 10)]],
]


@pytest.mark.parametrize(("name", "kilovolts", "metres"), PRINTED)
def test_printed_row(name: str, kilovolts: float, metres: float) -> None:
    table = approach_tables()[name]

    found = tabled_distance_m(table.rows, table.step, voltage_v=kilovolts * KV, insulated=False)

    assert found == pytest.approx(metres, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "kilovolts", "metres"),
    [
        ("us-wa-scaffold", 0.24, 3 * FT),
        ("us-wa-scaffold", 0.3, 10 * FT),
        ("ca-alberta", 0.75, 0.3),
        ("ca-alberta", 25, 1.0),
        ("au-western-australia", 1, 0.5),
    ],
)
def test_printed_row_for_insulated_lines(name: str, kilovolts: float, metres: float) -> None:
    table = approach_tables()[name]

    found = tabled_distance_m(table.rows, table.step, voltage_v=kilovolts * KV, insulated=True)

    assert found == pytest.approx(metres)


def test_alberta_holds_seven_metres_until_the_voltage_is_known() -> None:
    """R07."""
    assert approach_tables()["ca-alberta"].unknown_m == 7.0


def test_logging_rule_of_washington_state() -> None:
    """R05, WAC 296-54-529: 10 ft and 0.4 in for every kV over 50; 138 kV gives 12.93 ft."""
    row = Row(most_v=50 * KV, included=True, distance_m=10 * FT, insulated_m=10 * FT)
    step = Step(from_v=50 * KV, each_v=KV, adds_m=0.4 * 0.0254)

    found = tabled_distance_m([row], step, voltage_v=138 * KV, insulated=False)

    assert found / FT == pytest.approx(12.93, abs=5e-3)


@pytest.mark.parametrize("name", ["us-electrical", "us-crane", "us-wa-scaffold", "us-mine"])
def test_zone_where_the_voltage_is_unknown(name: str) -> None:
    """R08, WAC 296-155-53408(1)(a): 50 ft, the zone of lines above 350 kV, which this might be."""
    table = approach_tables()[name]

    assert table.unknown_m == pytest.approx(15.24)
    assert table.unknown_source.document == "WAC 296-155-53408"
