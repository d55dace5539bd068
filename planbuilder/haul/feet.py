"""What the feet of a davit press with while its boom turns.

Derived (statics of `legs` over the swing). Steps of five degrees or less, then of a degree or less
around the worst; between two of the first, a reaction cannot hide more than 0.1 % above both. The
line leans outward along the boom.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planbuilder.haul.base import Foot
from planbuilder.haul.davit import Davit, Tilt, Weight, leaned, own_forces, times
from planbuilder.haul.legs import elastic_reactions_n, greatest_reactions_n
from planbuilder.haul.stability import Force, centre_of_pressure_m

COARSE_RAD, FINE_RAD = math.radians(5), math.radians(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class FootReactions:
    """The most that any foot presses with whatever the others do, and there as springs alike."""

    greatest_n: float
    elastic_n: float


def foot_reactions(davit: Davit, *, tilt: Tilt, line_force_n: float) -> FootReactions:
    """The foot that presses hardest over the permitted swing, by both ways of sharing.

    Raises ValueError if the base tips somewhere in the swing, or the swing runs backwards.
    """
    span_rad = davit.swing_to_rad - davit.swing_from_rad
    if span_rad < 0:
        raise ValueError(f"swing must not end before it starts, got {span_rad:g} rad of swing")
    still = replace(davit, weights=(_together(davit.weights),))

    def greatest_n(at_rad: float) -> float:
        load_n, centre_m = _load(still, tilt, line_force_n, at_rad)
        return max(greatest_reactions_n(feet=davit.feet, load_n=load_n, centre_m=centre_m))

    coarse_rad = max(_steps(davit.swing_from_rad, davit.swing_to_rad, COARSE_RAD), key=greatest_n)
    first_rad = max(davit.swing_from_rad, coarse_rad - COARSE_RAD)
    last_rad = min(davit.swing_to_rad, coarse_rad + COARSE_RAD)
    worst_rad = max((coarse_rad, *_steps(first_rad, last_rad, FINE_RAD)), key=greatest_n)
    load_n, centre_m = _load(still, tilt, line_force_n, worst_rad)
    elastic_n = elastic_reactions_n(feet=davit.feet, load_n=load_n, centre_m=centre_m)
    return FootReactions(greatest_n=greatest_n(worst_rad), elastic_n=max(elastic_n))


def _steps(first_rad: float, last_rad: float, longest_rad: float) -> list[float]:
    """Both ends, and between them even steps no longer than that."""
    count = max(1, math.ceil((last_rad - first_rad) / longest_rad - 1e-9))
    return [first_rad + (last_rad - first_rad) * step / count for step in range(count + 1)]


def _together(weights: Sequence[Weight]) -> Weight:
    """One weight in the place of those that do not turn: at their common centre."""
    mass_kg = math.fsum(one.mass_kg for one in weights)
    x, y, z = (
        math.fsum(one.mass_kg * one.at_m[axis] for one in weights) / (mass_kg or 1.0)
        for axis in range(3)
    )
    return Weight(mass_kg=mass_kg, at_m=(x, y, z))


def _load(davit: Davit, tilt: Tilt, line_force_n: float, at_rad: float) -> tuple[float, Foot]:
    """What presses on the base, in N, and where, with the boom at an angle."""
    pull = leaned(tilt, (math.cos(at_rad), math.sin(at_rad), 0.0))
    line = Force(at_m=davit.hook_m(at_rad), force_n=times(pull, line_force_n))
    forces = [*own_forces(davit, tilt=tilt, at_rad=at_rad), line]
    return -math.fsum(one.force_n[2] for one in forces), centre_of_pressure_m(forces)
