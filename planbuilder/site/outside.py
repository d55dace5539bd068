"""What comes to a space from outside it: the kind of work, what stops it, other work nearby."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import AfterValidator, Field

from planbuilder.site.fields import Day, Id, RoadSpeed, Strict, Text, not_before, reference


class WorkKind(StrEnum):
    """What a rule set calls the work: some rule sets leave some kinds to others."""

    GENERAL = "general-industry"
    CONSTRUCTION = "construction"
    EXCAVATION = "excavation"
    UNDERGROUND = "underground-construction"
    DIVING = "diving"
    SHIPYARD = "shipyard"
    AGRICULTURE = "agriculture"
    MINING = "mining"


class TriggerKind(StrEnum):
    """What outside the space can make it dangerous, or stop a rescue."""

    WEATHER = "weather"
    FLOOD = "flood"
    WIND = "wind"
    LIGHTNING = "lightning"
    TRAFFIC = "traffic"
    DUST = "dust"
    ADJACENT_WORK = "adjacent-work"
    PROCESS = "process-release"
    VENTILATION = "ventilation"


class Trigger(Strict):
    """Something outside that stops the work: at which value or sight, and who watches for it.

    *wind* is the wind speed of a wind trigger, where it is measured.
    """

    kind: TriggerKind
    stop_at: Text | None = None
    wind: RoadSpeed | None = None
    watched_by: Annotated[Id, reference("person")] | None = None


class Makes(StrEnum):
    """What other work can bring into the space, or do to it."""

    FUMES = "fumes"
    FIRE = "fire"
    FALLING_THINGS = "falling-things"
    VIBRATION = "vibration"
    WATER = "water"
    ENERGY = "energy"


class OtherWork(Strict):
    """Work of somebody else in or near the space, on the days *starts* to *ends*."""

    what: Text
    employer: Annotated[Id, reference("employer")] | None = None
    contact: Annotated[Id, reference("person")] | None = None
    starts: Day | None = None
    ends: Annotated[Day | None, AfterValidator(not_before("starts"))] = None
    makes: list[Makes] | None = Field(default=None, max_length=10)
    control: Text | None = None
