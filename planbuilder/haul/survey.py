"""Body mass by percentile, from a survey's printed percentiles."""

import itertools
from collections.abc import Mapping


def percentile_kg(percentiles: Mapping[float, float], percentile: float) -> float:
    """Mass of that percentile, in kg, between the printed ones on a straight line.

    *percentiles* maps percentile to kg. Never beyond the outermost printed ones: ValueError.
    """
    known = sorted(percentiles.items())
    for (low, light), (high, heavy) in itertools.pairwise(known):
        if low <= percentile <= high:
            return light + (heavy - light) * (percentile - low) / (high - low)
    raise ValueError(
        f"percentiles run from {known[0][0]:g} to {known[-1][0]:g}, got {percentile:g}"
    )
