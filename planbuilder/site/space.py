"""A space or height position of a site file: opening, shape, hazards, task, rescue."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.air import MethodAir
from planbuilder.site.atmosphere import (
    Flammable,
    InsideShape,
    Monitoring,
    Release,
    Ventilation,
)
from planbuilder.site.briefing import Briefing
from planbuilder.site.column import EntrantLine, Hose, Ladder
from planbuilder.site.communication import Communication
from planbuilder.site.fall import Fall
from planbuilder.site.fields import (
    Bearing,
    BodyMass,
    Coordinate,
    Count,
    Cubic,
    Day,
    Distance,
    Flag,
    Id,
    Load,
    Part,
    Pause,
    Prose,
    Size,
    Stress,
    Strict,
    Text,
    ThingMass,
    Time,
    Turn,
    Volts,
    Warmth,
    not_before,
    own_id,
    reference,
    refusal,
)
from planbuilder.site.isolation import EnergyBan, Isolation
from planbuilder.site.layout import Layout
from planbuilder.site.opening import Bend, Opening
from planbuilder.site.outside import OtherWork, Trigger, WorkKind
from planbuilder.site.permit import Permit
from planbuilder.site.readings import Reading
from planbuilder.site.room import BackupStand, Landing, Obstruction, Overhead
from planbuilder.site.shifts import Hours
from planbuilder.site.surroundings import Nearby, PowerLine, Traffic
from planbuilder.site.travel import Calling, Cover, Segment
from planbuilder.units import Angle, Duration


class HazardKind(StrEnum):
    """What can hurt the people inside, or stop them from helping themselves."""

    OXYGEN = "oxygen-deficiency"
    INERT_GAS = "inert-gas"
    HYDROGEN_SULFIDE = "hydrogen-sulfide"
    CARBON_MONOXIDE = "carbon-monoxide"
    FLAMMABLE = "flammable-gas"
    DUST = "combustible-dust"
    OTHER_TOXIC = "other-toxic-gas"
    DROWNING = "drowning"
    ENGULFMENT = "engulfment"
    WEDGED = "wedged"
    BLEEDING = "major-bleeding"
    COLLAPSE = "medical-collapse"
    SUSPENSION = "suspension"
    HEAT = "heat"
    COLD_WATER = "cold-water"
    MECHANICAL = "mechanical-injury"


class MethodKind(StrEnum):
    """How the casualty gets out."""

    SELF = "self"
    ASSISTED_SELF = "assisted-self"
    NON_ENTRY = "non-entry"
    ENTRY = "entry"


class Posture(StrEnum):
    """Where the rescuers wait, readiest first."""

    STANDBY = "standby"
    ON_SITE = "available-on-site"
    OFF_SITE = "available-off-site"
    NOTIFIED = "notified-only"


class CrewRole(StrEnum):
    """What somebody does during the rescue."""

    LEADER = "leader"
    HAUL = "haul"
    ENTRY = "entry-rescuer"
    BACK_UP = "back-up"
    MEDIC = "medic"
    CALLER = "caller"


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


class NoRetrieval(StrEnum):
    """The two reasons for which retrieval from outside may be left out."""

    RAISES_RISK = "raises-overall-risk"
    NO_USE = "would-not-contribute"


class Shape(Strict):
    """The inside of the space.

    *depth* is from the walking surface at the rim, or from the sill, down to the floor: the way of
    the line. *inside_height* is from the floor to the roof, the same over the whole outline; it
    may be far more. *volume* is that of the air. *obstructed* says that things stand in the way of
    a casualty, whether or not they are listed under obstruction.
    """

    depth: Size | None = None
    inside_height: Size | None = None
    inside_width: Size | None = None
    inside_length: Size | None = None
    inside_is: InsideShape | None = None
    obstructed: Flag | None = None
    volume: Cubic | None = None
    liquid_depth: Distance | None = None


class Suspended(StrEnum):
    """The state of somebody who hangs in a harness, as planned for."""

    MOVING_LEGS = "moving-legs"
    MOTIONLESS = "motionless"
    UNRESPONSIVE = "unresponsive"


class Hazard(Strict):
    """One hazard, its worst level where it is a gas, and what is done about it.

    *substance*, *limit* and *set_point* are those of a toxic gas that has no kind of its own.
    *not_isolated_because*: why nothing has to be isolated against a hazard that usually asks it;
    *not_ventilated_because*: why no fan is relied on against a gas.
    """

    kind: HazardKind
    level: Part | None = None
    substance: Text | None = None
    limit: Part | None = None
    set_point: Part | None = None
    sheet: Text | None = None
    tell_hospital: Text | None = None
    water_temperature: Warmth | None = None
    suspended: Suspended | None = None
    not_isolated_because: Text | None = None
    not_ventilated_because: Text | None = None
    eliminated: Flag | None = None
    control: Text


class ScenarioKind(StrEnum):
    """What can happen to whoever is inside."""

    UNRESPONSIVE = "unresponsive"
    INJURED = "injured"
    TRAPPED = "trapped"
    SUSPENDED = "suspended"
    ENGULFED = "engulfed"
    FIRE = "fire"
    MEDICAL = "medical"


class Answering(StrEnum):
    """What answers a scenario: a way of the rescue, or the casualty alone."""

    PRIMARY = "primary"
    FALLBACK = "fallback"
    SELF = "self"


class Scenario(Strict):
    """Something that can happen here, what hazards it stands for, and what answers it.

    *then* answers it if the first answer fails. *can_help*: the casualty is able to act. *reach*,
    *legs* and *kit_here* are for somebody who hangs in a harness: how that person is got at, what
    takes the load off the legs meanwhile, and whether all that hangs ready at the position.
    """

    what: ScenarioKind
    hazards: list[HazardKind] = Field(default_factory=list, max_length=20)
    answer: Answering | None = None
    then: Answering | None = None
    can_help: Flag | None = None
    describe: Prose | None = None
    reach: Text | None = None
    legs: Text | None = None
    kit_here: Flag | None = None


class SetPoints(Strict):
    """Readings at which everybody leaves."""

    oxygen_low: Part | None = None
    oxygen_high: Part | None = None
    flammable: Part | None = None
    hydrogen_sulfide: Part | None = None
    carbon_monoxide: Part | None = None


class Contact(Calling):
    """How the attendant knows that somebody is in trouble."""

    means: Text
    continuous: Flag = False
    check_interval: Time | None = None


class WorkTask(Hours):
    """What is done inside, and when. All entrants breathe from *air_line* all the time.

    *live_voltage* is that of live parts near which people work.
    *work* is what rule sets call it; *permit_for* is how long one entry permit is good for.
    """

    what: Text
    work: list[WorkKind] | None = Field(default=None, min_length=1, max_length=8)
    permit_for: Time | None = None
    start: Day
    finish: Annotated[Day | None, AfterValidator(not_before("start"))] = None
    inside_at_once: Annotated[int, Field(strict=True, ge=1, le=1000)] | None = None
    longest_stay: Time | None = None
    air_line: Annotated[Id, reference("equipment")] | None = None
    escape_set: Annotated[Id, reference("equipment")] | None = None
    live_voltage: Volts | None = None


class Edge(Strict):
    """An edge that the line turns over between casualty and device.

    A measured one states the pulls that just raised and just held the same load over it.
    """

    material: EdgeMaterial
    turn: Turn
    raised_by: Load | None = None
    held_by: Load | None = None


class Ground(StrEnum):
    """What a base or a vehicle stands on."""

    ROCK = "rock"
    SEDIMENTARY_ROCK = "sedimentary-rock"
    GRAVEL = "gravel"
    SAND = "sand"
    CLAY = "clay"
    SOFT = "soft-or-filled"
    CONCRETE = "concrete-slab"


class Surface(StrEnum):
    """What the wheels of a vehicle stand on."""

    DRY_CONCRETE = "dry-concrete"
    DRY_ASPHALT = "dry-asphalt"
    WET_CONCRETE = "wet-concrete"
    WET_ASPHALT = "wet-asphalt"
    GRAVEL = "gravel"
    WET_GRASS = "wet-grass"
    SNOW = "snow"
    ICE = "ice"


class WallKind(StrEnum):
    """What a clamp or a bracket holds on to."""

    SOLID_CONCRETE = "solid-concrete"
    SHORING_PANEL = "shoring-panel"
    STEEL = "steel"
    SOLID_MASONRY = "solid-masonry"
    PARAPET = "parapet"
    HOLLOW = "hollow-or-veneer"
    CORRODED = "corroded-or-cracked"


class Stand(Strict):
    """What the support stands on or holds on to at this place."""

    ground: Ground | None = None
    surface: Surface | None = None
    slope: Turn | None = None
    slope_towards: Turn | None = None
    edge_distance: Distance | None = None
    wall: WallKind | None = None
    wall_thickness: Size | None = None
    wall_height: Size | None = None
    height: Size | None = None
    people_on_post: Count | None = None
    ledge_width: Size | None = None
    ledge_stress: Stress | None = None


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


class Crew(Strict):
    """One person in one rescue role."""

    person: Annotated[Id, reference("person")]
    role: CrewRole


def _not_quicker_than_usual(value: Duration | None, info: ValidationInfo) -> Duration | None:
    usual = info.data.get("usual")
    if value is not None and usual is not None and value.s < usual.s:
        raise refusal("slow_first", f"must not be shorter than usual ({usual.written})")
    return value


def _not_longer_than_usual(value: Duration | None, info: ValidationInfo) -> Duration | None:
    usual = info.data.get("usual")
    if value is not None and usual is not None and value.s > usual.s:
        raise refusal("best_last", f"must not be longer than usual ({usual.written})")
    return value


def _with_best(value: Duration | None, info: ValidationInfo) -> Duration | None:
    if value is not None and info.data.get("best") is None:
        raise refusal("worst_alone", "needs best as well: best, usual and worst go together")
    if value is not None and info.data.get("one_in_ten") is not None:
        raise refusal("two_spreads", "must be left out where one_in_ten is given, or that here")
    return _not_quicker_than_usual(value, info)


def _not_stated_as_well(value: str | None, info: ValidationInfo) -> str | None:
    if value is not None and info.data.get("usual") is not None:
        raise refusal("computed_and_stated", "must be left out where usual is given, or usual here")
    return value


class Step(Strict):
    """One task of the rescue timeline. Detection, haul, ways and journeys may be computed.

    Its spread is *one_in_ten*, the time that is reached or exceeded one time in ten, or *best* and
    *worst*. *by* are the people whom it keeps busy, *uses* what they need in their hands
    for it; *service* is who comes from outside in it.
    """

    id: Id
    what: Text
    after: list[Id] = Field(default_factory=list)
    usual: Time | None = None
    one_in_ten: Annotated[Time | None, AfterValidator(_not_quicker_than_usual)] = None
    best: Annotated[Time | None, AfterValidator(_not_longer_than_usual)] = None
    worst: Annotated[Time | None, AfterValidator(_with_best)] = None
    computed: Annotated[
        Literal["detection", "haul", "off-site", "route-in", "route-out"] | None,
        AfterValidator(_not_stated_as_well),
    ] = None
    source: Literal["drill", "published", "estimate", "tool"] = "estimate"
    grade: Literal["A", "B", "C", "D"] | None = None
    drilled_on: Day | None = None
    who: Text | None = None
    by: list[Annotated[Id, reference("person")]] = Field(default_factory=list, max_length=20)
    role: CrewRole | None = None
    uses: list[Annotated[Id, reference("equipment", "device", "support")]] = Field(
        default_factory=list, max_length=20
    )
    service: Annotated[Id, reference("service")] | None = None
    reaches: Literal["contact", "air", "out", "handed-over"] | None = None
    quoted_as: Literal["target", "record"] | None = None
    on_air: Literal["in", "work", "out"] | None = None


class Method(Strict):
    """One way of getting the casualty out, with its people, rig and timeline.

    *masked_at_opening*: while anybody is inside, the rescuers wait at the opening in their sets
    with face pieces on. *people_needed* is how many helpers outside it says it needs.
    """

    method: MethodKind
    posture: Posture
    describe: Prose
    service: Annotated[Id, reference("service")] | None = None
    free_first: Prose | None = None
    if_it_stops: Text | None = None
    no_retrieval_because: NoRetrieval | None = None
    no_retrieval_decided_by: Text | None = None
    breathing_set: Annotated[Id, reference("equipment")] | None = None
    stretcher: Annotated[Id, reference("equipment")] | None = None
    masked_at_opening: Flag | None = None
    people_needed: Count | None = None
    air: MethodAir = MethodAir()
    crew: list[Crew] = Field(default_factory=list)
    rig: Rig | None = None
    steps_from: Literal["usual"] | None = None
    step: list[Step] = Field(default_factory=list)


class SurveyGroup(StrEnum):
    """A group of a body-mass survey that is shipped with the tool."""

    NHANES_MEN = "nhanes-men"
    NHANES_WOMEN = "nhanes-women"
    NHANES_ALL = "nhanes-all"
    ANSUR_MEN = "ansur-men"
    ANSUR_WOMEN = "ansur-women"


class Survey(Strict):
    """A casualty by percentile, for a roster that is not weighed or not known."""

    group: SurveyGroup
    percentile: Annotated[float, Field(strict=True, ge=5, le=99)]


class Special(StrEnum):
    """What no figure of this tool covers: a competent person sets the limit."""

    UNKNOWN_CONTAMINANT = "unknown-contaminant"
    MEDICAL_CONDITION = "known-medical-condition"
    HYPERBARIC = "raised-pressure"
    RADIATION = "radiation"
    PUBLIC = "public-or-children"


class Rescue(Strict):
    """The rescue arrangement of one space.

    *help_confirmed_by* finds out before each entry, *help_confirmed_how*, that help can come if
    retrieval fails.
    """

    casualty_mass: BodyMass | None = None
    casualty_survey: Survey | None = None
    air_limit: Time | None = None
    limit_because: Text | None = None
    special: list[Special] = Field(default_factory=list)
    lay_flat_at: Text | None = None
    limit_accepted_by: Text | None = None
    limit_accepted_on: Day | None = None
    second_casualty: Text | None = None
    help_confirmed_by: Annotated[Id, reference("person")] | None = None
    help_confirmed_how: Text | None = None
    primary: Method
    fallback: Method | None = None


class Space(Strict):
    """A space to enter, or a height position, which has no opening and no air of its own.

    *roster* is where it is written down who is inside, *several_spaces* the written procedure for
    an attendant who watches another one at the same time, *supervisor* the entry supervisor,
    *aid_reach* how long a first-aider with the kit takes to the casualty.
    *assessed_by* and *assessed_on* say who decided on its hazards, class and entry route, and when;
    *changed_on* when it was last altered. An empty *other_work* says that there is none.
    *lies_off* is how far from under the centre of the opening a casualty may lie.
    """

    id: Annotated[Id, own_id("space")]
    name: Text
    sign: Text
    entry_route: Text
    where: Text
    attendant: list[Annotated[Id, reference("person")]] = Field(default_factory=list)
    relief_attendant: Annotated[Id, reference("person")] | None = None
    several_spaces: Text | None = None
    supervisor: Annotated[Id, reference("person")] | None = None
    deputy_leader: Annotated[Id, reference("person")] | None = None
    roster: Text | None = None
    aid_reach: Time | None = None
    briefing: list[Briefing] = Field(default_factory=list, max_length=50)
    entrants: list[Annotated[Id, reference("person")]] = Field(min_length=1)
    kind: Literal["confined-space", "height-position"] = "confined-space"
    opening: Opening = Opening()
    changed_on: Day | None = None
    shape: Shape = Shape()
    bend: list[Bend] = Field(default_factory=list, max_length=20)
    hazard: list[Hazard] = Field(min_length=1)
    scenario: list[Scenario] = Field(default_factory=list, max_length=20)
    set_points: SetPoints = SetPoints()
    ventilation: Ventilation | None = None
    release: list[Release] = Field(default_factory=list, max_length=10)
    flammable: Flammable | None = None
    pipes_in: list[Text] = Field(default_factory=list, max_length=40)
    isolation: list[Isolation] = Field(default_factory=list, max_length=60)
    energy_ban: EnergyBan = EnergyBan()
    monitoring: Monitoring | None = None
    reading: list[Reading] = Field(default_factory=list, max_length=200)
    contact: Contact
    communication: list[Communication] = Field(default_factory=list, max_length=12)
    task: WorkTask
    permit: Permit = Permit()
    rescue: Rescue
    fall: Fall | None = None
    route: list[Segment] = Field(default_factory=list, max_length=30)
    linked_to: list[Annotated[Id, reference("space")]] | None = Field(default=None, max_length=50)
    cover: Cover = Cover()
    landing: Landing | None = None
    layout: Layout = Layout()
    obstruction: list[Obstruction] = Field(default_factory=list, max_length=30)
    lies_off: Distance | None = None
    ladder: Ladder | None = None
    hose: list[Hose] = Field(default_factory=list, max_length=10)
    entrant_line: list[EntrantLine] = Field(default_factory=list, max_length=20)
    cautions: Prose | None = None
    power_line: list[PowerLine] = Field(default_factory=list, max_length=20)
    traffic: Traffic | None = None
    nearby: list[Nearby] = Field(default_factory=list, max_length=20)
    wind_from: Bearing | None = None
    assessed_by: Text | None = None
    assessed_on: Day | None = None
    trigger: list[Trigger] = Field(default_factory=list, max_length=6)
    other_work: list[OtherWork] | None = Field(default=None, max_length=20)

    @property
    def is_confined(self) -> bool:
        """True for a space with an opening and an atmosphere of its own."""
        return self.kind == "confined-space"
