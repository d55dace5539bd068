"""What each leg of a base presses on the ground with, and the pad it needs there.

Derived (statics). Three legs have one answer. Four or more do not: elastic sharing is one guess,
and on uneven ground any three of them may carry the load, so pads are sized by the envelope.
Bearing holds for firm level ground, and not near an excavation edge.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from types import MappingProxyType

from planbuilder.haul.base import Foot
from planbuilder.haul.linear import solve

PA_PER_PSF = 47.88026

# Of the load: binary fractions only, and a triangle this thin has its feet in one line.
SHARE_SLACK = 1e-9

IBC_2012 = "IBC 2012, Table 1806.2"
CITY_CODE = "an older city building code (archive of Chicago)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Presumptive bearing pressure of a kind of ground, and where it comes from."""

    bearing_pa: float
    document: str
    mark: str = "read"


GROUNDS: Mapping[str, Ground] = MappingProxyType(
    {
        "crystalline-rock": Ground(bearing_pa=12_000 * PA_PER_PSF, document=IBC_2012),
        "sedimentary-rock": Ground(bearing_pa=4_000 * PA_PER_PSF, document=IBC_2012),
        "gravel": Ground(bearing_pa=3_000 * PA_PER_PSF, document=IBC_2012),
        "sand": Ground(bearing_pa=2_000 * PA_PER_PSF, document=IBC_2012),
        "clay-or-silt": Ground(bearing_pa=1_500 * PA_PER_PSF, document=IBC_2012),
        "very-soft-clay-or-loose-fill": Ground(bearing_pa=500 * PA_PER_PSF, document=CITY_CODE),
    }
)
"""Bearing by kind of ground. Mud, organic soil, peat and uncontrolled fill have no value."""


class TipsError(ValueError):
    """No three feet stand around the load: the base tips, and no sharing holds it."""


def elastic_reactions_n(
    *, feet: Sequence[Foot], load_n: float, centre_m: Foot
) -> tuple[float, ...]:
    """What each of any number of legs presses with, in N, if all are springs alike.

    Rigid base on level ground: pressures lie in one plane. It may understate a foot by half: not
    for pads. Below 0 the leg would have to pull; then it lifts and this answer does not hold.
    Raises ValueError if the feet stand in one line.
    """
    middle = [math.fsum(axis) / len(feet) for axis in zip(*feet, strict=True)]
    arms = [(x - middle[0], y - middle[1]) for x, y in feet]
    spread_m2 = [[math.fsum(one[i] * one[j] for one in arms) for j in (0, 1)] for i in (0, 1)]
    tilt = solve(spread_m2, [load_n * (centre_m[i] - middle[i]) for i in (0, 1)])
    return tuple(load_n / len(feet) + tilt[0] * x + tilt[1] * y for x, y in arms)


def greatest_reactions_n(
    *, feet: Sequence[Foot], load_n: float, centre_m: Foot
) -> tuple[float, ...]:
    """Most that each leg can press with on uneven ground, in N, whatever the others do.

    Linear programme: pressures of 0 or more in balance with the load. Its corners are the triangles
    of feet around the centre, so the most of a leg is that of its best triangle. Raises TipsError
    if no three feet stand around the centre: the base tips.
    """
    around = [
        dict(zip(three, shares, strict=True))
        for three in combinations(range(len(feet)), 3)
        if (shares := _shares([feet[place] for place in three], centre_m)) is not None
        and min(shares) >= -SHARE_SLACK
    ]
    if not around:
        raise TipsError(
            f"no three feet stand around {centre_m[0]:g} m, {centre_m[1]:g} m: the base tips"
        )
    return tuple(
        load_n * max(shares.get(place, 0.0) for shares in around) for place in range(len(feet))
    )


def pad_area_m2(*, reaction_n: float, bearing_pa: float) -> float:
    """Area of the pad under a leg, in m^2, that keeps to the bearing pressure of the ground."""
    return reaction_n / bearing_pa


def pad_pressure_pa(*, reaction_n: float, area_m2: float) -> float:
    """Pressure of a pad on the ground, in Pa."""
    return reaction_n / area_m2


def _shares(three: Sequence[Foot], centre_m: Foot) -> tuple[float, float, float] | None:
    """Share of the load at each of three feet (barycentric); None if they are in one line."""
    (ax, ay), (bx, by), (cx, cy) = three
    x, y = centre_m
    whole_m2 = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    if abs(whole_m2) < SHARE_SLACK:
        return None
    first = ((bx - x) * (cy - y) - (cx - x) * (by - y)) / whole_m2
    second = ((cx - x) * (ay - y) - (ax - x) * (cy - y)) / whole_m2
    return first, second, 1 - first - second
