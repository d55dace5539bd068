"""What a level of gas does, said by the row of a printed table that covers it."""

from collections.abc import Iterable

Row = tuple[float, str]
# Binary fractions only: 100 ppm must count as 100 ppm however it was written.
_EQUAL = 1e-9


def effect_from(rows: Iterable[Row], fraction: float) -> str:
    """The effect of a gas that harms from a level on: that of the last level reached."""
    reached = [row for row in rows if row[0] <= fraction * (1 + _EQUAL)]
    return max(reached)[1] if reached else ""


def effect_down_to(rows: Iterable[Row], fraction: float) -> str:
    """The effect of too little of a gas: that of the lowest level not yet passed."""
    reached = [row for row in rows if row[0] >= fraction * (1 - _EQUAL)]
    return min(reached)[1] if reached else ""
