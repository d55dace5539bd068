"""What stands, hangs, drives and runs around a place: power lines."""

from __future__ import annotations

from typing import Literal

from planbuilder.site.fields import Day, Distance, Flag, Size, Strict, Text, Volts


class PowerLine(Strict):
    """A line or bare live part overhead or beside the place.

    *distance* runs in plan from the middle of the support to the outermost conductor. *height* is
    that of the lowest conductor above the ground of the support, *sag* how much lower it may hang
    than when *height* was taken. *table* is a further table of approach distances that holds here.
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
