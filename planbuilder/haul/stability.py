"""Whether a base that only stands on its feet tips: centre of pressure, moments, ballast.

Derived (rigid base, feet that can press but not pull). All in the frame of the base: z square to
the plane of its feet, x and y from any fixed point in it. On a slope gravity leans in that frame.
People and loose things on the base never count.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planbuilder.haul.base import Foot, _hull

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Force:
    """A force and the point it acts on; a weight on level ground is (0, 0, -m g)."""

    at_m: Vector
    force_n: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """An edge of the base: unit normal pointing inward, and where along it the edge lies."""

    inward: tuple[float, float]
    offset_m: float

    @property
    def out_rad(self) -> float:
        """Direction in which the base tips over this edge."""
        return math.atan2(-self.inward[1], -self.inward[0])

    def inside_m(self, point: Sequence[float]) -> float:
        """Distance of a point inside the line of the edge, below 0 outside."""
        return self.inward[0] * point[0] + self.inward[1] * point[1] - self.offset_m

    def lever(self, at_m: Vector) -> Vector:
        """What a force at a point is multiplied by, in parts, for its moment on this edge."""
        return at_m[2] * self.inward[0], at_m[2] * self.inward[1], -self.inside_m(at_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeMoments:
    """Moments about an edge: of the forces that hold the base down, of those that tip it."""

    stabilising_nm: float
    overturning_nm: float

    @property
    def factor(self) -> float:
        """How many times the tipping moment is held; infinite if nothing tips."""
        if self.overturning_nm <= 0:
            return math.inf
        return self.stabilising_nm / self.overturning_nm


def centre_of_pressure_m(forces: Sequence[Force]) -> Foot:
    """Where all forces together press on the plane of the feet, in m.

    The point about which they have no tipping moment. Raises ValueError if they do not press the
    base down.
    """
    pressing_n = -math.fsum(force.force_n[2] for force in forces)
    if pressing_n <= 0:
        raise ValueError(f"the forces must press the base down, got {pressing_n:g} N")
    x_nm, y_nm = (
        math.fsum(f.at_m[2] * f.force_n[axis] - f.at_m[axis] * f.force_n[2] for f in forces)
        for axis in (0, 1)
    )
    return x_nm / pressing_n, y_nm / pressing_n


def base_edges(feet: Sequence[Foot]) -> tuple[Edge, ...]:
    """Edges of the convex hull of the feet. Raises ValueError if they span no area."""
    corners = _hull(feet)
    return tuple(
        _edge(here, there) for here, there in zip(corners, [*corners[1:], corners[0]], strict=True)
    )


def margin_m(*, feet: Sequence[Foot], centre_m: Foot) -> float:
    """How far a centre of pressure is inside the base, in m; below 0 the base tips.

    Outside it is the distance past the line of an edge. Raises ValueError as `base_edges`.
    """
    return min(edge.inside_m(centre_m) for edge in base_edges(feet))


def moment_nm(force: Force, edge: Edge) -> float:
    """Moment of a force about an edge, in N m; above 0 it holds the base down there."""
    return math.fsum(
        part * arm for part, arm in zip(force.force_n, edge.lever(force.at_m), strict=True)
    )


def edge_moments(forces: Sequence[Force], edge: Edge) -> EdgeMoments:
    """Moments of forces about an edge, those that hold and those that tip apart.

    A force counts whole on one side, by where its own line meets the plane of the feet. Leave out
    what may be absent when the rest tips: a hook load inside the base is no ballast.
    """
    moments_nm = [moment_nm(force, edge) for force in forces]
    return EdgeMoments(
        stabilising_nm=math.fsum(one for one in moments_nm if one > 0),
        overturning_nm=-math.fsum(one for one in moments_nm if one < 0),
    )


def allowed_load_n(*, moments: EdgeMoments, overhang_m: float, safety_factor: float) -> float:
    """Line force that the base holds with the factor at an overhang past an edge, in N.

    *moments* are those without the line. *overhang_m* is the tipping moment for each newton of the
    line; infinite where there is none.
    """
    if overhang_m <= 0:
        return math.inf
    left_nm = moments.stabilising_nm / safety_factor - moments.overturning_nm
    return max(0.0, left_nm) / overhang_m


def ballast_n(*, moments: EdgeMoments, behind_m: float, safety_factor: float) -> float:
    """Weight of fixed ballast that brings the factor, in N, at a distance behind the edge.

    Infinite where it is needed and the place lies on or past the edge.
    """
    missing_nm = safety_factor * moments.overturning_nm - moments.stabilising_nm
    if missing_nm <= 0:
        return 0.0
    return missing_nm / behind_m if behind_m > 0 else math.inf


def _edge(here: Foot, there: Foot) -> Edge:
    """The edge from one corner to the next, counter-clockwise."""
    along_x, along_y = there[0] - here[0], there[1] - here[1]
    length_m = math.hypot(along_x, along_y)
    inward = (-along_y / length_m, along_x / length_m)
    return Edge(inward=inward, offset_m=inward[0] * here[0] + inward[1] * here[1])
