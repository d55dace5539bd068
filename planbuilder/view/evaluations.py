"""The evaluation of a rescue service as a table: each question with its answer or its lack."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.site.evaluation import Answered, Practised, Question
from planbuilder.site.people import Service
from planbuilder.tables import table
from planbuilder.view.model import Table

BLANK = "NO ANSWER"


def evaluation_table(one: Service) -> Table:
    """Every question in printing order; empty where the service was asked none."""
    given = {each.question: each for each in one.answer}
    asked = table("service_questions")
    rows = tuple(
        (asked[question]["asked"], *_answer(given.get(question)))
        for question in (Question if given else ())
    )
    return Table(("Asked of the service", "Answer", "Evidence", "By, on"), rows)


def _answer(one: Answered | None) -> tuple[str, str, str]:
    if one is None or one.answer is None:
        return BLANK, "-", "-"
    word = "NO" if one.answer == "no" else one.answer
    remedy = f", to be put right by {day_text(one.remedy_by)}" if one.remedy_by else ""
    signed = ", ".join(filter(None, (one.by, day_text(one.on) if one.on else None)))
    return f"{word}{remedy}", one.evidence or "none", signed or "nobody"


def practised_text(one: Practised | None) -> str:
    """The kind of place in which the service was seen at work."""
    if one is None:
        return "NO RECORD"
    way_in = f"{one.way_in} way in" if one.way_in else None
    opening = f"{one.opening} opening" if one.opening else None
    raised = one.raised.replace("-", " ") if one.raised else None
    parts = (day_text(one.on) if one.on else None, one.inside, opening, raised, way_in)
    return ", ".join(part or "not stated" for part in parts)
