"""Sleeves fixed to a structure: clamped over a wall, bolted to a floor, bolted to a wall.

Derived (rigid bodies). Wall, floor, coping and concrete are for an engineer to confirm; a parapet
must be solid, not a veneer or hollow block. What is worked out here screens a plan.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planbuilder.haul.linear import solve

# A load on a bracket: downward force in N, and its level distance from the support in m.
Offset = tuple[float, float]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltTension:
    """Tension of the hardest-pulled bolt by each model; plan with the larger, at least 0.

    The toe model gives more only where the plate is lifted: pressed down, the centroid governs.
    """

    centroid_n: float
    toe_n: float

    @property
    def larger_n(self) -> float:
        """The tension to plan with."""
        return max(self.centroid_n, self.toe_n, 0.0)


def offset_moment_nm(loads: Iterable[Offset]) -> float:
    """Moment, in N m, of loads about the line from which their distances are counted.

    A line that leans adds its level part times the height of the head over the support.
    """
    return math.fsum(force_n * arm_m for force_n, arm_m in loads)


def couple_n(*, moment_nm: float, spacing_m: float) -> float:
    """Force of each of two bearings *spacing_m* apart that take the moment, in N.

    On a wall clamp: on the outer face high up, on the inner face low down. On a wall sleeve: pull
    on the upper bracket, push on the lower.
    """
    return moment_nm / spacing_m


def clamp_force_n(*, vertical_n: float, friction: float, safety_factor: float) -> float:
    """Clamping force on each of two faces that holds by friction alone, in N.

    Not needed where the clamp sits on the coping; then the coping and the wall strip are checked.
    """
    return safety_factor * vertical_n / (2 * friction)


def wall_strip_weight_n(
    *, unit_weight_n_per_m3: float, height_m: float, width_m: float, thickness_m: float
) -> float:
    """Weight of the strip of wall that a clamp is taken to rest on, in N."""
    return unit_weight_n_per_m3 * height_m * width_m * thickness_m


def wall_stabilising_nm(*, strip_weight_n: float, thickness_m: float) -> float:
    """Moment of the wall's own weight about its outer foot, in N m; no reinforcement."""
    return strip_weight_n * thickness_m / 2


def wall_overturning_nm(
    *, loads: Iterable[Offset], thickness_m: float, level_pull_n: float, pull_height_m: float
) -> float:
    """Moment that tips the wall strip about the foot of its outer face, in N m.

    Distances of the *loads* are from the wall's middle; those within its thickness count as
    nothing. A leaning line adds *level_pull_n* at *pull_height_m* over the wall's foot.
    """
    outside = ((force_n, max(0.0, arm_m - thickness_m / 2)) for force_n, arm_m in loads)
    return offset_moment_nm(outside) + level_pull_n * pull_height_m


def floor_bolt_tension(
    *, offsets_m: Sequence[float], moment_nm: float, axial_n: float, toe_m: float
) -> BoltTension:
    """Tension of the hardest-pulled bolt of a floor plate, by two models, in N.

    *offsets_m* are the bolts' distances from the group's middle, positive where the moment pulls;
    *axial_n* presses down. Centroid: M y / sum(y^2) - N / n. Toe: the plate turns about its far
    edge, *toe_m* from the middle: (M - N toe) d / sum(d^2). Raises ValueError if all bolts lie on
    the axis.
    """
    spread_m2 = math.fsum(y * y for y in offsets_m)
    if spread_m2 == 0:
        raise ValueError("bolts must not all lie on the axis of the moment")
    arms_m = [y + toe_m for y in offsets_m]
    about_toe_nm = moment_nm - axial_n * toe_m
    return BoltTension(
        centroid_n=moment_nm * max(offsets_m) / spread_m2 - axial_n / len(offsets_m),
        toe_n=about_toe_nm * max(arms_m) / math.fsum(d * d for d in arms_m),
    )


def swung_bolt_tension_n(*, bolts: Sequence[Point], moment_nm: float, axial_n: float) -> float:
    """Greatest bolt tension as the davit swings all round, in N.

    Centroid model in both axes at once, exact, for any pattern of *bolts*. While *axial_n* presses
    down it is never below the toe model. On a square pattern the diagonal pulls a corner bolt 1.41
    times as hard as the face does. Raises ValueError if the bolts stand in one line.
    """
    middle = [math.fsum(axis) / len(bolts) for axis in zip(*bolts, strict=True)]
    arms = [(x - middle[0], y - middle[1]) for x, y in bolts]
    spread_m2 = [[math.fsum(one[i] * one[j] for one in arms) for j in (0, 1)] for i in (0, 1)]
    pulls_per_m = [math.hypot(*solve(spread_m2, arm)) for arm in arms]
    return max(0.0, moment_nm * max(pulls_per_m) - axial_n / len(bolts))


def bolt_shear_n(*, shear_n: float, bolts: int) -> float:
    """Shear of each bolt, in N, shared evenly."""
    return shear_n / bolts


def bracket_bolt_tension_n(
    *, moment_nm: float, spacing_m: float, bolts_in_top_bracket: int
) -> float:
    """Tension of each bolt of the upper bracket of a wall sleeve, in N."""
    return couple_n(moment_nm=moment_nm, spacing_m=spacing_m) / bolts_in_top_bracket


def bolt_use(
    *, tension_n: float, allowed_tension_n: float, shear_n: float, allowed_shear_n: float
) -> float:
    """Tension and shear of a bolt, each over what it is allowed, together.

    Straight-line interaction; at most 1.2 (recalled) with each part at most 1.
    """
    return tension_n / allowed_tension_n + shear_n / allowed_shear_n


def breakout_n(*, concrete_strength_pa: float, embedment_m: float) -> float:
    """Pull that breaks a cone of cracked concrete out with one post-installed bolt, in N.

    ACI 318-19, 17.6.2 (recalled): 7 sqrt(f) h^1.5 in N, MPa and mm. Order of magnitude only: no
    edge, no neighbour, no strength-reduction factor.
    """
    strength_mpa, embedment_mm = concrete_strength_pa / 1e6, embedment_m * 1000
    return 7 * math.sqrt(strength_mpa * embedment_mm**3)


def embedment_needed_m(*, pull_n: float, concrete_strength_pa: float) -> float:
    """Embedment at which `breakout_n` comes to *pull_n*, in m; as rough as that."""
    strength_mpa = concrete_strength_pa / 1e6
    return float((pull_n / (7 * math.sqrt(strength_mpa))) ** (2 / 3) / 1000)
