"""Gaps on the ground in plan: feet, outlines of what lies there, the path of a hook. Derived.

Outlines are polygons by their corners in turn, in m; angles in rad, anticlockwise from the first
axis. An outline that crosses itself is refused with ValueError.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from shapely import Polygon

Point = tuple[float, float]
Outline = Sequence[Point]

# Steps of half a degree: between two of them an arc leaves its chord by 1e-5 of the radius.
_ARC_STEP_RAD = math.radians(0.5)


def moved(points: Outline, *, turn_rad: float, to: Point) -> tuple[Point, ...]:
    """*points* turned about the origin by *turn_rad*, then shifted so that it lies at *to*."""
    cos, sin = math.cos(turn_rad), math.sin(turn_rad)
    return tuple((to[0] + x * cos - y * sin, to[1] + x * sin + y * cos) for x, y in points)


def outlines_apart_m(one: Outline, other: Outline) -> float:
    """Gap between two outlines, in m; 0 where they touch or overlap."""
    return float(_polygon(one).distance(_polygon(other)))


def base_apart_m(feet: Outline, outline: Outline) -> float:
    """Gap between an outline and the base that spans *feet*, in m; 0 where they overlap."""
    from shapely import MultiPoint  # noqa: PLC0415 - loaded only for a plan with a layout

    return float(MultiPoint(feet).convex_hull.distance(_polygon(outline)))


def nearest_outside_m(points: Outline, outline: Outline) -> float:
    """Distance from an outline to the nearest of *points*, in m; negative for one inside it."""
    return min(_outside_m(one, _polygon(outline)) for one in points)


def least_inside_m(points: Outline, outline: Outline) -> float:
    """How far inside an outline the least of *points* lies, in m; negative for one outside."""
    return min(-_outside_m(one, _polygon(outline)) for one in points)


def circle_apart_m(radius_m: float, outline: Outline) -> float:
    """Gap between a circle about the origin and an outline, in m; 0 where they overlap."""
    return max(0.0, nearest_outside_m([(0.0, 0.0)], outline) - radius_m)


def path_apart_m(
    *, mast: Point, radius_m: float, from_rad: float, to_rad: float, outline: Outline
) -> float:
    """Gap between an outline and the arc of a hook about its mast, in m; never too large."""
    from shapely import LineString  # noqa: PLC0415 - loaded only for a plan with a layout

    steps = max(1, math.ceil(abs(to_rad - from_rad) / _ARC_STEP_RAD))
    turns = [from_rad + (to_rad - from_rad) * step / steps for step in range(steps + 1)]
    arc = LineString(
        [(mast[0] + radius_m * math.cos(at), mast[1] + radius_m * math.sin(at)) for at in turns]
    )
    off_chord_m = radius_m * (1 - math.cos(abs(to_rad - from_rad) / steps / 2))
    return max(0.0, float(arc.distance(_polygon(outline))) - off_chord_m)


def _outside_m(point: Point, polygon: Polygon) -> float:
    from shapely import Point as Spot  # noqa: PLC0415 - loaded only for a plan with a layout

    spot = Spot(point)
    edge_m = float(polygon.exterior.distance(spot))
    return -edge_m if polygon.contains(spot) else edge_m


def _polygon(outline: Outline) -> Polygon:
    from shapely import Polygon  # noqa: PLC0415 - loaded only for a plan with a layout

    polygon = Polygon(outline)
    if not polygon.is_valid or polygon.area <= 0:
        message = "an outline crosses itself or has no area: give its corners in turn"
        raise ValueError(message)
    return polygon
