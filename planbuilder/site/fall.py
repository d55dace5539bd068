"""Fall arrest in a space: what catches the person, where it hangs, what lies below."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from planbuilder.site.fields import (
    Coordinate,
    Distance,
    Id,
    Load,
    Part,
    Size,
    Strict,
    Text,
    reference,
)


class CountedBy(StrEnum):
    """How the hanging person is counted: D-ring and stretch, or the whole body height."""

    DRING = "dring"
    WHOLE_BODY = "whole-body"


class LineEdge(StrEnum):
    """What the line runs over between anchor and fallen person."""

    NONE = "none"
    PROTECTED = "protected"
    RATED = "rated-for-edge"
    BARE = "bare"


class FallAbsorber(Strict):
    """The energy absorber as marked: average and peak force while it opens, longest opening.

    *free_fall* is the longest that it is marked for, where that allows an anchor below the D-ring.
    """

    free_fall: Size | None = None
    force: Load | None = None
    peak: Load | None = None
    travel: Size | None = None


class Obstacle(Strict):
    """Something a fallen person could meet before the lower level.

    *below* is its top under the walking surface, with a minus where it stands above; *aside* its
    nearest point from the plumb line under the anchor, with a minus on the side away from the user.
    """

    what: Text
    below: Coordinate | None = None
    aside: Coordinate | None = None


class Fall(Strict):
    """Fall arrest here. *below* runs from the walking surface to whatever is hit first.

    With a rope grab, *anchor_height* is that of the rope's anchor, *grab_height* that of the grab
    when the fall starts, *grab_locking* how far it slides until it holds, and *rope_strain* the
    stretch of the rope at the force of the arrest. On a horizontal *lifeline* the height of the
    anchor is that of the line in the middle of its span, with nobody on it.
    """

    arrest: Literal["lanyard", "self-retracting-line", "rope-grab"]
    counted_by: CountedBy = CountedBy.DRING
    device: Annotated[Id, reference("device")] | None = None
    lifeline: Annotated[Id, reference("support")] | None = None
    connector: Size | None = None
    anchor_height: Coordinate | None = None
    dring_height: Distance | None = None
    offset: Distance | None = None
    edge: LineEdge | None = None
    grab_height: Coordinate | None = None
    grab_locking: Distance | None = None
    rope_strain: Part | None = None
    absorber: FallAbsorber = FallAbsorber()
    below: Size | None = None
    hits_first: Text | None = None
    obstacle: list[Obstacle] = Field(default_factory=list, max_length=20)
