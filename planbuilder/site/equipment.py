"""Devices and other equipment. Marked ratings are inputs, never outputs."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.air import AirSupply
from planbuilder.site.atmosphere import GasMeter
from planbuilder.site.fields import (
    BodySize,
    Count,
    Flag,
    Id,
    LineSpeed,
    Load,
    Number,
    Part,
    Ratio,
    Size,
    Strict,
    Text,
    Turn,
    own_id,
    refusal,
)
from planbuilder.site.opening import Packed
from planbuilder.site.supports import Inspected
from planbuilder.units import Length


class RatedAt(StrEnum):
    """The drum state that a winch's plate states its working load for."""

    BARE_DRUM = "bare-drum"
    FULL_DRUM = "full-drum"


class PlateRates(StrEnum):
    """What the load on a winch's plate is: of the hook, or of the line at the drum."""

    LIFTED_LOAD = "lifted-load"
    LINE_PULL = "line-pull"


class ReevingKind(StrEnum):
    """How a rope system is built."""

    SIMPLE = "simple"
    COMPOUND = "compound"
    COMPLEX_5 = "complex-5"
    DESCRIBED = "described"


class _Device(Inspected):
    id: Annotated[Id, own_id("device")]
    rated_load: Load | None = None
    rated_people: Count | None = None
    for_people: Flag | None = None
    shared_with_material: Flag | None = None
    line_length: Size | None = None
    line_speed: LineSpeed | None = None
    line_breaking: Load | None = None
    line_is: Literal["wire", "textile"] | None = None
    termination: Number | None = None
    sheave_diameter: Size | None = None
    line_diameter: Size | None = None
    line_stiffness: Load | None = None
    line_elongation: Part | None = None
    line_elongation_at: Load | None = None


def _as_wide_as_line(width: Length | None, info: ValidationInfo) -> Length | None:
    line = info.data.get("line_diameter")
    if width is not None and line is not None and width.m < line.m:
        raise refusal("drum_width", f"must be at least as wide as line_diameter ({line.written})")
    return width


class Winch(_Device):
    """A hand or powered winch. *line_speed* is at the drum, at the load planned."""

    kind: Literal["winch"]
    drum_diameter: Size | None = None
    drum_width: Annotated[Size | None, AfterValidator(_as_wide_as_line)] = None
    flange_diameter: Size | None = None
    rated_at: RatedAt | None = None
    plate_rates: PlateRates | None = None
    parts: Annotated[int, Field(strict=True, ge=1, le=4)] | None = None
    pulley_efficiency: Number | None = None
    crank_radius: Size | None = None
    gear_ratio: Ratio | None = None
    efficiency: Number | None = None
    handle: Text | None = None


class SelfRetractingLine(_Device):
    """A self-retracting line, with or without a retrieval crank."""

    kind: Literal["self-retracting-line"]
    retrieval: Flag
    retrieval_is_backup_only: Flag | None = None
    arrest_distance: Size | None = None
    arrest_force: Load | None = None
    handle: Text | None = None


class DescribedSheave(Strict):
    """A sheave of a described system: what it hangs on, what it keeps, how far it turns the rope.

    *on* is "load", "anchor NAME", "grab NAME" or "rope NAME" (the haul end of that rope).
    """

    name: Id
    on: Text
    efficiency: Number
    turn: Turn | None = None


class DescribedRope(Strict):
    """A rope from its haul end on: the sheaves and grabs it meets, and what it ends on."""

    name: Id
    path: list[Text] = Field(default_factory=list, max_length=20)
    ends_on: Text


class Gap(Strict):
    """A way that closes during a stroke of a described system.

    *distance* is between the two devices at the start, *closes* how much of it one unit of rise
    takes up.
    """

    distance: Size
    closes: Ratio


class RopeSystem(_Device):
    """Rope and pulleys hauled by people: a usual reeving, or any other, described.

    *reset_distance* runs from the grab to the anchor pulley where the system is reset; without it
    the rope is reeved the whole way. *stage_distances* are the same for each further stage of a
    compound, *pulleys_apart* lies between the two moving pulleys of a complex 5:1.
    """

    kind: Literal["rope-system"]
    reeving: ReevingKind | None = None
    parts: list[Annotated[int, Field(strict=True, ge=1, le=12)]] = Field(
        default_factory=list, max_length=4
    )
    sheave: list[DescribedSheave] = Field(default_factory=list, max_length=20)
    rope: list[DescribedRope] = Field(default_factory=list, max_length=5)
    redirects: Count | None = None
    pulley_efficiency: Number | None = None
    sheaves_are: Literal["pulleys", "carabiners"] | None = None
    pulley_rating: Load | None = None
    grab_slips_at: Load | None = None
    reset_distance: Size | None = None
    stage_distances: list[Size] | None = Field(default=None, max_length=3)
    pulleys_apart: Size | None = None
    gap: list[Gap] = Field(default_factory=list, max_length=6)
    haul_rope_length: Size | None = None


class LoweringDevice(_Device):
    """A device that lets a casualty down."""

    kind: Literal["lowering-device"]


Device = Annotated[
    Winch | SelfRetractingLine | RopeSystem | LoweringDevice,
    Field(discriminator="kind"),
]


class Care(StrEnum):
    """What a piece of equipment lets a first-aider do on the spot."""

    FIRST_AID = "first-aid"
    OXYGEN = "oxygen"
    RESUSCITATION = "resuscitation"
    DEFIBRILLATOR = "defibrillator"
    BLEEDING = "bleeding-control"
    COOLING = "cooling"


class Serves(StrEnum):
    """What a piece of equipment is for, where its kind is words alone."""

    HARNESS = "harness"
    LANYARD = "lanyard"
    LIGHT = "light"
    BARRIER = "barrier"
    LADDER = "ladder"


class Equipment(Inspected):
    """Anything else that the plan needs on the day."""

    id: Annotated[Id, own_id("equipment")]
    kind: Text
    quantity: Count = 1
    serves: list[Serves] = Field(default_factory=list)
    care: list[Care] = Field(default_factory=list)
    goes_inside: Flag | None = None
    width: BodySize | None = None
    depth: BodySize | None = None
    packed: Packed | None = None
    air: AirSupply | None = None
    meter: GasMeter | None = None
