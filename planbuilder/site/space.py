"""A space or height position of a site file: opening, shape, hazards, task, rescue."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from planbuilder.site.atmosphere import Flammable, InsideShape, Monitoring, Release, Ventilation
from planbuilder.site.briefing import Briefing
from planbuilder.site.column import EntrantLine, Hose, Ladder
from planbuilder.site.communication import Communication
from planbuilder.site.fall import Fall
from planbuilder.site.fields import (
    Bearing,
    Cubic,
    Day,
    Distance,
    Flag,
    Id,
    Part,
    Prose,
    Size,
    Strict,
    Text,
    Time,
    Volts,
    not_before,
    own_id,
    reference,
)
from planbuilder.site.hazard import Hazard
from planbuilder.site.isolation import EnergyBan, Isolation
from planbuilder.site.layout import Layout
from planbuilder.site.opening import Bend, Opening
from planbuilder.site.outside import OtherWork, Trigger, WorkKind
from planbuilder.site.permit import Permit
from planbuilder.site.readings import Reading
from planbuilder.site.rescue import Rescue
from planbuilder.site.room import Landing, Obstruction
from planbuilder.site.scenario import Scenario
from planbuilder.site.shifts import Hours
from planbuilder.site.surroundings import Nearby, PowerLine, Traffic
from planbuilder.site.travel import Calling, Cover, Segment


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
