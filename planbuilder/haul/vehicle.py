"""A parked vehicle as an anchor: when it slides, when it tips.

Derived (dry friction, rigid body). Ignition off and key held, park brake on, wheels chocked, no
engine running near the opening. Planning takes the low end of each friction range.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

# Quoted on public pages, the book itself not seen.
NOON_1994 = "Noon, Introduction to Forensic Engineering, 1994 (as quoted)"
TRADE_TABLE = "friction table on a trade page (secondary)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """Friction of tyres on a surface, the low end, and where it comes from."""

    friction: float
    document: str
    mark: str = "read"


SURFACES: Mapping[str, Surface] = MappingProxyType(
    {
        "dry-concrete": Surface(friction=0.75, document=NOON_1994),
        "dry-asphalt": Surface(friction=0.65, document=NOON_1994),
        "wet-grass": Surface(friction=0.20, document=NOON_1994),
        "wet-concrete": Surface(friction=0.60, document=TRADE_TABLE),
        "wet-asphalt": Surface(friction=0.50, document=TRADE_TABLE),
        "gravel": Surface(friction=0.35, document=TRADE_TABLE),
        "snow": Surface(friction=0.20, document=TRADE_TABLE),
        "ice": Surface(friction=0.10, document=TRADE_TABLE),
    }
)
"""Tyre friction by surface, all wheels locked. A surface not listed is unknown, not zero."""


class BrakedAxle(StrEnum):
    """Which axle is locked, if only one is: the pull presses the near one down, lifts the far."""

    NEAR = "near the line"
    FAR = "far from the line"


def slide_pull_n(*, weight_n: float, friction: float, slope_rad: float, rise_rad: float) -> float:
    """Line force at which a vehicle with all wheels locked slides, in N.

    *slope_rad* falls toward the pull; the line leaves *rise_rad* above the ground plane, below it
    if negative. A rising line lifts the vehicle and takes grip away. 0 where it slides by itself,
    infinite where a line pulling down only presses it on.
    """
    held_n = weight_n * (friction * math.cos(slope_rad) - math.sin(slope_rad))
    share = math.cos(rise_rad) + friction * math.sin(rise_rad)
    if held_n <= 0:
        return 0.0
    return held_n / share if share > 0 else math.inf


def rear_axle_weight_n(
    *, weight_n: float, wheelbase_m: float, centre_ahead_of_rear_m: float
) -> float:
    """Weight on the rear axle of a vehicle at rest on level ground, in N."""
    return weight_n * (wheelbase_m - centre_ahead_of_rear_m) / wheelbase_m


def one_axle_pull_n(
    *,
    axle_weight_n: float,
    friction: float,
    wheelbase_m: float,
    hitch_height_m: float,
    braked: BrakedAxle,
) -> float:
    """Level line force at which a vehicle with one axle locked slides on level ground, in N.

    *axle_weight_n* is what that axle carries at rest. The pull at *hitch_height_m* moves weight
    toward itself. Infinite where it presses faster than it pulls: then tipping governs.
    """
    shift = friction * hitch_height_m / wheelbase_m
    match braked:
        case BrakedAxle.NEAR:
            share = 1 - shift
        case BrakedAxle.FAR:
            share = 1 + shift
    return friction * axle_weight_n / share if share > 0 else math.inf


def tip_pull_n(
    *,
    weight_n: float,
    centre_to_axle_m: float,
    hitch_height_m: float,
    overhang_m: float,
    rise_rad: float,
) -> float:
    """Line force that tips the vehicle over the axle nearest to the line, in N.

    *centre_to_axle_m* is level distance from that axle to the plumb line through the centre of
    mass, on the side away from the pull, so that a slope is in it. The line leaves at
    *hitch_height_m* over the ground, *overhang_m* past the axle, *rise_rad* above the ground plane:
    straight down (-pi/2) it is a davit in a receiver, level and without overhang the plain case
    W b / h. Infinite where the line cannot tip it this way.
    """
    arm_m = hitch_height_m * math.cos(rise_rad) - overhang_m * math.sin(rise_rad)
    return weight_n * centre_to_axle_m / arm_m if arm_m > 0 else math.inf


def allowable_pull_n(
    *, slide_n: float, tip_n: float, hitch_rating_n: float, safety_factor: float
) -> float:
    """Line force the vehicle may hold, in N: sliding and tipping by the factor, hitch as rated."""
    return min(slide_n / safety_factor, tip_n / safety_factor, hitch_rating_n)
