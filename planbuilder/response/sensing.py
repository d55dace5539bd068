"""How late a gas meter is: air travels along the sample line, then the sensor follows slowly.

Derived. The response time T90 is the time in which the reading follows 90 % of a step; a sensor of
first order has a time constant of T90/ln 10.
"""

import math


def line_time_s(*, length_m: float, diameter_m: float, pump_flow_m3_per_s: float) -> float:
    """Time in which the pump draws air through the sample line, in s.

    Raises ValueError for a pump that draws nothing.
    """
    if not pump_flow_m3_per_s > 0:
        raise ValueError(f"the pump flow must be above 0 m3/s, got {pump_flow_m3_per_s:g}")
    return math.pi * diameter_m**2 * length_m / (4 * pump_flow_m3_per_s)


def late_on_ramp_s(*, line_s: float, response_s: float) -> float:
    """How far behind a steady rise the reading runs, in s."""
    return line_s + response_s / math.log(10)


def part_at_alarm(*, set_point: float, rise_per_s: float, late_s: float) -> float:
    """Part of the gas that is really there when the meter reaches its *set_point* on a rise."""
    return set_point + rise_per_s * late_s
