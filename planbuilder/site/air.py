"""Breathing air: what a set, an air line or an escape set holds, and what a method takes of it.

Pressures are gauge readings. Volumes and ratings are as marked; temperatures as measured.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from planbuilder.site.fields import (
    Cubic,
    Distance,
    Flag,
    GasPressure,
    Id,
    Stream,
    Strict,
    Time,
    Warmth,
    reference,
)

Some = Annotated[int, Field(strict=True, ge=1, le=100)]


class _Stored(Strict):
    """Air in cylinders, *cylinders* of them on one gauge."""

    water_volume: Cubic | None = None
    cylinders: Some = 1
    positive_pressure: Flag | None = None
    fill_pressure: GasPressure | None = None
    filled_at: Warmth | None = None
    coldest: Warmth | None = None


class CylinderAir(_Stored):
    """A set with its cylinders on the back of whoever wears it."""

    kind: Literal["cylinder"]
    alarm_pressure: GasPressure | None = None
    reserve: GasPressure | None = None


class LineAir(_Stored):
    """An air line from a bank. *flow* is what one user takes; *users* breathe from it at once."""

    kind: Literal["line"]
    least_pressure: GasPressure | None = None
    users: Some | None = None
    flow: Stream | None = None
    hose_length: Distance | None = None


class EscapeAir(Strict):
    """A set for getting out, by its marked volume or its marked time."""

    kind: Literal["escape"]
    rated_volume: Cubic | None = None
    rated_time: Time | None = None


AirSupply = Annotated[CylinderAir | LineAir | EscapeAir, Field(discriminator="kind")]


class MethodAir(Strict):
    """How long the rescuers breathe from their sets, and who takes over from them.

    Times may come from the steps of the timeline that say on_air; the longer counts.
    *time_escape* is the way out alone, without the casualty. *work_in_all* is the time of work at
    the casualty, whichever crew does it.
    """

    time_in: Time | None = None
    time_work: Time | None = None
    time_out: Time | None = None
    time_escape: Time | None = None
    backup_set: Annotated[Id, reference("equipment")] | None = None
    escape_set: Annotated[Id, reference("equipment")] | None = None
    crew_pairs: Some | None = None
    work_in_all: Time | None = None
