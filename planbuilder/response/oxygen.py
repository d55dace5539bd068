"""Thin air and air short of oxygen: one turned into the other, and how long the mind stays useful.

The legal test of an atmosphere is the percentage, not the pressure; what is worked out here says
only how much self-rescue may be counted on. The times come from healthy seated airmen.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

SEA_LEVEL_PA = 101_325.0
WATER_VAPOUR_PA = 6_270.0
"""Water vapour in the airways at 37 C: it takes its part of the pressure at every altitude."""
AIR_OXYGEN_FRACTION = 0.2095
COLLAPSE_OXYGEN_FRACTION = 0.06
"""Below this, collapse in one or two breaths is possible: nothing is left for self-rescue."""
DEFER_ABOVE_M = 1500.0
"""Above this altitude a competent person decides on the limits."""

_TROPOPAUSE_M = 11_000.0
_SCALE_HEIGHT_M = 6_341.62  # of the layer above it, at 216.65 K throughout


@dataclass(frozen=True, slots=True)
class Consciousness:
    """One row of the table: the altitude, and the shortest time of useful consciousness there."""

    altitude_m: float
    least_s: float

    @property
    def oxygen_fraction(self) -> float:
        """The part of oxygen at sea level that is breathed in as thinly as air is up there."""
        return sea_level_oxygen(AIR_OXYGEN_FRACTION, self.altitude_m)


def air_pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere, in Pa, up to 20 km (reference page, F14)."""
    layer_m = min(altitude_m, _TROPOPAUSE_M)
    pressure_pa = SEA_LEVEL_PA * math.pow(1 - 2.25577e-5 * layer_m, 5.25588)
    return pressure_pa * math.exp(-(altitude_m - layer_m) / _SCALE_HEIGHT_M)


def sea_level_oxygen(fraction: float, altitude_m: float) -> float:
    """The part of oxygen at sea level that is breathed in as thinly as *fraction* at an altitude.

    By the pressure of inspired, moist air, which leaves less than the dry one (derived).
    """
    return fraction * (air_pressure_pa(altitude_m) - WATER_VAPOUR_PA) / _DRY_AT_SEA_LEVEL_PA


_DRY_AT_SEA_LEVEL_PA = SEA_LEVEL_PA - WATER_VAPOUR_PA


def useful_consciousness_s(rows: Iterable[Consciousness], fraction: float) -> float:
    """Shortest time of useful consciousness at a sea-level *fraction* of oxygen, in s.

    Of the next row with as little oxygen or less; below the last one, that of the last one. For
    people at rest: work halves it.
    """
    thinner = sorted(rows, key=lambda one: one.altitude_m)
    for one in thinner:
        if one.oxygen_fraction <= fraction:
            return one.least_s
    return thinner[-1].least_s
