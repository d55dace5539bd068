"""What lies and stands round an opening, seen from above."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import Coordinate, Strict, Text

Outline = Annotated[list[tuple[Coordinate, Coordinate]], Field(min_length=3, max_length=40)]


class Patch(Strict):
    """Something with an outline: an obstacle, or an excavation or other drop."""

    name: Text
    outline: Outline


class Layout(Strict):
    """The ground round an opening in plan, each outline as its corners in turn.

    Coordinates count from the centre of the opening, the first along its length. *lane* is the lane
    in use, *firm* where the ground bears feet. *drop* is an edge other than that of the opening.
    """

    obstacle: list[Patch] = Field(default_factory=list, max_length=30)
    drop: list[Patch] = Field(default_factory=list, max_length=10)
    lane: Outline | None = None
    firm: Outline | None = None
    landing: Outline | None = None
