"""People, employers, rescue services and drills of a site file."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from planbuilder.site.evaluation import Answers, Practised
from planbuilder.site.fields import (
    BodyMass,
    BodySize,
    Day,
    Distance,
    Flag,
    Id,
    Prose,
    Size,
    Stature,
    Strict,
    Text,
    Time,
    not_before,
    own_id,
    reference,
)
from planbuilder.site.shifts import OnShift
from planbuilder.site.travel import Journey


class CertificateKind(StrEnum):
    """What a certificate or record says that a person may do."""

    FIRST_AID = "first-aid"
    CPR = "cpr"
    ENTRANT = "entrant"
    ATTENDANT = "attendant"
    RESCUER = "rescuer"
    REFRESHER = "refresher"
    SUPERVISOR = "entry-supervisor"
    FIT_TEST = "fit-test"
    MEDICAL = "medical"
    ROPE = "rope"


class EmployerRole(StrEnum):
    """The part that an employer plays on the site."""

    HOST = "host"
    CONTRACTOR = "contractor"
    CONTROLLING = "controlling-contractor"


class ServiceKind(StrEnum):
    """Who a rescue service belongs to."""

    SITE_TEAM = "site-team"
    CONTRACT_TEAM = "contract-team"
    PUBLIC = "public"


class Capability(StrEnum):
    """What a service has confirmed in writing: that it is equipped and in practice for it."""

    CONFINED_SPACE = "confined-space"
    HEIGHT = "height"


class Certificate(Strict):
    """A certificate, fit test or medical of one person.

    A fit test is *fitted_to* the masks of the equipment that it was made with.
    """

    kind: CertificateKind
    issued: Day
    expires: Annotated[Day, AfterValidator(not_before("issued"))]
    fitted_to: list[Annotated[Id, reference("equipment")]] = Field(default_factory=list)


class Person(OnShift):
    """Somebody the plan counts on. Body sizes are measured over working clothes if at all."""

    id: Annotated[Id, own_id("person")]
    name: Text
    employer: Annotated[Id, reference("employer")] | None = None
    phone: Text | None = None
    mass: BodyMass | None = None
    stature: Stature | None = None
    shoulder_breadth: BodySize | None = None
    body_depth: BodySize | None = None
    bone_breadth: BodySize | None = None
    hip_breadth: BodySize | None = None
    certificate: list[Certificate] = Field(default_factory=list)


class Employer(Strict):
    """An employer with people or duties on the site.

    *rescues* is the employer or service that it takes to be the rescuer.
    """

    id: Annotated[Id, own_id("employer")]
    name: Text
    role: EmployerRole
    contact: Text
    phone: Text
    rescues: Annotated[Id, reference("employer", "service")] | None = None


class Service(Journey):
    """A rescue service and the record that it was asked, evaluated and shown the space.

    *channel* is where it is called besides the phone; *verified_on* is when its number was tried.
    """

    id: Annotated[Id, own_id("service")]
    name: Text
    kind: ServiceKind
    phone: Text
    channel: Text | None = None
    verified_on: Day | None = None
    based_at: Text | None = None
    agreed_on: Day | None = None
    agreed_by: Text | None = None
    agreed_in_writing: Flag | None = None
    evaluated_on: Day | None = None
    evaluated_by: Text | None = None
    shown_spaces_on: Day | None = None
    told_hazards_on: Day | None = None
    reports_unavailability: Flag | None = None
    called_each_shift: Flag | None = None
    capable_of: list[Capability] = Field(default_factory=list)
    confirmed_on: Day | None = None
    answer: Answers = Field(default_factory=list, max_length=20)
    practised: Practised | None = None
    notes: Prose | None = None


class DrillStep(Strict):
    """How long one step of the plan took in a drill."""

    id: Id
    took: Time


class Drill(Strict):
    """A practice rescue: where, how, how long it took, what was learned.

    *took* runs from the alarm, since nobody waits to be noticed in a drill, to what was *reached*.
    A drill that was not *passed* was broken off, or went wrong: it would have taken longer.
    *opening*, *depth*, *from_side*, *above_ground* (of the opening), *obstructed* and *sets_worn*
    say how hard the place was where it is no space of the site. A *real_rescue* was no drill.
    """

    id: Annotated[Id, own_id("drill")]
    on: Day
    space: list[Annotated[Id, reference("space")]]
    method: Text
    way: Literal["primary", "fallback"] = "primary"
    passed: Flag
    took: Time | None = None
    reached: Literal["air", "out", "handed-over"] | None = None
    step: list[DrillStep] = Field(default_factory=list, max_length=50)
    held_in: Annotated[Id, reference("space")] | None = None
    opening: Size | None = None
    depth: Distance | None = None
    sets_worn: Flag | None = None
    from_side: Flag | None = None
    above_ground: Distance | None = None
    obstructed: Flag | None = None
    real_rescue: Flag = False
    real_conditions: Flag = True
    people: list[Annotated[Id, reference("person")]] = Field(default_factory=list)
    notes: Prose | None = None
