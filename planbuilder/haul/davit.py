"""A portable davit as bodies and forces: base, mast and boom, and how the line may lean.

Derived (vector statics), in the frame of the base: z square to the plane of the feet, angles from x
to y. On a slope gravity leans in that frame, and the line leans off gravity.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbuilder.haul.base import Foot
from planbuilder.haul.load import weight_n
from planbuilder.haul.stability import Force, Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """A mass fixed to the base, and the height and place of its centre: base, mast, ballast."""

    mass_kg: float
    at_m: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Davit:
    """A mast that turns on a base of feet; angles count from x to y, heights from the feet."""

    feet: tuple[Foot, ...]
    mast_m: Foot
    reach_m: float
    hook_height_m: float
    swing_from_rad: float
    swing_to_rad: float
    weights: tuple[Weight, ...]
    boom_kg: float
    boom_arm_m: float
    boom_height_m: float

    def point_m(self, arm_m: float, height_m: float, at_rad: float) -> Vector:
        """The point at *arm_m* from the mast in the direction of the boom."""
        return (
            self.mast_m[0] + arm_m * math.cos(at_rad),
            self.mast_m[1] + arm_m * math.sin(at_rad),
            height_m,
        )

    def hook_m(self, at_rad: float) -> Vector:
        """Where the line leaves the boom tip."""
        return self.point_m(self.reach_m, self.hook_height_m, at_rad)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tilt:
    """Slope of the ground, falling toward an angle of the base, and lean of the line off plumb."""

    slope_rad: float
    slope_toward_rad: float
    lean_rad: float

    @property
    def down(self) -> Vector:
        """Unit vector of gravity in the frame of the base."""
        level = math.sin(self.slope_rad)
        return (
            level * math.cos(self.slope_toward_rad),
            level * math.sin(self.slope_toward_rad),
            -math.cos(self.slope_rad),
        )


def own_forces(davit: Davit, *, tilt: Tilt, at_rad: float) -> tuple[Force, ...]:
    """Weights of base, mast, ballast and boom with the boom at an angle."""
    centre_m = davit.point_m(davit.boom_arm_m, davit.boom_height_m, at_rad)
    boom = Weight(mass_kg=davit.boom_kg, at_m=centre_m)
    return tuple(
        Force(at_m=one.at_m, force_n=times(tilt.down, weight_n(one.mass_kg)))
        for one in (*davit.weights, boom)
    )


def leaned(tilt: Tilt, toward: Sequence[float]) -> Vector:
    """Unit vector that leans off plumb by the tilt's lean, as far as it can *toward* a vector."""
    along = dot(tilt.down, toward)
    side = [part - along * down for part, down in zip(toward, tilt.down, strict=True)]
    length = math.hypot(*side) or 1.0
    share, lean = math.cos(tilt.lean_rad), math.sin(tilt.lean_rad) / length
    x, y, z = (share * down + lean * part for down, part in zip(tilt.down, side, strict=True))
    return x, y, z


def dot(one: Sequence[float], other: Sequence[float]) -> float:
    """Scalar product."""
    return math.fsum(a * b for a, b in zip(one, other, strict=True))


def times(vector: Vector, factor: float) -> Vector:
    """A vector times a number."""
    return vector[0] * factor, vector[1] * factor, vector[2] * factor
