"""Round tubes as the legs and masts of supports are made of, by outer diameter and wall."""

import math


def tube_bore_m(*, outer_m: float, wall_m: float) -> float:
    """Inner diameter of a tube, in m. Raises ValueError if the wall is thicker than the tube."""
    if not 0 < wall_m <= outer_m / 2:
        raise ValueError(
            f"the wall of a tube must be above 0 m and at most half of {outer_m:g} m, "
            f"got {wall_m:g} m"
        )
    return outer_m - 2 * wall_m


def tube_second_moment_m4(*, outer_m: float, wall_m: float) -> float:
    """Second moment of area of a round tube, in m^4. Raises as `tube_bore_m`."""
    return math.pi * (outer_m**4 - tube_bore_m(outer_m=outer_m, wall_m=wall_m) ** 4) / 64


def tube_section_modulus_m3(*, outer_m: float, wall_m: float) -> float:
    """Elastic section modulus of a round tube, in m^3. Raises as `tube_bore_m`."""
    return tube_second_moment_m4(outer_m=outer_m, wall_m=wall_m) / (outer_m / 2)
