"""What a line does to the head of a support: the strand that hangs, and the one that is led off.

Derived (statics). A line that runs down the mast or a leg is held inside the support and is none
of this. Both strands are taken toward one side, the worst way.
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadPull:
    """The pull at the head in its parts, straight down and level."""

    down_n: float
    level_n: float

    @property
    def size_n(self) -> float:
        """The whole pull."""
        return math.hypot(self.down_n, self.level_n)

    @property
    def lean_rad(self) -> float:
        """How far the pull leans off plumb."""
        return math.atan2(self.level_n, self.down_n)


def lead_angle_rad(*, height_m: float, lead_m: float) -> float:
    """Angle off plumb of a strand from a head at *height_m* to the ground *lead_m* aside, in rad.

    Raises ValueError unless the head stands above the ground.
    """
    if height_m <= 0:
        raise ValueError(f"the head must stand above the ground, got {height_m:g} m")
    return math.atan2(lead_m, height_m)


def head_pull(*, hanging_n: float, lean_rad: float, led_off_n: float, lead_rad: float) -> HeadPull:
    """The pull of a strand that hangs *lean_rad* off plumb and of one led off at *lead_rad*.

    *led_off_n* is 0 where no strand leaves the support.
    """
    return HeadPull(
        down_n=hanging_n * math.cos(lean_rad) + led_off_n * math.cos(lead_rad),
        level_n=hanging_n * math.sin(lean_rad) + led_off_n * math.sin(lead_rad),
    )
