"""Distances to power lines: what a table asks for, and how near a support comes.

The support is a conductor, and its crew are not electrical workers. Lengths in m, voltages in V.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a table: the distance up to a voltage, which may be infinite.

    *insulated_m* is the same for bare lines where the rule makes no difference.
    """

    most_v: float
    included: bool
    distance_m: float
    insulated_m: float

    def covers(self, voltage_v: float) -> bool:
        """True if *voltage_v* does not lie above this row."""
        return voltage_v <= self.most_v if self.included else voltage_v < self.most_v


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """From *from_v* on, *adds_m* for each begun *each_v*."""

    from_v: float
    each_v: float
    adds_m: float


def tabled_distance_m(
    rows: Sequence[Row], step: Step | None, *, voltage_v: float, insulated: bool
) -> float:
    """Distance that a table asks for, in m: of the first row that covers the voltage, or stepped.

    Never interpolated. Raises ValueError above the table.
    """
    for row in rows:
        if row.covers(voltage_v):
            return row.insulated_m if insulated else row.distance_m
    if step is None:
        message = "the voltage lies above the table: the owner of the line gives the distance"
        raise ValueError(message)
    begun = math.ceil((voltage_v - step.from_v) / step.each_v)
    return rows[-1].distance_m + begun * step.adds_m


def standing_gap_m(
    *, line_distance_m: float, line_height_m: float, reach_m: float, top_m: float
) -> float:
    """Distance from anywhere that a standing, turning support sweeps to the conductor, in m.

    The support fills an upright cylinder of *reach_m* and *top_m*; derived.
    """
    beside_m = max(0.0, line_distance_m - reach_m)
    above_m = max(0.0, line_height_m - top_m)
    return math.hypot(beside_m, above_m)


def farthest_point_m(*, top_m: float, reach_m: float, base_m: float) -> float:
    """From the farthest foot of the base to the farthest point of the support, in m; derived."""
    return math.hypot(top_m, reach_m + base_m)


def toppling_gap_m(
    *, line_distance_m: float, line_height_m: float, base_m: float, farthest_m: float
) -> float:
    """Distance to the conductor left by a support that is raised or falls any way, in m.

    It turns about a foot up to *base_m* from its middle and sweeps a ball of *farthest_m*; derived.
    Negative: it can strike the line.
    """
    return math.hypot(max(0.0, line_distance_m - base_m), line_height_m) - farthest_m


def standing_line_distance_m(
    *, needed_m: float, line_height_m: float, reach_m: float, top_m: float
) -> float:
    """Plan distance of the line that leaves *needed_m* to a standing support; derived."""
    above_m = max(0.0, line_height_m - top_m)
    return reach_m + math.sqrt(max(0.0, needed_m**2 - above_m**2))


def toppling_line_distance_m(
    *, needed_m: float, line_height_m: float, base_m: float, farthest_m: float
) -> float:
    """Plan distance of the line that leaves *needed_m* to a toppling support; derived."""
    return base_m + math.sqrt(max(0.0, (needed_m + farthest_m) ** 2 - line_height_m**2))
