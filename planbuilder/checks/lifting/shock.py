"""Shock on the line: slack that runs out, an absorber, a lowering that stops dead."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import GRAVITY, weight
from planbuilder.checks.lifting.line_stretch import stiffness
from planbuilder.checks.lifting.raise_time import parts_at_load
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, stated
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.shock import (
    absorber_travel_m,
    largest_slack_m,
    least_peak_n,
    slack_drop_force_n,
    sudden_stop_force_n,
)
from planbuilder.site.equipment import LoweringDevice, SelfRetractingLine, Winch
from planbuilder.site.rig import Rig

STATICS = Source(mark=Mark.DERIVED, document="Statics")
SLACK = Rule("haul/slack-line", "Shock when slack in the line runs out", Weight.BLOCKS, STATICS)
ABSORBER = Rule("haul/absorber-runs-out", "Travel of the energy absorber", Weight.BLOCKS, STATICS)
STOP = Rule("haul/sudden-stop", "Shock when a lowering stops dead", Weight.WARNS, STATICS)


def check_slack(scene: Scene) -> Iterator[Finding]:
    """Wire hardly stretches: a hand's breadth of slack already strikes hard.

    A line that keeps itself taut is asked only where slack is stated.
    """
    for way, rig, device in _lines(scene):
        needs = Needs()
        slack = needs.take("h", "slack", rig.slack, Unit.M, way.key("rig.slack"))
        taut, load = slack.value == 0, weight(way)
        give = None if taut or needs.missing else stiffness(way, rig, device, needs)
        limit = _held(way, rig, needs, asked=not taut)
        yield compare(
            SLACK,
            way,
            needs,
            partial(_shock, way, rig, load, slack, give),
            Relation.AT_MOST,
            limit,
            result=("F", "force on line, body and head", Unit.N),
            settle_by=_less_slack(needs, load, give, limit),
            keys=(way.key("rig.slack"),),
        )


def _lines(scene: Scene) -> Iterator[tuple[Way, Rig, AnyDevice]]:
    for way in scene.ways():
        if way.rig is None:
            continue
        device = scene.device(way.rig.device)
        if way.rig.slack is not None or not isinstance(device, SelfRetractingLine):
            yield way, way.rig, device


def _held(way: Way, rig: Rig, needs: Needs, *, asked: bool) -> Quantity:
    """The force that body and head both take: LC2, whichever is less.

    Where the line can fall into slack the head must be rated for a catch.
    """
    body = way.scene.limits.of("fall.arrest_force").quantity
    support = way.scene.support(rig.support)
    if support.arrest_load is None and not asked:
        return body
    key = f"support.{support.id}.arrest_load"
    label = f"arrest rating of {support.name}"
    head = needs.take("F_head", label, support.arrest_load, Unit.N, key)
    return min(body, head, key=lambda one: one.value)


def _shock(way: Way, rig: Rig, load: Quantity, slack: Quantity, give: Quantity | None) -> Working:
    if give is None:
        return Working(least_peak_n(load.value), "2*W", (load,))
    value = slack_drop_force_n(
        weight_n=load.value, stiffness_n_per_m=give.value, slack_m=slack.value
    )
    formula, inputs = "W + sqrt(W**2 + 2*W*k*h)", (load, give, slack)
    absorber = rig.absorber
    if absorber is None:
        return Working(value, formula, inputs)
    key = way.key("rig.absorber.force")
    force = stated("F_a", "force of the absorber", absorber.force, Unit.N, key)
    return Working(min(value, force.value), f"min({formula}, F_a)", (*inputs, force))


def _less_slack(needs: Needs, load: Quantity, give: Quantity | None, limit: Quantity) -> str:
    kept = 'Keep the line taut (slack = "0 in")'
    if give is None or needs.missing or needs.refused:
        return f"{kept}: a load let go onto a just-taut line pulls twice its weight."
    try:
        most_m = largest_slack_m(
            weight_n=load.value, stiffness_n_per_m=give.value, force_limit_n=limit.value
        )
    except ValueError as error:
        return f"Use parts that hold more: {error}."
    most_mm = math.floor(most_m * 1000)
    return f"{kept}, at most {most_mm} mm of slack, or put an energy absorber on the body's side."


def check_absorber(scene: Scene) -> Iterator[Finding]:
    """An absorber stops the casualty before it has run out; after that it is a mere strap."""
    for way, rig, _ in _lines(scene):
        absorber = rig.absorber
        if absorber is None:
            continue
        needs, load, key = Needs(), weight(way), way.key("rig.absorber")
        slack = needs.take("h", "slack", rig.slack, Unit.M, way.key("rig.slack"))
        force = stated("F_a", "force of the absorber", absorber.force, Unit.N, f"{key}.force")

        def working() -> Working:
            value = absorber_travel_m(
                weight_n=load.value, free_fall_m=slack.value, absorber_force_n=force.value
            )
            return Working(value, "W*h/(F_a - W)", (load, slack, force))

        yield compare(
            ABSORBER,
            way,
            needs,
            working,
            Relation.AT_MOST,
            stated("x_a", "travel that the absorber has", absorber.travel, Unit.M, f"{key}.travel"),
            result=("x", "travel that stops the casualty", Unit.M),
            settle_by="Allow less slack, or use an absorber with more travel or force.",
            keys=(key, way.key("rig.slack")),
        )


def check_sudden_stop(scene: Scene) -> Iterator[Finding]:
    """A line that runs out and is stopped dead strikes by its speed and its stiffness."""
    for way, rig, device in _lines(scene):
        if not isinstance(device, Winch | LoweringDevice):
            continue
        needs, load, key = Needs(), weight(way), f"device.{device.id}.line_speed"
        speed = needs.take("v_line", "line speed", device.line_speed, Unit.M_PER_S, key)
        give, parts = stiffness(way, rig, device, needs), parts_at_load(scene, device)

        def working() -> Working:
            value = sudden_stop_force_n(
                mass_kg=load.value / GRAVITY.value,
                speed_m_per_s=speed.value / parts.value,
                stiffness_n_per_m=give.value,
            )
            formula = "W + v_line/n_parts*sqrt(W/g*k)"
            return Working(value, formula, (load, speed, parts, GRAVITY, give))

        yield compare(
            STOP,
            way,
            needs,
            working,
            Relation.AT_MOST,
            _held(way, rig, needs, asked=False),
            result=("F", "force when the line stops dead", Unit.N),
            settle_by="Lower more slowly, or stop the line over some way.",
            keys=(key,),
        )
