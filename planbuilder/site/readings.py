"""What a site file may say of an air test: when, how deep, what the meter showed, who read it."""

from __future__ import annotations

from typing import Annotated

from planbuilder.site.fields import Day, Distance, Id, Part, Share, Strict, reference
from planbuilder.site.shifts import TimeOfDay


class Reading(Strict):
    """One reading at one level; *depth* is from the opening down. Flammable gas is a share."""

    on: Day
    at: TimeOfDay
    depth: Distance | None = None
    oxygen: Part | None = None
    flammable: Share | None = None
    hydrogen_sulfide: Part | None = None
    carbon_monoxide: Part | None = None
    tester: Annotated[Id, reference("person")] | None = None
