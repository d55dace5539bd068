"""Which planning class a hazard falls into, and what that class asks of the arrangement."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.scene import Scene
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.classes import (
    BLEEDING_LIMIT_S,
    PlanningClass,
    air_limit_s,
    carbon_monoxide_class,
    hydrogen_sulfide_class,
    oxygen_class,
)
from planbuilder.site.space import Hazard, HazardKind, Posture

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
    HazardKind.DROWNING: PlanningClass.SECONDS,
    HazardKind.ENGULFMENT: PlanningClass.SECONDS,
    HazardKind.WEDGED: PlanningClass.MINUTES,
    HazardKind.FLAMMABLE: PlanningClass.MINUTES,
    HazardKind.BLEEDING: PlanningClass.MINUTES,
    HazardKind.COLLAPSE: PlanningClass.MINUTES,
    HazardKind.SUSPENSION: PlanningClass.SUSPENSION,
    HazardKind.HEAT: PlanningClass.TENS_OF_MINUTES,
    HazardKind.COLD_WATER: PlanningClass.TENS_OF_MINUTES,
    HazardKind.MECHANICAL: PlanningClass.MECHANICAL,
}


def classify(hazard: Hazard) -> PlanningClass:
    """The planning class of *hazard*; the worst there is where the level of a gas is not given."""
    if hazard.kind in _BY_KIND:
        return _BY_KIND[hazard.kind]
    return _BY_LEVEL[hazard.kind](hazard.level.ratio) if hazard.level else PlanningClass.SECONDS


def hazard_limit(hazard: Hazard) -> HazardLimit:
    """The time to air or first treatment that *hazard* leaves for planning."""
    planning_class = classify(hazard)
    if hazard.kind is HazardKind.BLEEDING:
        source = Source(mark=Mark.READ, document="TCCC guidelines", clause="as little as 3 minutes")
        return HazardLimit(hazard, planning_class, BLEEDING_LIMIT_S, source)
    limit_s = air_limit_s(planning_class)
    return HazardLimit(hazard, planning_class, limit_s, _SOURCES[planning_class])


def governing(scene: Scene) -> HazardLimit:
    """The hazard that leaves the least time; of equals, the one of the lower class."""
    limits = [hazard_limit(one) for one in scene.space.hazard]
    return min(limits, key=lambda one: (one.limit_s, one.planning_class))


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
