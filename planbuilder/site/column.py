"""What shares the column under an opening with a casualty on a line, as a site file states it."""

from __future__ import annotations

from typing import Annotated, Literal

from planbuilder.site.fields import (
    Coordinate,
    Flag,
    Id,
    Size,
    Strict,
    Text,
    Turn,
    reference,
)


class Ladder(Strict):
    """A fixed ladder in the column, and the cage or well round whoever climbs it.

    *to_depth* is that of its lowest rung below the walking surface. *guard_width* is the clear
    width of cage or well, *guard_depth* from the centre of the rungs to its far side, both clear of
    projections. *lift_inside*: the casualty is raised inside the guard.
    """

    to_depth: Size | None = None
    guard: Literal["none", "cage", "well"] | None = None
    guard_width: Size | None = None
    guard_depth: Size | None = None
    lift_inside: Flag | None = None


class Hose(Strict):
    """A blower hose, air line or cable that goes in, and whether it leaves the column free."""

    name: Text
    through: Literal["this-opening", "another-opening"]
    width: Size | None = None
    out_before_lift: Flag | None = None


class EntrantLine(Strict):
    """The line of one entrant in plan: *head* and *at* from the centre of the opening.

    *at* is where the entrant works; *turned* how far the way there goes round the axis, counted on
    one side, so that two lines that turn apart have wound round each other. *together*: hoisted at
    the same time as others.
    """

    person: Annotated[Id, reference("person")]
    head: tuple[Coordinate, Coordinate] | None = None
    at: tuple[Coordinate, Coordinate] | None = None
    turned: Turn | None = None
    together: Flag | None = None
