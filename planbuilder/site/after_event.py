"""After the event: who is told, how soon, and who keeps place and equipment as they are."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from planbuilder.site.fields import Count, Flag, Id, Strict, Text, reference


class Report(Strict):
    """Somebody who is told of the event; an *authority* within a number of days."""

    to: Text
    phone: Text
    authority: Flag | None = None
    within_days: Count | None = None


class AfterEvent(Strict):
    """What happens when the casualty is away."""

    report: list[Report] = Field(default_factory=list, max_length=20)
    scene_kept_by: Annotated[Id, reference("person")] | None = None
    gear_kept_at: Text | None = None
    review_by: Annotated[Id, reference("person")] | None = None
