"""Briefings: the plan explained to those who have a part in it, and signed by them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import Day, Flag, Id, Strict, reference


class Briefing(Strict):
    """The plan of a space explained *by* somebody to *people*, who sign and date it.

    Without *on* it is still to come: they sign the printed sheet before the first entry.
    """

    by: Annotated[Id, reference("person")]
    on: Day | None = None
    people: list[Annotated[Id, reference("person")]] = Field(min_length=1, max_length=200)
    walk_through: Flag | None = None
