"""What a change of direction puts on its pulley and anchor: up to twice the line force."""

import math


def redirect_force_raising_n(*, load_side_n: float, efficiency: float, between_rad: float) -> float:
    """Force on a redirect pulley and its anchor while raising, in N, with friction.

    Derived (vector sum). *between_rad* is the angle between the two strands: 0 where the line
    comes straight back, pi where it runs straight on. The haul side carries *load_side_n* over
    *efficiency*, which is that of the pulley at this turn, 1 without friction; the efficiency of a
    half turn is lower and gives more, so it may stand in. Raises ValueError unless the efficiency
    is above 0 and at most 1, the angle from 0 to pi.
    """
    if not 0 < efficiency <= 1:
        raise ValueError(f"pulley efficiency must be above 0 and at most 1, got {efficiency}")
    return resultant_n(
        first_n=load_side_n, second_n=load_side_n / efficiency, between_rad=between_rad
    )


def hauled_side_n(*, load_side_n: float, efficiency: float, redirects: int) -> float:
    """Pull in the line past so many redirect pulleys while raising, in N.

    Each takes its loss; the efficiency of a half turn stands in for that of a smaller one. Raises
    ValueError unless the efficiency is above 0 and at most 1.
    """
    if not 0 < efficiency <= 1:
        raise ValueError(f"pulley efficiency must be above 0 and at most 1, got {efficiency}")
    return float(load_side_n / efficiency**redirects)


def resultant_n(*, first_n: float, second_n: float, between_rad: float) -> float:
    """Sum of two pulls at one point, in N, with *between_rad* between their directions.

    Law of cosines. Raises ValueError unless the angle is from 0 to pi.
    """
    if not 0 <= between_rad <= math.pi:
        raise ValueError(f"angle between two strands must be 0 to pi rad, got {between_rad:g}")
    along_n = first_n + second_n * math.cos(between_rad)
    across_n = second_n * math.sin(between_rad)
    return math.hypot(along_n, across_n)
