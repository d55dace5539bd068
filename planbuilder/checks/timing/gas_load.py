"""What a stated level does to the blood before air comes, to follow with a pencil.

Held against the rescue as timed, beside the planning limit.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, derived, finding
from planbuilder.checks.timing.moments import slow
from planbuilder.findings import (
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
from planbuilder.response.classes import IDLH_HYDROGEN_SULFIDE_FRACTION
from planbuilder.site.hazard import HazardKind

LADEN = Rule(
    "response/carboxyhaemoglobin",
    "Air before the blood is laden with carbon monoxide",
    Weight.WARNS,
    Source(mark=Mark.READ, document="Coburn-Forster-Kane"),
)
UNSTATED = Rule(
    "response/level-not-stated",
    "Worst level of carbon monoxide",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="beyond 5,000 ppm less time is left than the class allows"),
)
LOAD = Rule(
    "response/hydrogen-sulfide-load",
    "Air before the toxic load of hydrogen sulfide",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="Guideline levels, hydrogen sulfide"),
)


def _levels(scene: Scene, kind: HazardKind) -> Iterator[Quantity]:
    """The levels that are stated for hazards of that kind."""
    for one in scene.space.hazard:
        if one.kind is kind and one.level is not None:
            label, key = kind.replace("-", " "), f"hazard.{kind}.level"
            yield scene.given("C", label, one.level, Unit.FRACTION, key)


def _air(way: Way, needs: Needs) -> Quantity:
    """When air comes on a slow day, which the time left must not fall short of."""
    return needs.keep(slow(way, "air"), way.key("step"))


def check_level_stated(scene: Scene) -> Iterator[Finding]:
    """Without its level, nobody knows whether carbon monoxide leaves as long as its class."""
    kind = HazardKind.CARBON_MONOXIDE
    for one in scene.space.hazard:
        if one.kind is not kind:
            continue
        outcome: Stated | Missing = Missing(because="the level of carbon monoxide is not given")
        if one.level is not None:
            outcome = Stated(holds=True, because=f"up to {one.level.written}")
        yield finding(
            UNSTATED,
            outcome,
            settle_by="Find out the worst level that can come about, and state it.",
            keys=(scene.key(f"hazard.{kind}.level"),),
            space=scene.space,
        )


def check_carboxyhaemoglobin(scene: Scene) -> Iterator[Finding]:
    """Air comes before 30 % carboxyhaemoglobin, by the uptake model and by the straight line."""
    for level in _levels(scene, HazardKind.CARBON_MONOXIDE):
        uptake = _uptake(level)
        if uptake is None:
            words = f"at {level.written} the blood never comes to 30 %, even in balance"
            yield finding(
                LADEN,
                Stated(holds=True, because=words),
                settle_by="Keep the level down by ventilation.",
                keys=(level.source.key,),
                space=scene.space,
            )
            continue
        both = (("uptake model", uptake), ("straight line, by hand", _straight(level)))
        for way in scene.ways():
            for name, working in both:
                needs = Needs()
                yield compare(
                    LADEN,
                    way,
                    needs,
                    lambda: working,
                    Relation.AT_LEAST,
                    _air(way, needs),
                    result=("t_30", "time to 30 % carboxyhaemoglobin, heavy work", Unit.S),
                    settle_by="Bring air sooner, or keep the level down by ventilation and state "
                    "it.",
                    keys=(level.source.key, way.key("step")),
                    about=name,
                )


def _uptake(level: Quantity) -> Working | None:
    """The time by the uptake model; None where the blood is never laden that far."""
    uptake_s, ratio = co.uptake_time_s(co.HEAVY), co.balance_ratio(level.value, co.HEAVY)
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
            f"218 times the pressure of carbon monoxide over 100 mmHg of oxygen, {level.written}",
            of=(level,),
        ),
        _load("x_0", "load before", co.RESTING_LOAD),
        _load("x_1", "load at which nobody can act", co.INCAPACITATING),
    )
    formula = "T_up*((x_1 - x_0)/(1 + A) + log((A - (1 + A)*x_0)/(A - (1 + A)*x_1))/(1 + A)**2)"
    return Working(time_s, formula, inputs)


def _load(symbol: str, label: str, value: float) -> Quantity:
    source = Source(mark=Mark.RECALLED, document="Coburn-Forster-Kane", note="planning end point")
    return Quantity(symbol=symbol, label=label, value=value, unit=Unit.FRACTION, source=source)


def _straight(level: Quantity) -> Working:
    """The same by the straight line for short, high exposures."""
    a_second = co.quick_load(
        fraction=level.value, breath_m3_per_s=co.HEAVY_BREATH_M3_PER_S, time_s=1.0
    )
    source = Source(mark=Mark.READ, document="Stewart 1973", note="heavy work")
    breath = Quantity(
        symbol="V_E",
        label="air breathed",
        value=co.HEAVY_BREATH_M3_PER_S,
        unit=Unit.M3_PER_S,
        source=source,
    )
    inputs = (
        _load("x_0", "load before", co.RESTING_LOAD),
        _load("x_1", "load at which nobody can act", co.INCAPACITATING),
        replace(level, label=f"{level.label}, ppm", value=1e6 * level.value, unit=Unit.COUNT),
        breath,
    )
    formula = "60*100*(x_1 - x_0)/(3.317e-5*C**1.036*(6e4*V_E))"
    return Working((co.INCAPACITATING - co.RESTING_LOAD) / a_second, formula, inputs)


def check_hydrogen_sulfide_load(scene: Scene) -> Iterator[Finding]:
    """Below 100 ppm, air comes before the load reaches the no-death threshold for the public."""
    for level in _levels(scene, HazardKind.HYDROGEN_SULFIDE):
        if not 0 < level.value < IDLH_HYDROGEN_SULFIDE_FRACTION:
            continue  # from there on the class alone decides: the formula says nothing
        for way in scene.ways():
            needs = Needs()
            yield compare(
                LOAD,
                way,
                needs,
                lambda: _toxic_load(level),
                Relation.AT_LEAST,
                _air(way, needs),
                result=("t_load", "time to the threshold of load", Unit.S),
                settle_by="Bring air sooner, or keep the level down by ventilation and state it. "
                "Smell is never a warning.",
                keys=(level.source.key, way.key("step")),
            )


def _toxic_load(level: Quantity) -> Working:
    """The time to the threshold; ValueError where the formula does not hold."""
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
    time_s = h2s.load_time_s(level.value)
    return Working(time_s, "min(t_ref*(C_ref/C)**n, t_most)", (*inputs, level))
