"""How support and device stand at an opening, and every part of the line between them."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.fields import (
    Coordinate,
    Distance,
    Flag,
    Id,
    Load,
    Pause,
    Size,
    Strict,
    Text,
    ThingMass,
    Turn,
    reference,
    refusal,
)
from planbuilder.site.room import BackupStand, Overhead
from planbuilder.site.standing import Stand
from planbuilder.units import Angle


class Attach(StrEnum):
    """Where the line is attached to the casualty."""

    DORSAL = "dorsal"
    FRONT = "front"
    WRISTLETS = "wristlets"


class EdgeMaterial(StrEnum):
    """What the line runs over."""

    CONCRETE = "concrete"
    TIMBER = "timber"
    STEEL = "steel"
    TUBE = "smooth-tube"
    PADDED = "padded"
    ROLLER = "roller"
    MEASURED = "measured"


class Edge(Strict):
    """An edge that the line turns over between casualty and device.

    A measured one states the pulls that just raised and just held the same load over it.
    """

    material: EdgeMaterial
    turn: Turn
    raised_by: Load | None = None
    held_by: Load | None = None


class Link(Strict):
    """A connector, sling or other part between casualty and anchorage.

    *length* and *stiffness* (force for doubling its length) count where it gives in a shock.
    """

    name: Text
    breaking: Load | None = None
    rated_load: Load | None = None
    length: Size | None = None
    stiffness: Load | None = None


class Absorber(Strict):
    """An energy absorber on the casualty's side: the force it runs out at, and how far."""

    force: Load
    travel: Size


class Drag(Strict):
    """A way along the floor to the place of the lift; the slope is up where it rises that way."""

    length: Distance | None = None
    slope: Turn | None = None
    on: Literal["floor", "drag-sheet"] | None = None


class Redirect(Strict):
    """A sheave that turns the line; *angle* is between the two strands."""

    angle: Turn
    rating: Load | None = None


class HaulPosture(StrEnum):
    """How the people on a haul line can stand."""

    STANDING = "standing"
    KNEELING = "kneeling"
    SEATED = "seated"
    REACHING = "arms-outstretched"


def _no_reach_too(value: Angle | None, info: ValidationInfo) -> Angle | None:
    if value is not None and info.data.get("reach") is not None:
        raise refusal("pull_twice", "is for a line from a hitch, which has no arm: leave out reach")
    return value


class Rig(Strict):
    """How support and device stand at this opening.

    *block* is the hook block with the travel left above it, *hook_length* the hook block alone.
    *off_centre* is how far the hook, let down, misses the centre of the opening,
    *swing_clear_to* how far from the mast nothing stands where the boom turns,
    *plumb_at* where the line hangs in the shaft, from its centre, *stands_towards* the direction in
    the layout from the centre of the opening to the mast, or of the first axis of a tripod's feet.
    *pull_elevation* is for a vehicle that anchors the line of a head elsewhere: how steeply the
    line leaves its hitch, straight behind it, above the ground plane.
    """

    support: Annotated[Id, reference("support")]
    device: Annotated[Id, reference("device")]
    backup: Annotated[Id, reference("device")] | None = None
    backup_support: Annotated[Id, reference("support")] | None = None
    backup_stand: BackupStand = BackupStand()
    hook_height: Size | None = None
    top_height: Size | None = None
    reach: Distance | None = None
    swing_from: Turn | None = None
    swing_to: Turn | None = None
    block: Distance | None = None
    hook_length: Distance | None = None
    connector: Distance | None = None
    sling: Distance | None = None
    head_to_drum: Distance | None = None
    attachment: Attach | None = None
    connectors_compatible: Flag | None = None
    line_worn: Flag | None = None
    made_off_outside: Flag | None = None
    lines_apart: Text | None = None
    wristlets_because: Literal["harness-not-feasible", "harness-adds-danger"] | None = None
    wristlets_decided_by: Text | None = None
    way_clear: Flag | None = None
    edges: list[Edge] | None = Field(default=None, max_length=20)
    stretcher_mass: ThingMass | None = None
    rides_along: Annotated[Id, reference("person")] | None = None
    stand: Stand = Stand()
    link: list[Link] = Field(default_factory=list)
    redirect: list[Redirect] = Field(default_factory=list)
    line_lean: Turn | None = None
    lead_distance: Distance | None = None
    pull_elevation: Annotated[Turn | None, AfterValidator(_no_reach_too)] = None
    winch_on_leg: Flag | None = None
    foot_levels: list[Coordinate] | None = Field(default=None, min_length=3, max_length=3)
    walkway: Distance | None = None
    haul_posture: HaulPosture | None = None
    slack: Distance | None = None
    absorber: Absorber | None = None
    anchor_to_edge: Distance | None = None
    haul_run: Distance | None = None
    edge_lift: Distance | None = None
    edge_time: Pause | None = None
    drag: Drag | None = None
    overhead: Overhead | None = None
    off_centre: Distance | None = None
    stands_towards: Turn | None = None
    swing_clear_to: Distance | None = None
    plumb_at: tuple[Coordinate, Coordinate] | None = None
    tag_line: Flag | None = None
