"""The fan stops while people are inside: is everybody out before a limit is passed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planbuilder.checks.air.atmosphere import LIMITS, judged, part, volume, words
from planbuilder.checks.air.gas_release import displaced
from planbuilder.checks.air.purge import Purge, purge_of
from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Working, derived, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.release import oxygen_falls_s, rise_time_s
from planbuilder.response.ventilation import OXYGEN_OF_AIR, part_after
from planbuilder.site.atmosphere import Clearing, Gas, Monitoring, Ventilation

STILL = Rule(
    "response/vent-loss-to-limit",
    "Time to leave when the fan stops",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, note="from the level at entry, or what stays; then still air"),
)


def check_vent_loss(scene: Scene) -> Iterator[Finding]:
    """From the stop of the fan to the limit of the rule set, for each gas that flows in."""
    air = scene.space.ventilation
    if air is None:
        return
    for gas in air.gas:
        yield _loss(scene, air, gas)


def _loss(scene: Scene, air: Ventilation, gas: Clearing) -> Finding:
    purge, needs = purge_of(scene, air, gas), Needs()
    needs.also(purge.needs)
    space = volume(scene, needs, free=True)
    key = scene.key("monitoring.everybody_out")
    meter = scene.space.monitoring or Monitoring()
    leave = needs.take("t_out", "time until everybody is out", meter.everybody_out, Unit.S, key)
    limit = scene.limits.of(LIMITS[gas.kind][0]).quantity
    most = part(scene, needs, gas.kind, limit, "", "limit")
    start = _at_entry(scene, air, purge, needs)

    def outcome() -> Compared | Stated:
        if purge.source.value == 0:
            return Stated(holds=True, because="nothing flows in: the air stays as it is")
        working = _still(gas.kind, purge.source, space, start, most)
        return working.against(
            Relation.AT_LEAST,
            leave,
            result=output("t_l", "from the stop of the fan to the limit", Unit.S),
        )

    return judged(
        scene,
        STILL,
        needs,
        outcome,
        settle_by="Stop the source, bring more air so that less is there when the fan stops, "
        "shorten the way out, or keep a second fan running.",
        keys=(key, scene.key(f"ventilation.gas.{gas.kind}.source_rate")),
        about=words(gas.kind),
        duty=scene.limits.duty("atmosphere.vent_escape_before_limit"),
    )


def _at_entry(scene: Scene, air: Ventilation, purge: Purge, needs: Needs) -> Quantity:
    """What is there when people go in: not less than what stays, however long the fan has run."""
    key = scene.key("ventilation.before_entry")
    planned = needs.take("t_v", "ventilation before entry", air.before_entry, Unit.S, key)
    whole = volume(scene, needs, free=False)
    value = needs.work(
        lambda: max(
            purge.steady,
            part_after(
                time_s=planned.value,
                volume_m3=whole.value,
                fresh_air_m3_per_s=purge.fresh_m3_per_s,
                start=purge.start.value,
                steady=purge.steady,
            ),
        )
    )
    note = "after the ventilation planned, or what stays, whichever is worse"
    of = (purge.supply, purge.source, purge.factor, purge.air, purge.start, planned, whole)
    return derived("C_a", "level when people go in", value, Unit.FRACTION, note, of)


def _still(kind: Gas, rate: Quantity, space: Quantity, start: Quantity, most: Quantity) -> Working:
    """The time in still air, from the level at entry to the limit."""
    if kind is Gas.OXYGEN:
        value = oxygen_falls_s(
            volume_m3=space.value, loss_m3_per_s=rate.value, start=start.value, danger=most.value
        )
        inputs = (space, rate, start, replace(most, symbol="C_l"))
        return Working(value, "max(V*(C_l - C_a)/G, 0)", inputs)
    if kind is Gas.INERT:
        (rate,) = rate.of  # the gas itself, and not the oxygen that it drives out
        share = start.value / OXYGEN_OF_AIR
        start = derived("C_a", "inert gas at entry", share, Unit.FRACTION, "C/0.209", (start,))
        most = displaced(Needs(), kind, most)
    value = rise_time_s(
        volume_m3=space.value,
        release_m3_per_s=rate.value,
        start=start.value,
        danger=most.value,
    )
    inputs = (space, replace(rate, symbol="G"), start, replace(most, symbol="C_l"))
    return Working(value, "max(V/G*log((1 - C_a)/(1 - C_l)), 0)", inputs)
