"""Davit masts: bending at the top bearing, the couple in the socket, stress in a tube.

Derived (statics). A line from the boom tip down to a winch on the mast is internal: it presses the
mast and does not bend it. A line led to a winch or to haulers off the davit adds its whole pull at
the boom tip.
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SocketForces:
    """Level forces of the two bearings of a mast on it, in opposite directions."""

    bottom_n: float
    top_n: float


def mast_moment_nm(
    *,
    line_force_n: float,
    lean_rad: float,
    reach_m: float,
    boom_weight_n: float,
    boom_arm_m: float,
    head_height_m: float,
) -> float:
    """Bending moment of the mast at its top bearing, in N m.

    The line hangs at *reach_m* from the mast axis and leans *lean_rad* off plumb, outward, the
    worst way; *head_height_m* is the boom tip over the top bearing.
    """
    hanging_nm = line_force_n * math.cos(lean_rad) * reach_m + boom_weight_n * boom_arm_m
    return hanging_nm + level_part_n(line_force_n=line_force_n, lean_rad=lean_rad) * head_height_m


def level_part_n(*, line_force_n: float, lean_rad: float) -> float:
    """Level part of a line that leans *lean_rad* off plumb, in N."""
    return line_force_n * math.sin(lean_rad)


def socket_forces(
    *, moment_nm: float, level_pull_n: float, bearing_spacing_m: float
) -> SocketForces:
    """Forces of the two bearings that hold the mast upright; *moment_nm* is at the top one."""
    bottom_n = moment_nm / bearing_spacing_m
    return SocketForces(bottom_n=bottom_n, top_n=bottom_n + level_pull_n)


def bending_stress_pa(*, moment_nm: float, section_modulus_m3: float) -> float:
    """Greatest bending stress, in Pa. Leaves out the axial push, holes and welds."""
    return moment_nm / section_modulus_m3
