"""One way of getting the casualty out: people, rig, steps."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, ValidationInfo

from planbuilder.site.air import MethodAir
from planbuilder.site.fields import (
    Count,
    Day,
    Flag,
    Id,
    Prose,
    Strict,
    Text,
    Time,
    reference,
    refusal,
)
from planbuilder.site.rig import Rig
from planbuilder.units import Duration


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


class NoRetrieval(StrEnum):
    """The two reasons for which retrieval from outside may be left out."""

    RAISES_RISK = "raises-overall-risk"
    NO_USE = "would-not-contribute"


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
