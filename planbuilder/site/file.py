"""The whole site file."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from planbuilder.site.after_event import AfterEvent
from planbuilder.site.equipment import Device, Equipment
from planbuilder.site.exchange import Debrief, Exchange
from planbuilder.site.fields import (
    Altitude,
    Day,
    Id,
    Latitude,
    Longitude,
    Prose,
    Strict,
    Text,
    not_before,
    reference,
)
from planbuilder.site.people import Drill, Employer, Person, Service
from planbuilder.site.space import Space
from planbuilder.site.supports import Support
from planbuilder.site.surroundings import PowerLine


class UnitSystem(StrEnum):
    """The units that the reader thinks in; the other system is printed behind."""

    US = "us"
    SI = "si"


class Paper(StrEnum):
    """Paper of the printed plan."""

    A4 = "a4"
    LETTER = "letter"


class Revision(Strict):
    """One line of the plan's history."""

    revision: Text
    on: Day
    change: Text


class PlanFacts(Strict):
    """Number, revision, dates and rule set of the plan."""

    number: Text
    revision: Text
    title: Text
    author: Text
    approver: Text
    issued: Day
    valid_until: Annotated[Day, AfterValidator(not_before("issued"))]
    profile: Text
    overlays: list[Text] = Field(default_factory=list, max_length=8)
    units: UnitSystem | None = None
    paper: Paper | None = None
    supersedes: Text | None = None
    competent_person: Text
    competent_person_phone: Text
    inspection_records: Text | None = None
    programme_reviewed_on: Day | None = None
    history: list[Revision] = Field(default_factory=list)


class SiteFacts(Strict):
    """Where the site is and how to get a stranger to it.

    *verified_on* is when the emergency number was tried, by the means in the plan, or confirmed.
    *coordinates* are latitude and longitude in degrees, north and east positive; *coordinator*
    is who keeps the work of several employers apart.
    """

    name: Text
    operator: Text
    address: Text
    country: Text
    region: Text | None = None
    position: Text | None = None
    coordinates: tuple[Latitude, Longitude] | None = None
    muster: Text | None = None
    altitude: Altitude | None = None
    gate: Text
    directions: Prose
    escort: Annotated[Id, reference("person")] | None = None
    coordinator: Annotated[Id, reference("person")] | None = None
    emergency_number: Text
    verified_on: Day | None = None
    call_back: Text
    hospital: Text | None = None
    landing_place: Text | None = None
    overhead: Prose | None = None
    power_line: list[PowerLine] = Field(default_factory=list, max_length=20)
    traffic: Prose | None = None


class Override(Strict):
    """A default changed, or a warning accepted, by a named person with a reason."""

    what: Text
    value: Text | None = None
    space: Annotated[Id, reference("space")] | None = None
    reason: Text
    by: Text
    on: Day


class Site(Strict):
    """Everything one site file says."""

    plan: PlanFacts
    site: SiteFacts
    person: list[Person] = Field(min_length=1)
    employer: list[Employer] = Field(default_factory=list)
    exchange: list[Exchange] = Field(default_factory=list, max_length=50)
    debrief: Debrief | None = None
    support: list[Support] = Field(default_factory=list)
    device: list[Device] = Field(default_factory=list)
    equipment: list[Equipment] = Field(default_factory=list)
    service: list[Service] = Field(default_factory=list)
    space: list[Space] = Field(min_length=1)
    drill: list[Drill] = Field(default_factory=list)
    after: AfterEvent = AfterEvent()
    override: list[Override] = Field(default_factory=list)


Status = Literal["READY FOR REVIEW", "NOT READY"]
