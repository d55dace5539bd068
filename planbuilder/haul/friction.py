"""Friction of a rope over edges and rollers, while raising.

Belt friction (capstan) equation. It ignores bending stiffness, so an edge sharper than two rope
diameters costs more. Never take edge friction off the load of an anchor, a brake or a backup line.
"""

import math
from collections.abc import Sequence


def edge_factor(edges: Sequence[tuple[float, float]]) -> float:
    """Haul-side tension over load-side tension while raising over *edges*, at least 1.

    Each edge is (friction coefficient, turn of the rope in rad); the exponents add. Coefficients
    measured on rope: Delaney, Physics for Roping Technicians, 2022, p. 88. Lowering divides by it.
    """
    return math.exp(sum(mu * turn_rad for mu, turn_rad in edges))


def turn_efficiency(*, half_turn_efficiency: float, turn_rad: float) -> float:
    """Share of the tension that a sheave passes on when the rope turns by *turn_rad*.

    Derived: the loss of a half turn spread evenly over it, as of a belt; pi gives the half turn.
    Raises ValueError unless the efficiency is above 0 and at most 1, the turn from 0 to pi.
    """
    if not (0 < half_turn_efficiency <= 1 and 0 <= turn_rad <= math.pi):
        raise ValueError(
            "needs an efficiency above 0 and at most 1, a turn from 0 to pi rad, "
            f"got {half_turn_efficiency} and {turn_rad:g} rad"
        )
    return math.exp(math.log(half_turn_efficiency) * (turn_rad / math.pi))


def roller_factor(*, efficiency: float) -> float:
    """Haul-side tension over load-side tension while raising over one roller.

    Raises ValueError unless *efficiency* is above 0 and at most 1.
    """
    if not 0 < efficiency <= 1:
        raise ValueError(f"roller efficiency must be above 0 and at most 1, got {efficiency}")
    return 1 / efficiency


def measured_friction(*, raise_n: float, lower_n: float, turn_rad: float) -> float:
    """Friction coefficient from pulls that just raise and just hold the same load over one edge.

    Raises ValueError unless the hold is above 0, the raise at least the hold, the turn above 0.
    """
    if not (0 < lower_n <= raise_n and turn_rad > 0):
        raise ValueError(
            "needs hold above 0, raise at least hold, turn above 0, "
            f"got hold {lower_n:g} N, raise {raise_n:g} N, turn {turn_rad:g} rad"
        )
    return math.log(raise_n / lower_n) / (2 * turn_rad)
