"""Strength of a line as it is rigged, and factors that follow from a length, a speed or a stall.

A termination and a bend weaken a line at different places: the worse of the two counts, never their
product. Every part is judged with its own load, and the least factor is that of the system.
"""

import math
from bisect import bisect_left

from planbuilder.haul.factors import PERSONNEL_HOIST_FACTORS

FOOT_M = 0.3048
MINUTE_S = 60.0

LONGEST_SHAFT_ROPE_FT = 3000

# Binary fractions only: exactly 100 ft/min must not be read as the next row.
SPEED_SLACK = 1e-9


def bending_efficiency(*, sheave_diameter_m: float, line_diameter_m: float) -> float:
    """Share of its strength that a line keeps where it runs round a sheave or pin.

    1 - 0.5 / sqrt(D/d): form of the sling standards (EN 13414-3), recalled. Raises ValueError
    unless the sheave is at least as thick as the line: a sharper bend has no rule.
    """
    if not 0 < line_diameter_m <= sheave_diameter_m:
        raise ValueError(
            f"the sheave must be at least as thick as the line ({line_diameter_m:g} m), "
            f"got {sheave_diameter_m:g} m"
        )
    return 1 - 0.5 / math.sqrt(sheave_diameter_m / line_diameter_m)


def weakest_efficiency(*, termination: float, bending: float) -> float:
    """Share of its new strength that a line keeps as rigged: the worse of its two weak places."""
    return min(termination, bending)


def design_factor(*, breaking_n: float, efficiency: float, tension_n: float) -> float:
    """Strength of a line or part as rigged over what pulls on it.

    Derived. *efficiency* is that of `weakest_efficiency`, 1 for a part rated as it is used;
    *tension_n* is the largest anywhere along the line, dynamic factor included.
    """
    return breaking_n * efficiency / tension_n


def breaking_needed_n(*, tension_n: float, factor: float, efficiency: float) -> float:
    """Breaking strength, in N, that a line must be bought with for the design *factor*."""
    return tension_n * factor / efficiency


def hanging_line_kg(*, length_m: float, density_kg_per_m3: float, line_diameter_m: float) -> float:
    """Mass of the hanging line, in kg.

    *density_kg_per_m3* is the mass of a metre over the square of the diameter: 4000 for wire rope,
    which is 0.1 kg/m at 5 mm (derived).
    """
    return length_m * density_kg_per_m3 * line_diameter_m**2


def shaft_rope_factor(*, suspended_m: float) -> float:
    """Factor on the strength of a new rope on a drum that hoists persons in a shaft.

    30 CFR 57.19021 as West Virginia 36-1-35.3.1 repeats it: 7.0 - 0.001 L, L in ft and less than
    3,000 ft; for rope that hangs *suspended_m*. Raises ValueError outside that.
    """
    suspended_ft = suspended_m / FOOT_M
    if not 0 <= suspended_ft < LONGEST_SHAFT_ROPE_FT:
        raise ValueError(
            f"holds for 0 to {LONGEST_SHAFT_ROPE_FT} ft of rope, got {suspended_ft:.0f} ft"
        )
    return 7.0 - 0.001 * suspended_ft


def personnel_hoist_factor(*, rope_speed_m_per_s: float) -> float:
    """Factor on the strength of a rope of a personnel hoist, by its speed.

    WAC 296-155-77105, table; between two speeds the factor of the faster one. Raises ValueError
    above its 600 ft/min.
    """
    speed_ft_per_min = rope_speed_m_per_s * MINUTE_S / FOOT_M
    speeds = [speed for speed, _ in PERSONNEL_HOIST_FACTORS]
    row = bisect_left(speeds, speed_ft_per_min * (1 - SPEED_SLACK))
    if row == len(speeds):
        raise ValueError(f"holds up to {speeds[-1]} ft/min, got {speed_ft_per_min:.0f} ft/min")
    return PERSONNEL_HOIST_FACTORS[row][1]
