"""MMWR 43 RR-13, 28 October 1994, p. 72, table S3-1: minutes to clear air (secondary copy).

Air changes an hour, and minutes for a removal of 90, 99 and 99.9 %; the table is for perfect
mixing and is multiplied by a mixing factor of up to 10.
"""

import pytest

from planbuilder.response.ventilation import fresh_air_m3_per_s, purge_time_s

pytestmark = pytest.mark.published
TABLE = {
    1: (138, 276, 414),
    2: (69, 138, 207),
    6: (23, 46, 69),
    10: (14, 28, 41),
    15: (9, 18, 28),
    20: (7, 14, 21),
    25: (6, 11, 17),
    50: (3, 6, 8),
}
ROWS = [
    (changes, left, minutes)
    for changes, row in TABLE.items()
    for left, minutes in zip((0.1, 0.01, 0.001), row, strict=True)
]


def minutes_to(left: float, *, changes: float, factor: float) -> float:
    """Minutes until *left* of a gas remains in 100 m3 with that many air changes an hour."""
    fresh = fresh_air_m3_per_s(flow_m3_per_s=100 * changes / 3600, mixing_factor=factor)
    time_s = purge_time_s(volume_m3=100, fresh_air_m3_per_s=fresh, start=1, target=left, steady=0)
    return time_s / 60


@pytest.mark.parametrize(("changes", "left", "minutes"), ROWS)
def test_minutes_of_the_table(changes, left, minutes):
    """The printed minutes are whole; some are cut where others are rounded."""
    assert minutes_to(left, changes=changes, factor=1) == pytest.approx(minutes, abs=0.56)


@pytest.mark.parametrize("factor", [3, 5, 10])
def test_the_table_is_multiplied_by_the_mixing_factor(factor):
    assert minutes_to(0.01, changes=6, factor=factor) == pytest.approx(
        factor * minutes_to(0.01, changes=6, factor=1)
    )
