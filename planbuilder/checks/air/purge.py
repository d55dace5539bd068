"""Does ventilation clear the air before entry."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from planbuilder.checks.air.atmosphere import OXYGEN_KINDS, judged, part, target, volume, words
from planbuilder.checks.air.fresh_air import flow, mixing
from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Working, derived, finding, output
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
from planbuilder.response.ventilation import (
    OXYGEN_OF_AIR,
    fresh_air_m3_per_s,
    least_flow_m3_per_s,
    part_after,
    purge_time_s,
    steady_part,
)
from planbuilder.site.atmosphere import Clearing, Gas, Ventilation
from planbuilder.site.hazard import Hazard
from planbuilder.units import Fraction

DILUTION = Source(mark=Mark.DERIVED, note="dilution equation with a mixing factor")
CLEARED_FIRST = Source(
    mark=Mark.READ, document="OSHA ventilation letter", clause="question 1, first condition"
)
UNSTATED = Rule(
    "response/ventilation-not-stated",
    "Ventilation against each gas",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(3)(iv)"),
)
IMPOSSIBLE = Rule(
    "response/purge-impossible", "What stays however long the fan runs", Weight.BLOCKS, DILUTION
)
TOO_SHORT = Rule(
    "response/purge-too-short", "Ventilation before entry", Weight.BLOCKS, CLEARED_FIRST
)


def check_ventilation_stated(scene: Scene) -> Iterator[Finding]:
    """A gas has a fan with numbers for it, or the plan says why none is relied on."""
    for hazard in scene.space.hazard:
        if hazard.kind.value not in set(Gas) or not scene.space.is_confined:
            continue
        outcome, key = _ventilated(scene, hazard)
        yield finding(
            UNSTATED,
            outcome,
            settle_by="State the blower, its flow at the end of the duct, the time before entry, "
            "and each gas that it is to clear with its source rate; or say on the hazard why "
            "ventilation is not relied on (not_ventilated_because).",
            keys=(key,),
            space=scene.space,
            about=hazard.kind.replace("-", " "),
        )


def _ventilated(scene: Scene, hazard: Hazard) -> tuple[Stated | Missing, str]:
    """What the plan says of ventilation against a gas, and the key to touch."""
    air, why = scene.space.ventilation, hazard.not_ventilated_because
    key = scene.key("ventilation.gas")
    if air is None or hazard.kind.value not in {one.kind.value for one in air.gas}:
        if why is not None:
            return Stated(holds=True, because=f"not relied on: {why}"), key
        words = "ventilation is stated, but not for this gas" if air else "none is stated"
        return Missing(because=words), key
    if why is not None:
        words = f"stated for this gas, and said not to be relied on: {why}"
        return Stated(holds=False, because=words), scene.key("hazard.not_ventilated_because")
    if air.blower is None:
        return Missing(because="no blower is named"), scene.key("ventilation.blower")
    return Stated(holds=True, because=scene.equipment(air.blower).name), key


@dataclass(frozen=True, slots=True)
class Purge:
    """One gas that a fan is to clear, as parts of the air."""

    needs: Needs
    air: Quantity
    factor: Quantity
    start: Quantity
    target: Quantity
    source: Quantity
    supply: Quantity

    @property
    def fresh_m3_per_s(self) -> float:
        """The fresh air that counts."""
        return fresh_air_m3_per_s(flow_m3_per_s=self.air.value, mixing_factor=self.factor.value)

    @property
    def steady(self) -> float:
        """What stays however long the fan runs."""
        return steady_part(
            source_m3_per_s=self.source.value,
            fresh_air_m3_per_s=self.fresh_m3_per_s,
            supply=self.supply.value,
        )

    @property
    def least_flow_m3_per_s(self) -> float:
        """The flow that it takes to come to the target at all."""
        return least_flow_m3_per_s(
            source_m3_per_s=self.source.value,
            mixing_factor=self.factor.value,
            target=self.target.value,
            supply=self.supply.value,
        )


def purge_of(scene: Scene, air: Ventilation, gas: Clearing) -> Purge:
    """Fan and gas as numbers, with what is missing."""
    needs, key = Needs(), scene.key(f"ventilation.gas.{gas.kind}")
    label = "oxygen used up" if gas.kind is Gas.OXYGEN else "gas that flows in"
    source = needs.take("G", label, gas.source_rate, Unit.M3_PER_S, f"{key}.source_rate")
    if gas.kind is Gas.INERT:
        lost = OXYGEN_OF_AIR * source.value
        note = "oxygen that the gas drives out"
        source = derived("G", "oxygen lost", lost, Unit.M3_PER_S, note, (source,))
    supply = derived("C_in", "gas in the air blown in", 0, Unit.FRACTION, "a clean intake")
    if gas.supply is not None:
        supply = needs.take("C_in", supply.label, gas.supply, Unit.FRACTION, f"{key}.supply")
    aim = target(scene, gas.kind, gas.target, f"{key}.target")
    return Purge(
        needs=needs,
        air=flow(scene, air, needs),
        factor=mixing(scene, air, needs),
        start=part(scene, needs, gas.kind, *_worst(scene, gas, f"{key}.start")),
        target=part(scene, needs, gas.kind, aim, f"{key}.target", "target"),
        source=source,
        supply=supply,
    )


def _worst(scene: Scene, gas: Clearing, key: str) -> tuple[Fraction | None, str, str]:
    """The worse of the start stated and the worst level of the hazard, with its key and name."""
    found = [(gas.start, key)]
    if gas.kind not in (Gas.INERT, Gas.FLAMMABLE):  # a level there is of another kind
        key = scene.key(f"hazard.{gas.kind}.level")
        found += [(one.level, key) for one in scene.space.hazard if one.kind.value == gas.kind]
    given = [(amount.ratio, amount, where) for amount, where in found if amount is not None]
    if not given:  # the level of the hazard, where one is listed, is asked for once
        return None, found[-1][1], "start"
    worst = min if gas.kind is Gas.OXYGEN else max
    _, amount, where = worst(given, key=lambda one: one[0])
    return amount, where, "start"


def check_purge(scene: Scene) -> Iterator[Finding]:
    """The fan can bring each gas below its target, and is given the time before entry."""
    air = scene.space.ventilation
    for gas in air.gas if air else ():
        if air is not None:
            purge = purge_of(scene, air, gas)
            yield _possible(scene, gas, purge)
            yield _long_enough(scene, air, gas, purge)


def _possible(scene: Scene, gas: Clearing, purge: Purge) -> Finding:
    def outcome() -> Compared:
        inputs = (purge.supply, purge.source, purge.factor, purge.air)
        label = "oxygen lacking for good" if gas.kind in OXYGEN_KINDS else "part that stays"
        return Working(purge.steady, "C_in + K*G/Q", inputs).against(
            Relation.LESS_THAN, purge.target, result=output("C_inf", label, Unit.FRACTION)
        )

    return judged(
        scene,
        IMPOSSIBLE,
        purge.needs,
        outcome,
        settle_by=f"Stop the source, or bring more air.{_least_words(purge)}",
        keys=(scene.key("ventilation.flow"), scene.key("ventilation.gas")),
        about=words(gas.kind),
    )


def _least_words(purge: Purge) -> str:
    """The flow that it takes, where one can be worked out."""
    least = Needs()
    least.also(purge.needs)
    flow_m3_per_s = least.work(lambda: purge.least_flow_m3_per_s)
    if not flow_m3_per_s > 0:
        return ""
    cfm = math.ceil(flow_m3_per_s * 60 / 0.3048**3)
    return f" It takes more than {flow_m3_per_s * 60:.1f} m3/min ({cfm:,} cfm)."


def _long_enough(scene: Scene, air: Ventilation, gas: Clearing, purge: Purge) -> Finding:
    needs = Needs()
    needs.also(purge.needs)
    key = scene.key("ventilation.before_entry")
    space = volume(scene, needs, free=False)
    planned = needs.take("t_v", "ventilation before entry", air.before_entry, Unit.S, key)
    steady = needs.work(lambda: purge.steady)
    stays = derived(
        "C_inf",
        "part that stays",
        steady,
        Unit.FRACTION,
        "C_in + K*G/Q",
        (purge.supply, purge.source),
    )
    needed = needs.work(lambda: _needed_s(purge, space, steady))

    def outcome() -> Compared | Stated:
        if needed == math.inf:
            return Stated(holds=False, because="the target is never reached with this flow")
        if needed == 0:
            return Stated(holds=True, because="the air is within the target to begin with")
        formula = "K*V/Q*log((C_0 - C_inf)/(C_t - C_inf))"
        first = replace(purge.start, symbol="C_0")
        last = replace(purge.target, symbol="C_t")
        inputs = (purge.factor, space, purge.air, first, last, stays)
        return Working(needed, formula, inputs).against(
            Relation.AT_MOST, planned, result=output("t", "time to clear the air", Unit.S)
        )

    return judged(
        scene,
        TOO_SHORT,
        needs,
        outcome,
        settle_by=_settle(gas.kind, purge, space, planned, needed, steady),
        keys=(key, scene.key("ventilation.flow")),
        about=words(gas.kind),
    )


def _needed_s(purge: Purge, space: Quantity, steady: float) -> float:
    """The time that the purge takes; endless where the target is never reached."""
    if purge.target.value <= steady:
        return math.inf
    return purge_time_s(
        volume_m3=space.value,
        fresh_air_m3_per_s=purge.fresh_m3_per_s,
        start=purge.start.value,
        target=purge.target.value,
        steady=steady,
    )


def _settle(
    gas: Gas, purge: Purge, space: Quantity, planned: Quantity, needed_s: float, steady: float
) -> str:
    """How long to wait, and what a meter would read after the time planned."""
    if needed_s == math.inf:
        return "No time is long enough: stop the source, or bring more air."
    if not needed_s > planned.value:
        return "Ventilate longer, or bring more air."
    left = part_after(
        time_s=planned.value,
        volume_m3=space.value,
        fresh_air_m3_per_s=purge.fresh_m3_per_s,
        start=purge.start.value,
        steady=steady,
    )
    return (
        f"Ventilate for {math.ceil(needed_s / 60)} min or longer, and test: the time planned "
        f"brings {_reading(gas, purge, left)}."
    )


def _reading(gas: Gas, purge: Purge, left: float) -> str:
    """What a meter shows where *left* of the gas is in the air, and what it is to show.

    Cut the way that does not look better than it is.
    """
    aim = purge.target.value
    if gas in OXYGEN_KINDS:
        reached = math.floor((OXYGEN_OF_AIR - left) * 1e3) / 1e3
        return f"oxygen to {reached:.1%}, wanted {OXYGEN_OF_AIR - aim:.1%}"
    if gas is Gas.FLAMMABLE:
        lower = purge.target.of[1].value
        return (
            f"it to {math.ceil(left / lower * 100)}% of the lower limit, wanted {aim / lower:.0%}"
        )
    return f"it to {math.ceil(left * 1e6)} ppm, wanted {aim * 1e6:g} ppm"
