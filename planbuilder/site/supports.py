"""Supports of a site file: what holds the line over the casualty, each kind with its own facts.

Marked ratings are inputs, never outputs. *rated_load* is for one line; *two_line_load* is what the
head takes from two lines together; *arrest_load* is what it takes from a caught fall. *wind_limit*
is the wind that it is marked for.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.fields import (
    Coordinate,
    Count,
    Day,
    Distance,
    Flag,
    Id,
    Load,
    Number,
    RoadSpeed,
    Size,
    Stiffness,
    Stress,
    Strict,
    Text,
    ThingMass,
    Turn,
    own_id,
    reference,
    refusal,
)
from planbuilder.site.periods import Interval
from planbuilder.units import Length


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


# A portable base could tip as the mast turns, so its reach ends at its edge; what is fixed to a
# floor, wall or structure has no such limit.
PORTABLE = frozenset(
    (SupportKind.TRIPOD, SupportKind.LEGGED_BASE_DAVIT, SupportKind.OPENING_COLLAR)
)


class Basis(StrEnum):
    """What the capacity of a support rests on."""

    MARKED = "marked-rating"
    QUALIFIED_PERSON = "qualified-person"
    JUDGED = "structure-judged"


class Braked(StrEnum):
    """Which wheels of a vehicle hold it."""

    ALL = "all-wheels"
    REAR = "rear-axle"


class Inspected(Strict):
    """Anything with an identity, an inspection date and an interval.

    *at_opening*: it lies ready at the opening while anybody is inside; else *fetched_by* says who
    brings it. *examined* is the last thorough examination, by somebody independent of its users.
    """

    name: Text
    serial: Text | None = None
    kept_at: Text | None = None
    at_opening: Flag | None = None
    fetched_by: Annotated[Id, reference("person")] | None = None
    inspected: Day | None = None
    inspection_interval: Interval | None = None
    examined: Day | None = None
    examined_by: Text | None = None
    condition: Literal["good", "has-held-a-fall"] | None = None
    cleared_by: Text | None = None
    cleared_on: Day | None = None


class _Support(Inspected):
    id: Annotated[Id, own_id("support")]
    rated_load: Load | None = None
    two_line_load: Load | None = None
    arrest_load: Load | None = None
    rated_reach: Size | None = None
    rated_people: Count | None = None
    wind_limit: RoadSpeed | None = None
    for_people: Flag | None = None
    lines: Count | None = None
    also_suspends: Literal["nothing", "people", "platform"] | None = None
    separate_pins: Flag | None = None
    basis: Basis | None = None
    judged_by: Text | None = None


class Ballast(Strict):
    """A weight fixed to a base; people and loose things never count."""

    mass: ThingMass
    at: tuple[Coordinate, Coordinate]
    fixed: Flag


class Tripod(_Support):
    """Three legs over the opening."""

    kind: Literal[SupportKind.TRIPOD]
    feet: list[tuple[Coordinate, Coordinate]] | None = Field(
        default=None, min_length=3, max_length=3
    )
    leg_length: Size | None = None
    foot_radius: Size | None = None
    pad_width: Size | None = None
    chain: Flag | None = None
    foot_friction: Number | None = None
    leg_rating: Load | None = None
    chain_rating: Load | None = None
    leg_tube: Size | None = None
    leg_wall: Size | None = None
    leg_elasticity: Stress | None = None


class LeggedBaseDavit(_Support):
    """A mast with a boom on a portable base with legs."""

    kind: Literal[SupportKind.LEGGED_BASE_DAVIT]
    feet: list[tuple[Coordinate, Coordinate]] | None = Field(default=None, min_length=3)
    base_mass: ThingMass | None = None
    base_centre: tuple[Coordinate, Coordinate] | None = None
    mast_mass: ThingMass | None = None
    boom_mass: ThingMass | None = None
    ballast: list[Ballast] = Field(default_factory=list)
    pad_width: Size | None = None
    pad_length: Size | None = None
    socket_depth: Size | None = None
    socket_rating: Load | None = None
    mast_tube: Size | None = None
    mast_wall: Size | None = None
    mast_stress: Stress | None = None


class WallClampSleeve(_Support):
    """A sleeve clamped over a shoring wall, a parapet or a can edge."""

    kind: Literal[SupportKind.WALL_CLAMP_SLEEVE]
    grip_least: Distance | None = None
    grip_most: Size | None = None
    face_spacing: Size | None = None
    face_rating: Load | None = None
    clamp_mass: ThingMass | None = None
    clamp_offset: Distance | None = None
    seated: Flag | None = None
    grip_force: Load | None = None
    face_friction: Number | None = None


class FloorSleeve(_Support):
    """A sleeve on a plate bolted to a floor."""

    kind: Literal[SupportKind.FLOOR_SLEEVE]
    bolts: list[tuple[Coordinate, Coordinate]] | None = Field(default=None, min_length=3)
    toe: Size | None = None
    bolt_tension: Load | None = None
    bolt_shear: Load | None = None
    embedment: Size | None = None
    concrete_strength: Stress | None = None


class WallSleeve(_Support):
    """A sleeve held by two brackets on a wall."""

    kind: Literal[SupportKind.WALL_SLEEVE]
    bracket_spacing: Size | None = None
    bolts_per_bracket: Count | None = None
    bolt_tension: Load | None = None
    bolt_shear: Load | None = None
    embedment: Size | None = None
    concrete_strength: Stress | None = None
    sleeve_mass: ThingMass | None = None
    sleeve_offset: Distance | None = None


class OpeningCollar(_Support):
    """A ring seated in the opening that carries a mast."""

    kind: Literal[SupportKind.OPENING_COLLAR]
    fits_least: Size | None = None
    fits_most: Size | None = None
    ring_radius: Size | None = None
    collar_mass: ThingMass | None = None
    neck_depth: Size | None = None
    neck_rating: Load | None = None


class VehicleReceiver(_Support):
    """The hitch receiver of a vehicle, with a mast in it or as an anchor for a line."""

    kind: Literal[SupportKind.VEHICLE_RECEIVER]
    vehicle_mass: ThingMass | None = None
    wheelbase: Size | None = None
    centre_ahead: Size | None = None
    centre_height: Size | None = None
    hitch_height: Size | None = None
    hitch_behind: Distance | None = None
    hitch_rating: Load | None = None
    braked: Braked | None = None
    chocked: Flag | None = None
    engine_off: Flag | None = None
    levels_to: Turn | None = None


class PlatformPost(_Support):
    """A post on a plate of a platform; its strength falls with height."""

    kind: Literal[SupportKind.PLATFORM_POST]
    rated_height: Size | None = None
    people_limit: Count | None = None
    slope_limit: Turn | None = None
    extension: Size | None = None


class PostDavitArm(_Support):
    """An arm clamped to a platform post, to lower or swing a casualty over the edge."""

    kind: Literal[SupportKind.POST_DAVIT_ARM]
    post: Annotated[Id, reference("support")]
    reach_limit: Size | None = None
    height_limit: Size | None = None


def _no_length_too(value: Length | None, info: ValidationInfo) -> Length | None:
    if value is not None and info.data.get("slack_length") is not None:
        raise refusal("line_twice", "says the length too: leave out slack_length, or sag")
    return value


class HorizontalLifeline(_Support):
    """A line between two anchors, used as an overhead anchor.

    *sag* is how far it hangs in the middle by its own weight, the other way of telling its length.
    *end_rating* is what each end, *line_breaking* what the line holds; *users* how many it is
    designed for.
    """

    kind: Literal[SupportKind.HORIZONTAL_LIFELINE]
    span: Size | None = None
    slack_length: Size | None = None
    sag: Annotated[Size | None, AfterValidator(_no_length_too)] = None
    stiffness: Stiffness | None = None
    line_mass: ThingMass | None = None
    end_rating: Load | None = None
    line_breaking: Load | None = None
    users: Count | None = None


class Joint(StrEnum):
    """How the legs of a sling meet."""

    FIXED = "fixed"
    SLIDING = "sliding"


class SlingLeg(Strict):
    """A leg of a sling. *lean* is from the plumb line under the joint, to one side with a minus.

    *towards* is only for legs that do not lie in one plane. *stiffness* is E A, as of a line;
    *stopped_at* is the part of the leg that a sliding connector can run over.
    """

    lean: Turn
    towards: Turn | None = None
    length: Size | None = None
    stiffness: Load | None = None
    stopped_at: Distance | None = None


def _no_angle_too(value: list[SlingLeg], info: ValidationInfo) -> list[SlingLeg]:
    if value and info.data.get("sling_angle") is not None:
        raise refusal("sling_twice", "says the angle too: leave out sling_angle, or the legs")
    return value


class Structure(_Support):
    """A beam, a frame or another structure, with or without a sling on it."""

    kind: Literal[SupportKind.STRUCTURE]
    sling_angle: Turn | None = None
    leg_rating: Load | None = None
    leg: Annotated[
        list[SlingLeg], Field(min_length=2, max_length=6), AfterValidator(_no_angle_too)
    ] = Field(default_factory=list)
    joint: Joint | None = None
    joint_friction: Number | None = None
    pull_swings: Flag | None = None


Support = Annotated[
    Tripod
    | LeggedBaseDavit
    | WallClampSleeve
    | FloorSleeve
    | WallSleeve
    | OpeningCollar
    | VehicleReceiver
    | PlatformPost
    | PostDavitArm
    | HorizontalLifeline
    | Structure,
    Field(discriminator="kind"),
]
