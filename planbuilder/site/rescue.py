"""The rescue arrangement of one space, and whom it plans for."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import BodyMass, Day, Id, Strict, Text, Time, reference
from planbuilder.site.method import Method


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
