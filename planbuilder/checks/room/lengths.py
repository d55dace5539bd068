"""Lengths in words, rounded against the plan: what is needed upward, what is allowed downward."""

from __future__ import annotations

import math


def up(value: float) -> str:
    """A length needed, in m, rounded up to a centimetre; a question mark where nothing is known."""
    return f"{math.ceil(round(value * 100, 6)) / 100:.2f}" if math.isfinite(value) else "?"


def up_to_mm(value: float) -> str:
    """A length needed, in m, rounded up to a millimetre."""
    return f"{math.ceil(round(value * 1000, 6)) / 1000:.3f}"


def down(value: float) -> str:
    """A length allowed, in m, rounded down to a centimetre."""
    return f"{math.floor(round(value * 100, 6)) / 100:.2f}" if math.isfinite(value) else "?"
