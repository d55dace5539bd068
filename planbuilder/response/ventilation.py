"""Clearing a space with fresh air: well mixed, slowed by a mixing factor. All flows in m3/s.

V dC/dt = G + Q'(C_in - C) with the fresh air that counts, Q' = Q/K (dilution equation). C is the
part of a gas in the air; for oxygen, C is what is lacking of it, and G what is used up or, times
the oxygen of air, what inert gas drives out. The gas that flows in is not counted as air that
flushes: times come out long. Not valid for layers: test at the far end and at every level.
"""

import math

OXYGEN_OF_AIR = 0.209
"""Part of oxygen in dry air, as meters are set."""


def fresh_air_m3_per_s(*, flow_m3_per_s: float, mixing_factor: float) -> float:
    """Fresh air that counts, Q' = Q/K, in m3/s.

    K 1 is perfect mixing; up to 10 where air is badly distributed (MMWR 43 RR-13, table S3-1).
    Raises ValueError for a flow of nothing or a factor below 1.
    """
    if not flow_m3_per_s > 0:
        raise ValueError(f"the flow of fresh air must be above 0 m3/s, got {flow_m3_per_s:g}")
    if not mixing_factor >= 1:
        raise ValueError(f"the mixing factor must be 1 or more, got {mixing_factor:g}")
    return flow_m3_per_s / mixing_factor


def lacking_oxygen(oxygen: float) -> float:
    """Part of oxygen that is lacking against outside air. Raises ValueError above outside air."""
    if oxygen > OXYGEN_OF_AIR:
        raise ValueError(f"oxygen must be at most {OXYGEN_OF_AIR:.1%}, got {oxygen:.1%}")
    return OXYGEN_OF_AIR - oxygen


def steady_part(*, source_m3_per_s: float, fresh_air_m3_per_s: float, supply: float = 0.0) -> float:
    """Part of the gas that stays however long the fan runs, C_in + G/Q'."""
    return supply + source_m3_per_s / fresh_air_m3_per_s


def least_flow_m3_per_s(
    *, source_m3_per_s: float, mixing_factor: float, target: float, supply: float = 0.0
) -> float:
    """Flow above which *target* can be reached at all, K*G/(C - C_in), in m3/s.

    Raises ValueError where the air that is blown in holds the target or more.
    """
    if target <= supply:
        raise ValueError("the air blown in holds as much gas as the target; no flow can reach it")
    return mixing_factor * source_m3_per_s / (target - supply)


def purge_time_s(
    *, volume_m3: float, fresh_air_m3_per_s: float, start: float, target: float, steady: float
) -> float:
    """Time until *start* has fallen to *target*, V/Q' ln((C_0 - C_inf)/(C - C_inf)), in s.

    0 where the start is no more than the target. Raises ValueError where the target is not above
    the part that stays: it is never reached.
    """
    if not target > steady:
        raise ValueError("the target lies at or below what the fan can reach")
    if start <= target:
        return 0.0
    return volume_m3 / fresh_air_m3_per_s * math.log((start - steady) / (target - steady))


def part_after(
    *, time_s: float, volume_m3: float, fresh_air_m3_per_s: float, start: float, steady: float
) -> float:
    """Part of the gas left after *time_s* of ventilation."""
    left = math.exp(-fresh_air_m3_per_s * time_s / volume_m3)
    return steady + (start - steady) * left
