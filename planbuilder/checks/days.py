"""Dates that read the same on both sides of an ocean."""

from __future__ import annotations

from datetime import date

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_text(day: date) -> str:
    """A date as text: 2 Nov 2026."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
