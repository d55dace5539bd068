"""What the feet of a davit press with while its boom turns.

Derived (statics of `legs` over the swing). Steps of a degree or less; the line leans outward along
the boom.
"""

import math
from dataclasses import dataclass

from planbuilder.haul.davit import Davit, Tilt, leaned, own_forces, times
from planbuilder.haul.legs import elastic_reactions_n, greatest_reactions_n
from planbuilder.haul.stability import Force, centre_of_pressure_m

STEP_RAD = math.radians(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class FootReactions:
    """The most that any foot presses with: whatever the others do, and as springs alike."""

    greatest_n: float
    elastic_n: float


def foot_reactions(davit: Davit, *, tilt: Tilt, line_force_n: float) -> FootReactions:
    """The foot that presses hardest over the permitted swing, by both ways of sharing.

    Raises ValueError if the base tips somewhere in the swing, or the swing runs backwards.
    """
    span_rad = davit.swing_to_rad - davit.swing_from_rad
    if span_rad < 0:
        raise ValueError(f"swing must not end before it starts, got {span_rad:g} rad of swing")
    steps = max(1, math.ceil(span_rad / STEP_RAD))
    answers = [
        _at(davit, tilt, line_force_n, davit.swing_from_rad + span_rad * step / steps)
        for step in range(steps + 1)
    ]
    return FootReactions(
        greatest_n=max(one.greatest_n for one in answers),
        elastic_n=max(one.elastic_n for one in answers),
    )


def _at(davit: Davit, tilt: Tilt, line_force_n: float, at_rad: float) -> FootReactions:
    pull = leaned(tilt, (math.cos(at_rad), math.sin(at_rad), 0.0))
    line = Force(at_m=davit.hook_m(at_rad), force_n=times(pull, line_force_n))
    forces = [*own_forces(davit, tilt=tilt, at_rad=at_rad), line]
    load_n = -math.fsum(one.force_n[2] for one in forces)
    centre_m = centre_of_pressure_m(forces)
    greatest_n = greatest_reactions_n(feet=davit.feet, load_n=load_n, centre_m=centre_m)
    elastic_n = elastic_reactions_n(feet=davit.feet, load_n=load_n, centre_m=centre_m)
    return FootReactions(greatest_n=max(greatest_n), elastic_n=max(elastic_n))
