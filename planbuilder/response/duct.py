"""What a fan delivers through a duct. A flow measured at the duct's end always wins.

Derived: fan curve p = p_0 (1 - (Q/Q_0)^2), duct loss p = R Q^2 with R = (f L/D + bends + 1)
rho/(2 A^2), the 1 for the speed lost at the outlet. Incompressible, turbulent, one duct.
"""

import math

AIR_DENSITY_KG_PER_M3 = 1.2


def duct_resistance(
    *, length_m: float, diameter_m: float, friction: float, bends: float, bend_loss: float
) -> float:
    """Pressure lost over the square of the flow, in Pa/(m3/s)^2. *friction* is Darcy's factor."""
    area_m2 = math.pi * diameter_m**2 / 4
    losses = friction * length_m / diameter_m + bends * bend_loss + 1
    return losses * AIR_DENSITY_KG_PER_M3 / (2 * area_m2**2)


def flow_on_duct_m3_per_s(
    *, free_flow_m3_per_s: float, shut_pressure_pa: float, resistance: float
) -> float:
    """Flow of a fan through a duct, Q_0/sqrt(1 + R Q_0^2/p_0), in m3/s.

    *free_flow_m3_per_s* is blown without a duct, *shut_pressure_pa* reached with it shut.
    """
    return free_flow_m3_per_s / math.sqrt(1 + resistance * free_flow_m3_per_s**2 / shut_pressure_pa)
