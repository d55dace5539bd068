"""The gas meter: its lag, how long to wait at each stop, the order of testing, the bump test."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.air.atmosphere import judged
from planbuilder.checks.asking import Needs
from planbuilder.checks.days import day_text
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
from planbuilder.response.sensing import line_time_s
from planbuilder.site.atmosphere import Monitoring

GENERAL = "29 CFR 1910.146"
WAIT = Rule(
    "response/sample-wait-too-short",
    "Wait at each sampling stop",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document=GENERAL, clause="App B(3)", note="response time"),
)
ORDER = Rule(
    "response/test-order",
    "Oxygen, then flammable, then toxic",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(5)(iii)"),
)
BUMP = Rule(
    "response/meter-not-bump-tested",
    "Meter tried with gas on the day",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(4)(i)"),
)
IN_ORDER = ["oxygen", "flammable", "toxic"]


def is_tested(scene: Scene) -> bool:
    """Whether the plan makes the air a matter of tests: it ventilates, fears a gas, or tests."""
    space = scene.space
    return bool(space.ventilation or space.release or space.monitoring)


def line_time(scene: Scene, meter: Monitoring, needs: Needs) -> Quantity:
    """How long air takes through the sample line; nothing where there is no line."""
    key = scene.key("monitoring")
    length = needs.take("l", "sample line", meter.sample_line, Unit.M, f"{key}.sample_line")
    if meter.sample_line is not None and meter.sample_line.m == 0:
        return derived("t_line", "time through the line", 0.0, Unit.S, "no line", (length,))
    wide = needs.take(
        "d", "inside of the line", meter.line_diameter, Unit.M, f"{key}.line_diameter"
    )
    pump = needs.take("q", "flow of the pump", meter.pump_flow, Unit.M3_PER_S, f"{key}.pump_flow")
    value = needs.work(
        lambda: line_time_s(
            length_m=length.value, diameter_m=wide.value, pump_flow_m3_per_s=pump.value
        )
    )
    of = (length, wide, pump)
    return derived("t_line", "time through the line", value, Unit.S, "pi*d**2*l/(4*q)", of)


def lag(scene: Scene, needs: Needs) -> Quantity:
    """How late the meter shows 90 % of what is there."""
    meter = scene.space.monitoring or Monitoring()
    line = line_time(scene, meter, needs)
    key = scene.key("monitoring.response_time")
    response = needs.take("t_90", "response time", meter.response_time, Unit.S, key)
    value = line.value + response.value
    return derived("t_lag", "lag of the meter", value, Unit.S, "t_line + t_90", (line, response))


def check_wait(scene: Scene) -> Iterator[Finding]:
    """At each stop the meter is given time to show what is there."""
    meter = scene.space.monitoring
    if meter is None:
        return
    needs = Needs()
    late, lags = lag(scene, needs), scene.defaults.of("lags-at-stop")
    key = scene.key("monitoring.wait_at_stop")
    wait = needs.take("t_w", "wait at each stop", meter.wait_at_stop, Unit.S, key)

    def outcome() -> Compared:
        return Working(lags.value * late.value, "n_lag*t_lag", (lags, late)).against(
            Relation.AT_MOST, wait, result=output("t", "wait that the meter needs", Unit.S)
        )

    needed = needs.work(lambda: lags.value * late.value)
    number = f", {math.ceil(needed)} s or more" if needed > 0 else ""
    yield judged(
        scene,
        WAIT,
        needs,
        outcome,
        settle_by=f"Wait longer at each stop{number}, or use a shorter and thinner line.",
        keys=(key,),
    )


def check_order(scene: Scene) -> Iterator[Finding]:
    """A flammable sensor needs oxygen: oxygen is tested first, toxic gases last."""
    if not is_tested(scene):
        return
    order = scene.space.monitoring.order if scene.space.monitoring else None
    outcome: Stated | Missing = Missing(because="the order of testing is not given")
    if order is not None:
        outcome = Stated(holds=order == IN_ORDER, because=f"tested: {', '.join(order)}")
    yield finding(
        ORDER,
        outcome,
        settle_by='Test in this order and state it: order = ["oxygen", "flammable", "toxic"].',
        keys=(scene.key("monitoring.order"),),
        space=scene.space,
    )


def check_bump(scene: Scene) -> Iterator[Finding]:
    """The meter is tried with gas on every day of entry; once work has begun, on that day."""
    if not is_tested(scene):
        return
    yield finding(
        BUMP,
        _bump(scene, scene.space.monitoring or Monitoring()),
        settle_by="Name the meter, try it with gas before the first entry of each day "
        "(bump_test_daily = true), and state bump_tested_on on the day of work.",
        keys=(
            scene.key("monitoring.meter"),
            scene.key("monitoring.bump_test_daily"),
            scene.key("monitoring.bump_tested_on"),
        ),
        space=scene.space,
    )


def _bump(scene: Scene, meter: Monitoring) -> Stated | Missing:
    if meter.meter is None:
        return Missing(because="no gas meter is named")
    name, day = scene.equipment(meter.meter).name, meter.bump_tested_on
    if meter.bump_test_daily is None:
        return Missing(because=f"{name}: not said that it is tried with gas each day")
    if not meter.bump_test_daily:
        return Stated(holds=False, because=f"{name}: not tried with gas each day")
    if scene.on < scene.space.task.start:
        return Stated(holds=True, because=f"{name}: tried with gas on each day of work")
    if day is None:
        return Missing(because=f"{name}: no trial with gas on {day_text(scene.on)}")
    return Stated(holds=day == scene.on, because=f"{name}: last tried with gas {day_text(day)}")
