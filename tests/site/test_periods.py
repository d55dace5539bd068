"""Calendar periods: how long a record counts. Expected days are read off a calendar."""

from __future__ import annotations

from datetime import date

import pytest
from pydantic import TypeAdapter, ValidationError

from planbuilder.site.periods import Interval, Period

READ = TypeAdapter(Interval)


@pytest.mark.parametrize(
    ("text", "start", "last"),
    [
        ("12 months", date(2026, 9, 14), date(2027, 9, 14)),
        ("12 months", date(2028, 2, 29), date(2029, 2, 28)),
        ("48 months", date(2024, 2, 29), date(2028, 2, 29)),
        ("1 month", date(2027, 1, 31), date(2027, 2, 28)),
        ("1 month", date(2028, 1, 31), date(2028, 2, 29)),
        ("6 months", date(2026, 8, 31), date(2027, 2, 28)),
        ("1 year", date(2026, 1, 1), date(2027, 1, 1)),
        ("90 days", date(2026, 11, 2), date(2027, 1, 31)),
        ("1 day", date(2026, 12, 31), date(2027, 1, 1)),
        ("2 weeks", date(2026, 2, 20), date(2026, 3, 6)),
    ],
)
def test_a_record_counts_to_the_day_that_the_calendar_says(text, start, last):
    assert READ.validate_python(text).after(start) == last


@pytest.mark.parametrize(
    ("text", "count", "unit"),
    [("12 months", 12, "month"), (" 1 year ", 1, "year"), ("90days", 90, "day")],
)
def test_a_period_keeps_count_unit_and_words(text, count, unit):
    assert READ.validate_python(text) == Period(count, unit, text.strip())


@pytest.mark.parametrize(
    "value",
    [
        "",
        "12",
        "months",
        "0 days",
        "-1 month",
        "1.5 years",
        "1 mo",
        "12 months 3",
        12,
        None,
        "1e2 days",
    ],
)
def test_what_is_no_calendar_period_is_refused(value):
    with pytest.raises(ValidationError) as caught:
        READ.validate_python(value)

    assert caught.value.errors()[0]["msg"] == (
        'must be a calendar period, such as "12 months" or "90 days"'
    )
