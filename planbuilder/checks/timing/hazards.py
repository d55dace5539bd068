"""How long each hazard leaves: by its class, and by level or state where these are stated."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from planbuilder.checks.scene import Scene, once_a_scene
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.carbon_monoxide import incapacitating_time_s, whole_minutes_s
from planbuilder.response.classes import (
    BLEEDING_LIMIT_S,
    PlanningClass,
    air_limit_s,
    carbon_monoxide_class,
    hydrogen_sulfide_class,
    oxygen_class,
)
from planbuilder.response.cold_water import USEFUL_MOVEMENT_S
from planbuilder.response.effects import Row, effect_down_to, effect_from
from planbuilder.response.oxygen import sea_level_oxygen
from planbuilder.site.hazard import Hazard, HazardKind, Suspended
from planbuilder.site.method import Posture
from planbuilder.tables import table
from planbuilder.units import Dimension, parse

LETTERS = Source(
    mark=Mark.READ,
    document="OSHA first-aid letters",
    clause="3 to 4 minutes where suffocation or severe bleeding can be expected",
)
_SOURCES = {
    PlanningClass.SECONDS: LETTERS,
    PlanningClass.MINUTES: LETTERS,
    PlanningClass.SUSPENSION: Source(mark=Mark.READ, document="NIOSH harness studies"),
    PlanningClass.TENS_OF_MINUTES: Source(mark=Mark.CHOICE, note="start of treatment"),
    PlanningClass.MECHANICAL: Source(
        mark=Mark.READ,
        document="29 CFR 1910.146 App F",
        clause="A.II.1",
        note="10 or 15 minutes might be adequate",
    ),
}
LADEN = Source(
    mark=Mark.RECALLED,
    document="Coburn-Forster-Kane",
    note="whole minutes to 30 % carboxyhaemoglobin at heavy work",
)


@dataclass(frozen=True, slots=True)
class HazardLimit:
    """The planning class of one hazard and the time to air that it leaves."""

    hazard: Hazard
    planning_class: PlanningClass
    limit_s: float
    source: Source


_BY_LEVEL: dict[HazardKind, Callable[[float], PlanningClass]] = {
    HazardKind.OXYGEN: oxygen_class,
    HazardKind.HYDROGEN_SULFIDE: hydrogen_sulfide_class,
    HazardKind.CARBON_MONOXIDE: carbon_monoxide_class,
}
_BY_KIND = {
    HazardKind.INERT_GAS: PlanningClass.SECONDS,
    HazardKind.OTHER_TOXIC: PlanningClass.SECONDS,
    HazardKind.DROWNING: PlanningClass.SECONDS,
    HazardKind.ENGULFMENT: PlanningClass.SECONDS,
    HazardKind.WEDGED: PlanningClass.MINUTES,
    HazardKind.FLAMMABLE: PlanningClass.MINUTES,
    HazardKind.DUST: PlanningClass.MINUTES,
    HazardKind.BLEEDING: PlanningClass.MINUTES,
    HazardKind.COLLAPSE: PlanningClass.MINUTES,
    HazardKind.SUSPENSION: PlanningClass.SUSPENSION,
    HazardKind.HEAT: PlanningClass.TENS_OF_MINUTES,
    HazardKind.COLD_WATER: PlanningClass.TENS_OF_MINUTES,
    HazardKind.MECHANICAL: PlanningClass.MECHANICAL,
}
_BY_STATE = {
    Suspended.UNRESPONSIVE: PlanningClass.MINUTES,
    Suspended.MOTIONLESS: PlanningClass.SUSPENSION,
    Suspended.MOVING_LEGS: PlanningClass.TENS_OF_MINUTES,
}


def classify(hazard: Hazard, altitude_m: float = 0.0) -> PlanningClass:
    """The planning class of *hazard*; the worst there is where the level of a gas is not given.

    Somebody who hangs is taken to be motionless where no state is stated.
    """
    if hazard.kind is HazardKind.SUSPENSION and hazard.suspended is not None:
        return _BY_STATE[hazard.suspended]
    if hazard.kind in _BY_KIND:
        return _BY_KIND[hazard.kind]
    if hazard.level is None:
        return PlanningClass.SECONDS
    level = hazard.level.ratio
    if hazard.kind is HazardKind.OXYGEN:
        level = sea_level_oxygen(level, altitude_m)
    return _BY_LEVEL[hazard.kind](level)


def hazard_limit(hazard: Hazard, altitude_m: float = 0.0) -> HazardLimit:
    """The time to air or first treatment that *hazard* leaves for planning."""
    planning_class = classify(hazard, altitude_m)
    limit_s, source = air_limit_s(planning_class), _SOURCES[planning_class]
    match hazard.kind:
        case HazardKind.BLEEDING:
            limit_s = BLEEDING_LIMIT_S
            source = Source(
                mark=Mark.READ, document="TCCC guidelines", clause="as little as 3 minutes"
            )
        case HazardKind.COLD_WATER:
            limit_s = USEFUL_MOVEMENT_S
            source = Source(
                mark=Mark.READ,
                document="Cold-water phases",
                note="secondary copy; to float or grasp the casualty, useful movement is then lost",
            )
        case HazardKind.CARBON_MONOXIDE if hazard.level is not None:
            laden_s = whole_minutes_s(_laden_s(hazard.level.ratio))
            if laden_s < limit_s:
                limit_s, source = laden_s, LADEN
    words = effect(hazard)
    if words:
        source = replace(source, note=f"at this level: {words}")
    return HazardLimit(hazard, planning_class, limit_s, source)


_EFFECTS = {
    HazardKind.OXYGEN: "Oxygen effects table",
    HazardKind.HYDROGEN_SULFIDE: "PMC5777517",
}
_laden_s = cache(incapacitating_time_s)


def effect(hazard: Hazard) -> str:
    """What the stated level of a gas does, as a printed table has it; "" where none does."""
    document = _EFFECTS.get(hazard.kind)
    if hazard.level is None or document is None:
        return ""
    said = effect_down_to if hazard.kind is HazardKind.OXYGEN else effect_from
    words = said(_effects(hazard.kind.value), hazard.level.ratio)
    return f"{words} ({document})" if words else ""


@cache
def _effects(gas: str) -> tuple[Row, ...]:
    """The printed effects of a gas by level."""
    rows = table("gas_effects")[gas]["row"]
    return tuple((parse(one["level"], Dimension.FRACTION).value, one["effect"]) for one in rows)


@once_a_scene
def _limits(scene: Scene) -> list[HazardLimit]:
    """The limit of each hazard of the space, as listed."""
    altitude = scene.site.site.altitude
    above_sea_m = altitude.m if altitude is not None else 0.0
    return [hazard_limit(one, above_sea_m) for one in scene.space.hazard]


def governing(scene: Scene) -> HazardLimit:
    """The hazard that leaves the least time; of equals, the one of the lower class."""
    return min(_limits(scene), key=lambda one: (one.limit_s, one.planning_class))


def fastest(scene: Scene) -> HazardLimit:
    """The hazard of the lowest planning class; of equals, the one that leaves the least time."""
    return min(_limits(scene), key=lambda one: (one.planning_class, one.limit_s))


def air_limit(scene: Scene) -> Quantity:
    """The planning limit for air: that of the class, or a stricter one of the site."""
    worst, own = governing(scene), scene.space.rescue.air_limit
    if own is not None and own.s < worst.limit_s:
        key = scene.key("rescue.air_limit")
        return scene_limit(own.s, Source.site(key), "planning limit of the site")
    label = f"planning limit for {worst.hazard.kind.replace('-', ' ')}"
    return scene_limit(worst.limit_s, worst.source, label)


def scene_limit(value_s: float, source: Source, label: str) -> Quantity:
    """A limit on the time to air."""
    return Quantity(symbol="L", label=label, value=value_s, unit=Unit.S, source=source)


def slowest_posture(planning_class: PlanningClass) -> Posture:
    """The least ready arrangement that a planning class can do with."""
    match planning_class:
        case PlanningClass.SECONDS | PlanningClass.MINUTES:
            return Posture.STANDBY
        case PlanningClass.SUSPENSION | PlanningClass.TENS_OF_MINUTES:
            return Posture.ON_SITE
        case PlanningClass.MECHANICAL:
            return Posture.OFF_SITE
