"""Openings and narrow places of the way out, and the stretcher that has to pass them."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from pydantic import Field

from planbuilder.site.fields import BodySize, Distance, Flag, Size, Strict, Text, Turn


class OpeningShape(StrEnum):
    """The shape of the clear opening. An oval is judged as an ellipse of length and width."""

    ROUND = "round"
    RECTANGULAR = "rectangular"
    OVAL = "oval"


class Ring(Strict):
    """One place that the way out narrows at, measured by itself: neck, hinge, ladder stub."""

    name: Text
    shape: OpeningShape | None = None
    diameter: Size | None = None
    length: Size | None = None
    width: Size | None = None


class Opening(Ring):
    """The smallest clear opening on the way out, measured inside gasket, hinge and ladder stub.

    One *from_side* is a manway in a wall: the depth of the space runs from its sill to the floor.
    *above_ground* is how high the opening stands above the ground. Where only the cover was
    measured, *measured* says so and each *ring* below it is stated. *neck* is the length of the
    opening through wall or roof with its pad. *clear_outside* and
    *clear_inside* run straight out of a side manway to whatever stands in the way; *sill_outside*
    is the height of its sill above the platform, *landing* the length of the table at it;
    *drop_outside* is how far those who receive the casualty there could fall, nought on the ground,
    *drop_guarded* that a rail or a restraint line holds them.
    """

    name: Text = "opening"
    from_side: Flag = False
    coaming: Distance | None = None
    above_ground: Distance | None = None
    measured: Literal["smallest-ring", "cover"] | None = None
    ring: list[Ring] = Field(default_factory=list, max_length=20)
    neck: Distance | None = None
    clear_outside: Distance | None = None
    clear_inside: Distance | None = None
    sill_outside: Distance | None = None
    footholds: Flag | None = None
    landing: Distance | None = None
    drop_outside: Distance | None = None
    drop_guarded: Flag | None = None


class Bend(Strict):
    """A corner of the way out, or a bend that is longer than what is carried round it.

    A corner has a *turn* and the clear widths *before* and *after* it; a round bend has the
    *radius* of its centre line and one clear *width*. *plane* says whether the way turns level or
    upright, as from a pipe up into a shaft: its widths are then clear heights and lengths in that
    plane. In a *round_bore* the widths are clear diameters. The stretcher is carried flat, or
    tipped *on_side*.
    """

    name: Text
    plane: Literal["level", "upright"] | None = None
    round_bore: Flag | None = None
    on_side: Flag = False
    before: Size | None = None
    after: Size | None = None
    turn: Turn | None = None
    radius: Size | None = None
    width: Size | None = None


class Packed(Strict):
    """A stretcher with a large casualty packed in it, as it goes through.

    One that *bends* counts with its longest part that does not, *stiff_length*.
    """

    length: Size | None = None
    width: BodySize | None = None
    depth: BodySize | None = None
    bends: Flag | None = None
    stiff_length: Size | None = None
