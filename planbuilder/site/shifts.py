"""Times of day: shifts of people, hours of the work, and what else keeps somebody busy."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import BeforeValidator, Field

from planbuilder.site.fields import Flag, Strict, Text, refusal

_TEXT = re.compile(r"([01]\d|2[0-3]):([0-5]\d)\Z")


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day, in s after midnight, with the words as written."""

    s: float
    written: str


def _read(value: object) -> Clock:
    if isinstance(value, Clock):
        return value
    found = _TEXT.match(value) if isinstance(value, str) else None
    if not found:
        raise refusal("clock", 'must be a time of day in quotes, such as "07:30" or "15:00"')
    return Clock(int(found[1]) * 3600.0 + int(found[2]) * 60.0, found[0])


TimeOfDay = Annotated[Clock, BeforeValidator(_read)]


class Duty(Strict):
    """Something else that somebody does on the day, and whether it can be left at once."""

    what: Text
    can_leave: Flag


class OnShift(Strict):
    """When somebody is on site; a shift that ends before it starts ends on the next day."""

    shift_starts: TimeOfDay | None = None
    shift_ends: TimeOfDay | None = None
    duties: list[Duty] = Field(default_factory=list, max_length=20)


class Hours(Strict):
    """Between which times of each day somebody may be inside."""

    enter_from: TimeOfDay | None = None
    out_by: TimeOfDay | None = None
