"""How long somebody lasts: a clear mind in air short of oxygen, strength in cold water."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from planbuilder.checks.asking import MEASURE, Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, output
from planbuilder.checks.timing.hazards import classify
from planbuilder.checks.timing.moments import slow
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.classes import PlanningClass
from planbuilder.response.cold_water import ColdRow, exhaustion_s
from planbuilder.response.oxygen import (
    COLLAPSE_OXYGEN_FRACTION,
    Consciousness,
    sea_level_oxygen,
    useful_consciousness_s,
)
from planbuilder.site.hazard import Hazard, HazardKind
from planbuilder.site.method import MethodKind
from planbuilder.tables import table
from planbuilder.units import Dimension, parse

SELF = Rule(
    "response/self-rescue-beyond-consciousness",
    "Self-rescue only while the mind is clear",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="Useful consciousness table", note="secondary copy"),
)
EXHAUSTED = Rule(
    "response/out-of-cold-water-too-late",
    "Out of the water before exhaustion",
    Weight.WARNS,
    Source(mark=Mark.READ, document="Cold-water table"),
)
_NO_TIME = "Time each step, state usual and one_in_ten, and mark the step that reaches it."


def check_self_rescue(scene: Scene) -> Iterator[Finding]:
    """Nobody is counted on to come out alone, or to help, once the mind is no longer clear."""
    for way in scene.ways():
        if way.method.method not in (MethodKind.SELF, MethodKind.ASSISTED_SELF):
            continue
        for hazard in scene.space.hazard:
            outcome = _clear_mind(way, hazard)
            if outcome is None:
                continue
            yield finding(
                SELF,
                outcome,
                settle_by="Plan retrieval from outside; self-rescue stays a first try only. "
                + (MEASURE if isinstance(outcome, Missing) else ""),
                keys=(way.key("method"), scene.key("hazard"), "site.altitude"),
                space=scene.space,
                about=f"{way.name}, {hazard.kind.replace('-', ' ')}",
            )


def _clear_mind(way: Way, hazard: Hazard) -> Compared | Stated | Missing | None:
    """Time of useful consciousness against the way out; None where the class leaves minutes."""
    if hazard.kind is HazardKind.OXYGEN:
        return _in_thin_air(way, hazard)
    if classify(hazard) is not PlanningClass.SECONDS:
        return None
    words = f"{hazard.kind.replace('-', ' ')} leaves seconds: no credit for self-rescue"
    return Stated(holds=False, because=words)


def _in_thin_air(way: Way, hazard: Hazard) -> Compared | Stated | Missing:
    """Useful consciousness at the stated level, turned to sea level by the altitude."""
    scene, altitude = way.scene, way.scene.site.site.altitude
    if hazard.level is None or altitude is None:
        return Missing(because="level of oxygen or altitude of the site not given")
    fraction = sea_level_oxygen(hazard.level.ratio, altitude.m)
    if fraction < COLLAPSE_OXYGEN_FRACTION:
        words = f"{hazard.level.written} of oxygen: collapse in one or two breaths is possible"
        return Stated(holds=False, because=words)
    air = slow(way, "air")
    if air is None:
        return Missing(because="the timeline does not say when the casualty has air")
    share = scene.defaults.of("useful-consciousness-share")
    resting = Quantity(
        symbol="t_rest",
        label=f"useful consciousness at rest, {fraction:.1%} of oxygen at sea level",
        value=useful_consciousness_s(_consciousness(), fraction),
        unit=Unit.S,
        source=Source(mark=Mark.READ, document="Useful consciousness table"),
    )
    return Working(resting.value * share.value, "t_rest*k", (resting, share)).against(
        Relation.AT_LEAST, air, result=output("t_clear", "time with a clear mind", Unit.S)
    )


@cache
def _consciousness() -> tuple[Consciousness, ...]:
    """The table of useful consciousness by flight level."""
    return tuple(
        Consciousness(
            parse(f"{100 * one['flight_level']} ft", Dimension.LENGTH).value,
            parse(one["least"], Dimension.TIME).value,
        )
        for one in table("useful_consciousness")["row"]
    )


def check_cold_water(scene: Scene) -> Iterator[Finding]:
    """The casualty is out of the water before exhaustion, by the temperature of the water."""
    for hazard in scene.space.hazard:
        if hazard.kind is not HazardKind.COLD_WATER:
            continue
        for way in scene.ways():
            needs = Needs()
            water = needs.take(
                "T_w",
                "water",
                hazard.water_temperature,
                Unit.K,
                scene.key(f"hazard.{hazard.kind}.water_temperature"),
            )
            yield compare(
                EXHAUSTED,
                way,
                needs,
                lambda: _exhausted(water),
                Relation.AT_LEAST,
                needs.keep(slow(way, "out"), way.key("step")),
                result=("t_exh", "least time to exhaustion, without flotation", Unit.S),
                settle_by="Get the casualty out sooner, or plan flotation that keeps the face up "
                "without help. " + _NO_TIME,
                keys=(scene.key(f"hazard.{hazard.kind}.water_temperature"), way.key("step")),
            )


def _exhausted(water: Quantity) -> Working:
    time_s = exhaustion_s(_cold_rows(), water.value)
    note = f"Cold-water table, water at {water.written}"
    read = derived("t_table", "least time to exhaustion", time_s, Unit.S, note, of=(water,))
    return Working(time_s, "t_table", (read,))


@cache
def _cold_rows() -> tuple[ColdRow, ...]:
    """The table of exhaustion by water temperature."""
    return tuple(
        ColdRow(
            parse(one["up_to"], Dimension.TEMPERATURE).value,
            parse(one["exhausted"], Dimension.TIME).value if "exhausted" in one else None,
        )
        for one in table("cold_water")["row"]
    )
