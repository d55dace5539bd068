"""A portable davit over its permitted swing: least margin, moment factor, reach, ballast.

Derived (statics of `stability`). Two separate questions: is the load line inside the base at every
permitted angle (then the load cannot tip it, whatever its size), and if not, how many times is the
tipping moment held by the davit's own weight and fixed ballast. A permanent base has no such limit
on reach. The worst angle for an edge is exact: the permitted one nearest to the edge's normal,
since every moment about the edge falls steadily from there.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planbuilder.haul.base import _nearest_rad
from planbuilder.haul.davit import Davit, Tilt, dot, leaned, own_forces, times
from planbuilder.haul.load import STANDARD_GRAVITY_M_PER_S2
from planbuilder.haul.stability import (
    Edge,
    EdgeMoments,
    Force,
    Vector,
    allowed_load_n,
    ballast_n,
    base_edges,
    centre_of_pressure_m,
    edge_moments,
)

# Binary fractions only: a line on the edge is inside, and tips nothing.
LINE_SLACK_M = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Swept:
    """The worst of a davit's swing. A margin below 0 is outside the base."""

    margin_m: float
    margin_at_rad: float
    line_inside_m: float
    line_at_rad: float
    moment_factor: float
    factor_at_rad: float
    allowed_line_n: float
    ballast_kg: float
    inside_reach_m: float

    @property
    def line_inside(self) -> bool:
        """True if the load line is inside the base at every permitted angle."""
        return self.line_inside_m >= -LINE_SLACK_M


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """The worst of one edge."""

    at_rad: float
    margin_m: float
    line_inside_m: float
    room_m: float
    turn: float
    moments: EdgeMoments
    allowed_line_n: float
    ballast_n: float


def sweep(
    davit: Davit,
    *,
    tilt: Tilt,
    line_force_n: float,
    safety_factor: float,
    ballast_at_m: Vector,
) -> Swept:
    """The worst over the permitted swing, with the line leaning the way that tips the base most.

    *line_force_n* is the line's pull at the boom tip with the line led down the mast. The centre of
    pressure gives the margin; the factor counts the davit's own weight only, and is infinite while
    the line is inside and nothing else tips. *ballast_kg* is what is needed at *ballast_at_m* for
    *safety_factor*; *inside_reach_m* the reach that brings the line back inside, 0 if none does.
    Raises ValueError if the feet span no area, the swing runs backwards, or the line could lie
    along the ground.
    """
    _require_sense(davit, tilt)
    sides = [
        _side(davit, edge, tilt, line_force_n, safety_factor, ballast_at_m)
        for edge in base_edges(davit.feet)
    ]
    return _worst(sides)


def _require_sense(davit: Davit, tilt: Tilt) -> None:
    """Raise ValueError where `sweep` says so."""
    if davit.swing_from_rad > davit.swing_to_rad:
        raise ValueError(
            "swing must not end before it starts, got "
            f"{davit.swing_from_rad} to {davit.swing_to_rad} rad"
        )
    if tilt.slope_rad + tilt.lean_rad >= math.pi / 2:
        raise ValueError(f"slope and lean must be below pi/2 rad together, got {tilt}")


def _worst(sides: Sequence[_Side]) -> Swept:
    """The worst of all edges, each question for itself."""
    margin = min(sides, key=lambda side: side.margin_m)
    line = min(sides, key=lambda side: side.line_inside_m)
    factor = min(sides, key=lambda side: side.moments.factor)
    return Swept(
        margin_m=margin.margin_m,
        margin_at_rad=margin.at_rad,
        line_inside_m=line.line_inside_m,
        line_at_rad=line.at_rad,
        moment_factor=factor.moments.factor,
        factor_at_rad=factor.at_rad,
        allowed_line_n=min(side.allowed_line_n for side in sides),
        ballast_kg=max(side.ballast_n for side in sides) / STANDARD_GRAVITY_M_PER_S2,
        inside_reach_m=_inside_reach_m(sides),
    )


def _side(
    davit: Davit,
    edge: Edge,
    tilt: Tilt,
    line_force_n: float,
    safety_factor: float,
    ballast_at_m: Vector,
) -> _Side:
    """All answers for one edge at the permitted angle where it is worst."""
    at_rad = _nearest_rad(edge.out_rad, davit.swing_from_rad, davit.swing_to_rad)
    hook, own = davit.hook_m(at_rad), own_forces(davit, tilt=tilt, at_rad=at_rad)
    pull = leaned(tilt, times(edge.lever(hook), -1))
    line = Force(at_m=hook, force_n=times(pull, line_force_n))
    shift_m = davit.hook_height_m * _line_shift(edge, tilt)
    line_inside_m = edge.inside_m(hook) - shift_m
    overhang_m = 0.0 if line_inside_m >= -LINE_SLACK_M else -dot(pull, edge.lever(hook))
    held = edge_moments(own, edge)
    moments = replace(held, overturning_nm=held.overturning_nm + line_force_n * overhang_m)
    return _Side(
        at_rad=at_rad,
        margin_m=edge.inside_m(centre_of_pressure_m([*own, line])),
        line_inside_m=line_inside_m,
        room_m=edge.inside_m(davit.mast_m) - shift_m,
        turn=math.cos(at_rad - edge.out_rad),
        moments=moments,
        allowed_line_n=allowed_load_n(
            moments=held, overhang_m=overhang_m, safety_factor=safety_factor
        ),
        ballast_n=ballast_n(
            moments=moments,
            behind_m=dot(tilt.down, edge.lever(ballast_at_m)),
            safety_factor=safety_factor,
        ),
    )


def _inside_reach_m(sides: Iterable[_Side]) -> float:
    """Greatest reach at which the line is inside every edge; 0 if there is none."""
    least_m, greatest_m = 0.0, math.inf
    for side in sides:
        if side.turn > LINE_SLACK_M:
            greatest_m = min(greatest_m, side.room_m / side.turn)
        elif side.room_m < 0:
            least_m = side.room_m / side.turn if side.turn < -LINE_SLACK_M else math.inf
    return greatest_m if greatest_m >= least_m else 0.0


def _line_shift(edge: Edge, tilt: Tilt) -> float:
    """How far outward, for each metre of height, a leaning line may cross the base plane.

    The directions that lean off plumb form a cone; its cut with the plane reaches farthest here.
    """
    toward = edge.inward[0] * tilt.down[0] + edge.inward[1] * tilt.down[1]
    upright, lean = tilt.down[2], math.sin(tilt.lean_rad)
    root = math.sqrt(max(0.0, toward**2 + upright**2 - lean**2))
    return (toward * upright + lean * root) / (upright**2 - lean**2)
