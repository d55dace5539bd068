"""Lengths as advice names them: rounded to the centimetre, to the side that still does."""

from __future__ import annotations

import math


def up(value: float) -> str:
    """A height needed, in m, rounded up to a centimetre."""
    return f"{math.ceil(round(value * 100, 6)) / 100:.2f}"


def down(value: float) -> str:
    """A length allowed, in m, rounded down to a centimetre."""
    return f"{math.floor(round(value * 100, 6)) / 100:.2f}"
