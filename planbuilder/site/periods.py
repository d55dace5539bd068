"""Calendar periods: "12 months" ends on the same day of the month, leap days kept honest."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Annotated

from dateutil.relativedelta import relativedelta
from pydantic import BeforeValidator

from planbuilder.site.fields import refusal

LONGEST = {"day": 18_263, "week": 2609, "month": 600, "year": 50}
_TEXT = re.compile(r"\s*(\d{1,4})\s*(day|week|month|year)s?\s*\Z")


@dataclass(frozen=True, slots=True)
class Period:
    """A number of days, weeks, months or years, with the words as written."""

    count: int
    unit: str
    written: str

    def after(self, start: date) -> date:
        """The last day on which a record made on *start* still counts.

        "12 months" runs to the same day one year on; 29 February runs to 28 February.
        """
        return start + _delta(self.unit, self.count)


@cache
def _delta(unit: str, count: int) -> relativedelta:
    """The period for arithmetic with dates; a crew's equipment shares a few of them."""
    return relativedelta(**{f"{unit}s": count})  # type: ignore[arg-type]


def _read(value: object) -> Period:
    if isinstance(value, Period):
        return value
    found = _TEXT.match(value) if isinstance(value, str) else None
    if not found or int(found[1]) == 0:
        raise refusal("period", 'must be a calendar period, such as "12 months" or "90 days"')
    if int(found[1]) > LONGEST[found[2]]:
        raise refusal("period_long", "must be 50 years or less")
    return Period(int(found[1]), found[2], found[0].strip())


Interval = Annotated[Period, BeforeValidator(_read)]
