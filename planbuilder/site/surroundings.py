"""What hangs, drives and runs around a place: power lines, traffic, engines, hot work."""

from __future__ import annotations

from typing import Literal

from planbuilder.site.fields import (
    Bearing,
    Day,
    Distance,
    Flag,
    RoadSpeed,
    Size,
    Strict,
    Text,
    Volts,
)


class PowerLine(Strict):
    """A line or bare live part overhead or beside the place.

    *distance* runs in plan from the middle of the support to the outermost conductor. *height* is
    that of the lowest conductor above the ground of the support, *sag* how much lower it may hang
    than when *height* was taken. *table* is a further table of approach distances that holds here.
    *carried_by*, *route_distance* (in plan from the way to the place), and *consulted* (who of its
    operator was asked) with *consulted_on* are for a *consult_table*, named here or by the profile.
    """

    name: Text
    voltage: Volts | None = None
    distance: Distance | None = None
    height: Size | None = None
    sag: Distance | None = None
    insulated: Flag = False
    state: Literal["live", "isolated-and-grounded"] = "live"
    confirmed_by: Text | None = None
    confirmed_on: Day | None = None
    table: Text | None = None
    carried_by: Literal["steel-tower", "pole"] | None = None
    route_distance: Distance | None = None
    consulted: Text | None = None
    consulted_on: Day | None = None
    consult_table: Text | None = None


class Traffic(Strict):
    """Vehicles that pass the place.

    *lane_distance* runs from the edge of the lane in use to the nearest of opening, support, crew
    and landing place; *buffer* is the free length of the closed lane, or shoulder, ahead of the
    place, *taper* the length over which the lane of *lane_width* closes.
    """

    lane: Literal["road-closed", "lane-closed", "lane-open"] | None = None
    speed: RoadSpeed | None = None
    lane_distance: Distance | None = None
    lane_width: Size | None = None
    buffer: Distance | None = None
    taper: Distance | None = None
    barrier: Flag | None = None


class Nearby(Strict):
    """An engine's exhaust or a place of hot work near the opening.

    *bearing* is the way from the opening to it, clockwise from north; *to_intake* is its distance
    from the intake of the blower.
    """

    name: Text
    kind: Literal["exhaust", "hot-work"]
    distance: Distance | None = None
    bearing: Bearing | None = None
    to_intake: Distance | None = None
