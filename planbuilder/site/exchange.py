"""What employers on one site told each other, before the work and after it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import Day, Id, Prose, Strict, Text, reference


class Exchange(Strict):
    """One employer told another: *what* in the rows of the rule set, *details* in own words.

    It holds for every space of the file, or for those named.
    """

    giver: Annotated[Id, reference("employer")]
    receiver: Annotated[Id, reference("employer")]
    space: list[Annotated[Id, reference("space")]] = Field(default_factory=list, max_length=50)
    what: list[Text] = Field(default_factory=list, max_length=30)
    details: Prose | None = None
    on: Day | None = None
    by: Text | None = None
    received_by: Text | None = None


class Debrief(Strict):
    """The talk after the work over what was met or made: when, who tells it, who hears it."""

    on: Day | None = None
    by: Text | None = None
    heard_by: Text | None = None
