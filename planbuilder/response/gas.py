"""Compressed air as a real gas: what a cylinder gives, and what its gauge shows afterwards.

Pressures are absolute and in Pa unless a name says gauge; free air is measured at one standard
atmosphere and at the temperature of the cylinder. *factor* gives the compressibility factor Z for a
pressure and a temperature. Above 200 bar air is harder to compress than an ideal gas: a cylinder
holds less than its volume times its pressure.
"""

import bisect
from collections.abc import Callable, Sequence
from dataclasses import dataclass

STANDARD_PRESSURE_PA = 101_325.0
IDEAL_PRESSURE_PA = 1e5
"""The sum of the trade, litres of water times bar, gives air at 1 bar."""

# Binary fractions only: a value at the edge of the table is inside it.
EDGE_SLACK = 1e-9
_HALVINGS = 100

Factor = Callable[[float, float], float]


@dataclass(frozen=True, slots=True)
class FactorTable:
    """Compressibility factors by pressure (one row each) and temperature (one column each)."""

    pressures_pa: Sequence[float]
    temperatures_k: Sequence[float]
    rows: Sequence[Sequence[float]]

    @property
    def most_pa(self) -> float:
        """The highest pressure of the table, in Pa."""
        return self.pressures_pa[-1]

    def factor(self, pressure_pa: float, temperature_k: float) -> float:
        """Z between the values of the table, straight in both directions.

        Raises ValueError outside the table: it never guesses beyond it.
        """
        row, down = _place(self.pressures_pa, pressure_pa, "air pressure", "Pa")
        column, along = _place(self.temperatures_k, temperature_k, "air temperature", "K")
        upper, lower = self.rows[row], self.rows[row + 1]
        at_upper = upper[column] + along * (upper[column + 1] - upper[column])
        at_lower = lower[column] + along * (lower[column + 1] - lower[column])
        return at_upper + down * (at_lower - at_upper)


def _place(marks: Sequence[float], value: float, what: str, unit: str) -> tuple[int, float]:
    """The interval of *marks* in which *value* lies, and how far along it."""
    slack = EDGE_SLACK * abs(marks[-1])
    if not marks[0] - slack <= value <= marks[-1] + slack:
        raise ValueError(
            f"{what} must lie between {marks[0]:g} and {marks[-1]:g} {unit}, got {value:g} {unit}"
        )
    number = min(max(bisect.bisect_right(marks, value) - 1, 0), len(marks) - 2)
    return number, (value - marks[number]) / (marks[number + 1] - marks[number])


def absolute_pa(gauge_pa: float) -> float:
    """Absolute pressure of a gauge reading, in Pa, at one standard atmosphere outside."""
    return gauge_pa + STANDARD_PRESSURE_PA


def gauge_pa(pressure_pa: float) -> float:
    """What a gauge shows at an absolute pressure, in Pa; never below its stop at nought."""
    return max(pressure_pa - STANDARD_PRESSURE_PA, 0.0)


def free_volume_m3(
    factor: Factor, *, water_m3: float, pressure_pa: float, temperature_k: float
) -> float:
    """Free air in cylinders of *water_m3* together, in m3 (real gas, derived).

    V = V_w*(p/Z(p, T))*(Z_0/p_0). As wide as the range of *factor*.
    """
    outside = factor(STANDARD_PRESSURE_PA, temperature_k) / STANDARD_PRESSURE_PA
    return water_m3 * pressure_pa / factor(pressure_pa, temperature_k) * outside


def ideal_volume_m3(*, water_m3: float, gauge_pa: float) -> float:
    """What the usual sum says is in the cylinder, in m3 at 1 bar: litres of water times bar.

    Too much at high pressure: about 1 % at 150 bar, 3.5 % at 200 bar, 12 % at 300 bar.
    """
    return water_m3 * gauge_pa / IDEAL_PRESSURE_PA


def pressure_pa(
    factor: Factor, *, water_m3: float, volume_m3: float, temperature_k: float, most_pa: float
) -> float:
    """The pressure at which the cylinders hold *volume_m3* of free air, in Pa, by halving.

    Raises ValueError where they would not hold it at *most_pa* either.
    """

    def held_m3(trial_pa: float) -> float:
        return free_volume_m3(
            factor, water_m3=water_m3, pressure_pa=trial_pa, temperature_k=temperature_k
        )

    return _solved(held_m3, volume_m3, most_pa)


def cooled_pressure_pa(
    factor: Factor, *, filled_pa: float, filled_k: float, used_k: float, most_pa: float
) -> float:
    """The pressure of a closed cylinder, filled at one temperature, at another, in Pa.

    The amount of gas stays: p/(Z*T) is the same before and after. Derived.
    """

    def amount(trial_pa: float) -> float:
        return trial_pa / (factor(trial_pa, used_k) * used_k)

    return _solved(amount, filled_pa / (factor(filled_pa, filled_k) * filled_k), most_pa)


def _solved(grows: Callable[[float], float], wanted: float, most_pa: float) -> float:
    """The pressure at which *grows*, which rises with pressure, reaches *wanted*."""
    if grows(most_pa) < wanted:
        raise ValueError(f"takes more than {most_pa / 1e5:g} bar, beyond the table for air")
    low_pa, high_pa = 0.0, most_pa
    for _ in range(_HALVINGS):
        middle_pa = (low_pa + high_pa) / 2
        if grows(middle_pa) < wanted:
            low_pa = middle_pa
        else:
            high_pa = middle_pa
    return high_pa
