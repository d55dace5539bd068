"""Supports, devices and other equipment. Marked ratings are inputs, never outputs."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field

from planbuilder.site.fields import (
    BodySize,
    Coordinate,
    Count,
    Day,
    Flag,
    Id,
    LineSpeed,
    Load,
    Number,
    Size,
    Strict,
    Text,
    own_id,
)
from planbuilder.site.periods import Interval


class SupportKind(StrEnum):
    """What holds the line over the casualty."""

    TRIPOD = "tripod"
    LEGGED_BASE_DAVIT = "legged-base-davit"
    WALL_CLAMP_SLEEVE = "wall-clamp-sleeve"
    FLOOR_SLEEVE = "floor-sleeve"
    WALL_SLEEVE = "wall-sleeve"
    OPENING_COLLAR = "opening-collar"
    VEHICLE_RECEIVER = "vehicle-receiver"
    PLATFORM_POST = "platform-post"
    POST_DAVIT_ARM = "post-davit-arm"
    HORIZONTAL_LIFELINE = "horizontal-lifeline"
    STRUCTURE = "structure"


class Basis(StrEnum):
    """What the capacity of a support rests on."""

    MARKED = "marked-rating"
    QUALIFIED_PERSON = "qualified-person"
    JUDGED = "structure-judged"


class RatedAt(StrEnum):
    """The drum state that a winch's plate states its working load for."""

    BARE_DRUM = "bare-drum"
    FULL_DRUM = "full-drum"


class ReevingKind(StrEnum):
    """How a rope system is built."""

    SIMPLE = "simple"
    COMPOUND = "compound"
    COMPLEX_5 = "complex-5"


class Inspected(Strict):
    """Anything with an identity, an inspection date and an interval."""

    name: Text
    serial: Text | None = None
    kept_at: Text | None = None
    inspected: Day | None = None
    inspection_interval: Interval | None = None


class Support(Inspected):
    """A stand, post, sleeve, collar or structure. *rated_load* is for one line."""

    id: Annotated[Id, own_id("support")]
    kind: SupportKind
    rated_load: Load | None = None
    for_people: Flag | None = None
    lines: Count | None = None
    basis: Basis | None = None
    judged_by: Text | None = None
    feet: list[tuple[Coordinate, Coordinate]] | None = Field(default=None, min_length=3)


class _Device(Inspected):
    id: Annotated[Id, own_id("device")]
    rated_load: Load | None = None
    for_people: Flag | None = None
    line_length: Size | None = None
    line_speed: LineSpeed | None = None


class Winch(_Device):
    """A hand or powered winch. *line_speed* is at the drum, at the load planned."""

    kind: Literal["winch"]
    line_diameter: Size | None = None
    drum_diameter: Size | None = None
    drum_width: Size | None = None
    rated_at: RatedAt | None = None
    handle: Text | None = None


class SelfRetractingLine(_Device):
    """A self-retracting line, with or without a retrieval crank."""

    kind: Literal["self-retracting-line"]
    retrieval: Flag
    arrest_distance: Size | None = None
    handle: Text | None = None


class RopeSystem(_Device):
    """Rope and pulleys hauled by people."""

    kind: Literal["rope-system"]
    reeving: ReevingKind = ReevingKind.SIMPLE
    parts: list[Annotated[int, Field(strict=True, ge=1, le=12)]] = Field(min_length=1, max_length=4)
    redirects: Count = 0
    pulley_efficiency: Number | None = None


class LoweringDevice(_Device):
    """A device that lets a casualty down."""

    kind: Literal["lowering-device"]


Device = Annotated[
    Winch | SelfRetractingLine | RopeSystem | LoweringDevice,
    Field(discriminator="kind"),
]


class Equipment(Inspected):
    """Anything else that the plan needs on the day."""

    id: Annotated[Id, own_id("equipment")]
    kind: Text
    quantity: Count = 1
    width: BodySize | None = None
    depth: BodySize | None = None
