"""The record that a rescue service was evaluated, question by question, and saw a like place."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import AfterValidator

from planbuilder.site.fields import Day, Strict, Text, refusal


class Question(StrEnum):
    """The short name of a question; its wording stands in ``tables/service_questions.toml``."""

    TIME_NEEDED = "time-needed"
    TRAVEL = "travel"
    HOURS = "hours"
    OWN_DUTIES = "own-duties"
    WILLING = "willing"
    COMMUNICATION = "communication"
    AIR_SUPPLY = "air-supply"
    VERTICAL_SKILL = "vertical-skill"
    MEDICAL = "medical"
    COMPLETE_KIT = "complete-kit"
    ALL_TRAINED = "all-trained"
    OWN_PROTECTION = "own-protection"
    CARE_SHOWN = "care-shown"
    OWN_SAFETY = "own-safety"
    AIR_JUDGED = "air-judged"
    PAPERS_READ = "papers-read"
    OUTSIDE_HAZARDS = "outside-hazards"
    THROUGH_OPENING = "through-opening"
    ELEVATED_RESCUE = "elevated-rescue"
    PLAN_FOR_EACH = "plan-for-each"


class Answered(Strict):
    """One question answered, by whom, when, and on what evidence. A "no" has a day of remedy."""

    question: Question
    answer: Literal["yes", "no", "n-a"] | None = None
    evidence: Text | None = None
    by: Text | None = None
    on: Day | None = None
    remedy_by: Day | None = None


def _each_once(value: list[Answered]) -> list[Answered]:
    asked = [one.question for one in value]
    twice = next((one for one in asked if asked.count(one) > 1), None)
    if twice is not None:
        raise refusal("question_twice", f'must answer each question once ("{twice}" is twice)')
    return value


Answers = Annotated[list[Answered], AfterValidator(_each_once)]


class Practised(Strict):
    """The kind of place in which the service was last seen at work."""

    on: Day | None = None
    inside: Literal["open", "obstructed"] | None = None
    opening: Literal["restricted", "wide"] | None = None
    raised: Literal["elevated", "not-elevated"] | None = None
    way_in: Literal["vertical", "horizontal"] | None = None
