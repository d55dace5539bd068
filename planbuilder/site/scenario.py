"""What can happen in a space, and what is done then."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from planbuilder.site.fields import Flag, Prose, Strict, Text
from planbuilder.site.hazard import HazardKind


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
