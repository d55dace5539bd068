"""A hand winch at work: crank force, turns and time, parts of line, force on the head.

Derived (work on a drum with square packing, see `drum`). The marked rating always governs. A winch
made for goods is not for persons: EN 13157 leaves them out.
"""

import math
from collections.abc import Sequence

from planbuilder.haul.drum import layer_radius_m, turns_per_layer
from planbuilder.haul.redirect import resultant_n
from planbuilder.haul.ropes import Reeving, advantage


def crank_force_n(
    *,
    line_force_n: float,
    layer_radius_m: float,
    crank_radius_m: float,
    crank_turns_per_drum_turn: float,
    efficiency: float,
) -> float:
    """Force on the crank handle, in N, with the line in a layer of *layer_radius_m*.

    Work of the hand, less the losses of the gear, is work on the line.
    """
    lever = crank_radius_m * crank_turns_per_drum_turn * efficiency
    return line_force_n * layer_radius_m / lever


def crank_turns(
    *,
    wound_m: float,
    dead_wraps: float,
    drum_diameter_m: float,
    drum_width_m: float,
    line_diameter_m: float,
    crank_turns_per_drum_turn: float,
) -> float:
    """Turns of the crank that wind *wound_m* of line onto a drum that holds *dead_wraps*.

    Layer by layer; the line in a layer is wound at its radius. Raises ValueError if not even one
    turn fits between the flanges.
    """
    turns = turns_per_layer(drum_width_m=drum_width_m, line_diameter_m=line_diameter_m)
    if turns < 1:
        raise ValueError(
            f"the drum must be at least as wide as the line ({line_diameter_m:g} m), "
            f"got {drum_width_m:g} m"
        )
    drum_turns, left_m = 0.0, wound_m
    layer = math.floor(dead_wraps / turns) + 1
    free = turns * layer - dead_wraps
    while True:
        radius_m = layer_radius_m(
            drum_diameter_m=drum_diameter_m, line_diameter_m=line_diameter_m, layer=layer
        )
        here = left_m / (2 * math.pi * radius_m)
        if here <= free:
            return (drum_turns + here) * crank_turns_per_drum_turn
        drum_turns, left_m = drum_turns + free, left_m - free * 2 * math.pi * radius_m
        layer, free = layer + 1, turns


def crank_time_s(*, crank_turns: float, crank_rate_per_s: float) -> float:
    """Time to turn the crank that often, in s. Raises ValueError unless it turns."""
    if crank_rate_per_s <= 0:
        raise ValueError(f"the crank must turn, got {crank_rate_per_s} turns/s")
    return crank_turns / crank_rate_per_s


def crank_power_w(*, load_n: float, lift_m: float, efficiency: float, time_s: float) -> float:
    """Mean power of the hand on the crank over the lift, in W."""
    return load_n * lift_m / (efficiency * time_s)


def power_time_s(*, load_n: float, lift_m: float, efficiency: float, power_w: float) -> float:
    """Shortest time of the lift for people who keep up *power_w* together, in s."""
    return load_n * lift_m / (efficiency * power_w)


def reeved_line_force_n(*, load_n: float, parts: int, efficiency: float) -> float:
    """Force on the line where it leaves the hook block, in N, with *parts* of line at the hook.

    Tension method, every sheave alike; the sheave at the head that leads the line on to the winch
    comes on top: `line_force_at_drum_n`. One part has no block. Raises ValueError below one part.
    """
    return load_n / advantage(
        reeving=Reeving.SIMPLE, parts=(parts,), efficiency=efficiency, redirects=0
    )


def line_force_at_drum_n(*, line_force_n: float, efficiencies: Sequence[float]) -> float:
    """Force on the line at the drum while raising, in N, past the sheaves that lead it there."""
    return line_force_n / math.prod(efficiencies)


def wound_length_m(*, lift_m: float, parts: int) -> float:
    """Line wound onto the drum for a lift, in m: every part gets shorter by the lift.

    The line to buy is longer: `drum.line_required_m`.
    """
    return lift_m * parts


def head_force_n(*, load_n: float, drum_line_n: float, between_rad: float) -> float:
    """Force on the head, in N, when the winch stands off the support.

    All the load, whatever the parts, and the line to the winch as vectors; *between_rad* is 0 where
    the line runs back down beside the load. With the winch on the mast or a leg, the same force
    presses the head, but the line is inside the support: the ground carries the load alone.
    """
    return resultant_n(first_n=load_n, second_n=drum_line_n, between_rad=between_rad)
