"""A parked vehicle as an anchor: when it slides, when it tips.

Derived (dry friction, rigid body). Ignition off and key held, park brake on, wheels chocked, no
engine running near the opening. Planning takes the low end of each friction range.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle:
    """A vehicle with its hitch at the rear; lengths from the rear axle, heights over the ground."""

    weight_n: float
    wheelbase_m: float
    centre_ahead_m: float
    centre_height_m: float
    hitch_height_m: float
    hitch_behind_m: float


def slide_pull_n(*, weight_n: float, friction: float, slope_rad: float, rise_rad: float) -> float:
    """Line force at which a vehicle with all wheels locked slides, in N.

    *slope_rad* falls toward the pull; the line leaves *rise_rad* above the ground plane, below it
    if negative. A rising line lifts the vehicle and takes grip away. 0 where it slides by itself,
    infinite where a line pulling down only presses it on. Raises ValueError if the line leaves
    more steeply than a quarter turn.
    """
    _require_rise(rise_rad)
    held_n = weight_n * (friction * math.cos(slope_rad) - math.sin(slope_rad))
    share = math.cos(rise_rad) + friction * math.sin(rise_rad)
    if held_n <= 0:
        return 0.0
    return held_n / share if share > 0 else math.inf


def rear_axle_pull_n(
    vehicle: Vehicle, *, friction: float, slope_rad: float, rise_rad: float
) -> float:
    """Line force at which a vehicle with only its rear wheels locked slides, in N.

    The line leaves the hitch rearward; slope and rise as for `slide_pull_n`. The rear axle's share
    of weight follows from moments about the front one: the pull at its height presses it down, a
    rising line lifts it. Level on level ground: mu W (L - b) / (L - mu h). 0 where the vehicle
    slides by itself, infinite where the pull presses faster than it pulls: then tipping governs.
    """
    _require_rise(rise_rad)
    base_m, along, up = vehicle.wheelbase_m, math.cos(rise_rad), math.sin(rise_rad)
    weight_nm = vehicle.weight_n * (
        (base_m - vehicle.centre_ahead_m) * math.cos(slope_rad)
        + vehicle.centre_height_m * math.sin(slope_rad)
    )
    held_n = friction * weight_nm / base_m - vehicle.weight_n * math.sin(slope_rad)
    pressed_m = vehicle.hitch_height_m * along - (base_m + vehicle.hitch_behind_m) * up
    share = along - friction * pressed_m / base_m
    if held_n <= 0:
        return 0.0
    return held_n / share if share > 0 else math.inf


def tip_or_lift_pull_n(vehicle: Vehicle, *, slope_rad: float, rise_rad: float) -> float:
    """Line force that tips the vehicle over its rear axle or lifts that axle, in N.

    `tip_pull_n` about either axle, the slope falling the worse way each time. A line that leaves
    steeply upward lifts the rear: then the vehicle turns about its front axle, where the same pull
    stands a wheelbase farther back and its level part holds.
    """
    fallen_m = vehicle.centre_height_m * math.sin(abs(slope_rad))
    ahead_m, behind_m = (
        max(0.0, one * math.cos(slope_rad) - fallen_m)
        for one in (vehicle.centre_ahead_m, vehicle.wheelbase_m - vehicle.centre_ahead_m)
    )
    over_rear_n = tip_pull_n(
        weight_n=vehicle.weight_n,
        centre_to_axle_m=ahead_m,
        hitch_height_m=vehicle.hitch_height_m,
        overhang_m=vehicle.hitch_behind_m,
        rise_rad=rise_rad,
    )
    over_front_n = tip_pull_n(
        weight_n=vehicle.weight_n,
        centre_to_axle_m=behind_m,
        hitch_height_m=-vehicle.hitch_height_m,
        overhang_m=-(vehicle.wheelbase_m + vehicle.hitch_behind_m),
        rise_rad=rise_rad,
    )
    return min(over_rear_n, over_front_n)


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


def vehicle_mass_needed_kg(
    *, mass_kg: float, pull_n: float, slide_n: float, tip_n: float, safety_factor: float
) -> float:
    """Mass of a vehicle like this one that holds the pull with the factor, in kg.

    What slides or tips it grows as its weight. Infinite where it slides by itself.
    """
    least_n = min(slide_n, tip_n)
    return mass_kg * pull_n * safety_factor / least_n if least_n > 0 else math.inf


def _require_rise(rise_rad: float) -> None:
    """Raise ValueError where `slide_pull_n` says so."""
    if abs(rise_rad) > math.pi / 2:
        raise ValueError(f"the line must leave at -pi/2 to pi/2 rad, got {rise_rad:g}")
