"""Cold water: the first minutes decide. Useful movement is gone in about ten of them.

The table of exhaustion by water temperature is for people afloat, without credit for flotation.
"""

from collections.abc import Iterable
from dataclasses import dataclass

USEFUL_MOVEMENT_S = 600.0
"""Time to float or grasp the casualty, whatever the table says: the hands are lost by then."""

# Printed in whole degrees Fahrenheit: 50 F must count as 50 F however it was turned into kelvins.
_EQUAL_K = 1e-6


@dataclass(frozen=True, slots=True)
class ColdRow:
    """Water up to a temperature, and the least time to exhaustion; None where none is printed."""

    up_to_k: float
    exhausted_s: float | None


def exhaustion_s(rows: Iterable[ColdRow], water_k: float) -> float:
    """Least time to exhaustion or unconsciousness in water of that temperature, in s.

    Raises ValueError where the table has none: for its coldest row and beyond its warmest.
    """
    for one in sorted(rows, key=lambda row: row.up_to_k):
        if water_k <= one.up_to_k + _EQUAL_K:
            if one.exhausted_s is None:
                raise ValueError("in water this cold the table gives no least time to exhaustion")
            return one.exhausted_s
    raise ValueError("the table ends at 80 F (27 C): warmer water is not cold water")
