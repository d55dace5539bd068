"""What a stated level or temperature leaves: load of the blood, toxic load, a clear mind, strength.

Calculations to follow with a pencil beside the planning limit, held against the rescue as timed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache

from planbuilder.checks.asking import MEASURE, Needs, compare
from planbuilder.checks.hazards import classify
from planbuilder.checks.moments import slow
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, output
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
from planbuilder.response import carbon_monoxide as co
from planbuilder.response import hydrogen_sulfide as h2s
from planbuilder.response.classes import IDLH_HYDROGEN_SULFIDE_FRACTION, PlanningClass
from planbuilder.response.cold_water import ColdRow, exhaustion_s
from planbuilder.response.oxygen import (
    COLLAPSE_OXYGEN_FRACTION,
    Consciousness,
    sea_level_oxygen,
    useful_consciousness_s,
)
from planbuilder.site.space import Hazard, HazardKind, MethodKind
from planbuilder.tables import table
from planbuilder.units import Dimension, parse

LADEN = Rule(
    "response/carboxyhaemoglobin",
    "Air before the blood is laden with carbon monoxide",
    Weight.WARNS,
    Source(mark=Mark.READ, document="Coburn-Forster-Kane"),
)
LOAD = Rule(
    "response/hydrogen-sulfide-load",
    "Air before the toxic load of hydrogen sulfide",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="Guideline levels, hydrogen sulfide"),
)
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


def _levels(scene: Scene, kind: HazardKind) -> Iterator[tuple[Hazard, float]]:
    """The hazards of that kind whose level is stated."""
    for one in scene.space.hazard:
        if one.kind is kind and one.level is not None:
            yield one, one.level.ratio


def _limit(way: Way, name: str, needs: Needs) -> Quantity:
    """The moment on a slow day, which the time left must not fall short of."""
    return needs.keep(slow(way, name), way.key("step"))


def check_carboxyhaemoglobin(scene: Scene) -> Iterator[Finding]:
    """Air comes before 30 % carboxyhaemoglobin, by the uptake model and by the straight line."""
    for hazard, level in _levels(scene, HazardKind.CARBON_MONOXIDE):
        for way in scene.ways():
            for name, working in (
                ("uptake model", _uptake(level)),
                ("straight line, by hand", _straight(scene, hazard)),
            ):
                if working is None:
                    continue
                needs = Needs()
                yield compare(
                    LADEN,
                    way,
                    needs,
                    lambda: working,
                    Relation.AT_LEAST,
                    _limit(way, "air", needs),
                    result=("t_30", "time to 30 % carboxyhaemoglobin, heavy work", Unit.S),
                    settle_by="Bring air sooner, or keep the level down by ventilation and state "
                    "it.",
                    keys=(scene.key("hazard"), way.key("step")),
                    about=name,
                )


def _uptake(level: float) -> Working | None:
    """The time by the uptake model; None where the blood is never laden that far."""
    uptake_s, ratio = co.uptake_time_s(co.HEAVY), co.balance_ratio(level, co.HEAVY)
    time_s = co.time_to_load_s(uptake_s=uptake_s, ratio=ratio)
    if not math.isfinite(time_s):
        return None
    model = "Coburn-Forster-Kane; heavy work: 30 L/min of air, 50 mL/min passed for each mmHg"
    inputs = (
        derived("T_up", "time constant of uptake", uptake_s, Unit.S, f"{model}; 5.5 L of blood"),
        derived(
            "A",
            "laden over free haemoglobin in the end",
            ratio,
            Unit.RATIO,
            f"218 times the pressure of carbon monoxide over 100 mmHg of oxygen, at {level:.3%}",
        ),
        _load("x_0", "load before", co.RESTING_LOAD),
        _load("x_1", "load at which nobody can act", co.INCAPACITATING),
    )
    formula = "T_up*((x_1 - x_0)/(1 + A) + log((A - (1 + A)*x_0)/(A - (1 + A)*x_1))/(1 + A)**2)"
    return Working(time_s, formula, inputs)


def _load(symbol: str, label: str, value: float) -> Quantity:
    source = Source(mark=Mark.RECALLED, document="Coburn-Forster-Kane", note="planning end point")
    return Quantity(symbol=symbol, label=label, value=value, unit=Unit.FRACTION, source=source)


def _straight(scene: Scene, hazard: Hazard) -> Working | None:
    """The same by the straight line for short, high exposures."""
    if hazard.level is None:
        return None
    a_second = co.quick_load(
        fraction=hazard.level.ratio, breath_m3_per_s=co.HEAVY_BREATH_M3_PER_S, time_s=1.0
    )
    if a_second <= 0:
        return None
    source = Source(mark=Mark.READ, document="Stewart 1973", note="heavy work")
    breath = Quantity(
        symbol="V_E",
        label="air breathed",
        value=co.HEAVY_BREATH_M3_PER_S,
        unit=Unit.M3_PER_S,
        source=source,
    )
    inputs = (
        _load("x_1", "load at which nobody can act", co.INCAPACITATING),
        scene.given("C", "carbon monoxide", hazard.level, Unit.FRACTION, "hazard.level"),
        breath,
    )
    formula = "60*100*x_1/(3.317e-5*(1e6*C)**1.036*(6e4*V_E))"
    return Working(co.INCAPACITATING / a_second, formula, inputs)


def check_hydrogen_sulfide_load(scene: Scene) -> Iterator[Finding]:
    """Below 100 ppm, air comes before the load reaches the no-death threshold for the public."""
    for hazard, level in _levels(scene, HazardKind.HYDROGEN_SULFIDE):
        if not 0 < level < IDLH_HYDROGEN_SULFIDE_FRACTION:
            continue  # from there on the class alone decides: the formula says nothing
        for way in scene.ways():
            needs = Needs()
            yield compare(
                LOAD,
                way,
                needs,
                lambda: _toxic_load(scene, hazard),
                Relation.AT_LEAST,
                _limit(way, "air", needs),
                result=("t_load", "time to the threshold of load", Unit.S),
                settle_by="Bring air sooner, or keep the level down by ventilation and state it. "
                "Smell is never a warning.",
                keys=(scene.key("hazard"), way.key("step")),
            )


def _toxic_load(scene: Scene, hazard: Hazard) -> Working:
    """The time to the threshold; ValueError where the formula does not hold."""
    level = hazard.level
    if level is None:
        raise ValueError("no level is stated")
    source = Source(mark=Mark.RECALLED, document="Guideline levels, hydrogen sulfide")
    numbers = (
        ("t_ref", "threshold: time", h2s.THRESHOLD_S, Unit.S),
        ("C_ref", "threshold: level", h2s.THRESHOLD_FRACTION, Unit.FRACTION),
        ("n", "exponent of the level", h2s.LOAD_EXPONENT, Unit.RATIO),
        ("t_most", "end of the formula's range", h2s.LONGEST_S, Unit.S),
    )
    inputs = tuple(
        Quantity(symbol=symbol, label=label, value=value, unit=unit, source=source)
        for symbol, label, value, unit in numbers
    )
    given = scene.given("C", "hydrogen sulfide", level, Unit.FRACTION, "hazard.level")
    time_s = h2s.load_time_s(level.ratio)
    return Working(time_s, "min(t_ref*(C_ref/C)**n, t_most)", (*inputs, given))


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
    scene, altitude = way.scene, way.scene.site.site.altitude
    if hazard.kind is not HazardKind.OXYGEN:
        if classify(hazard) is not PlanningClass.SECONDS:
            return None
        words = f"{hazard.kind.replace('-', ' ')} leaves seconds: no credit for self-rescue"
        return Stated(holds=False, because=words)
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
                scene.key("hazard.water_temperature"),
            )
            yield compare(
                EXHAUSTED,
                way,
                needs,
                lambda: _exhausted(water),
                Relation.AT_LEAST,
                _limit(way, "out", needs),
                result=("t_exh", "least time to exhaustion, without flotation", Unit.S),
                settle_by="Get the casualty out sooner, or plan flotation that keeps the face up "
                "without help. " + _NO_TIME,
                keys=(scene.key("hazard.water_temperature"), way.key("step")),
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
