"""How much fresh air a fan brings into a space, and how well it mixes."""

from __future__ import annotations

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
from planbuilder.response.duct import duct_resistance, flow_on_duct_m3_per_s
from planbuilder.site.atmosphere import FlowIs, Layout, MixingTest, Ventilation

OWN = Source(mark=Mark.CHOICE)
FREE_AIR = Rule(
    "response/fan-free-air-flow",
    "Air at the end of the duct, not that of a fan alone",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, note="a duct takes a part of what a fan blows without one"),
)
MEASURED = Rule(
    "response/flow-not-measured", "Flow measured at the end of the duct", Weight.WARNS, OWN
)
MIXING = Rule(
    "response/mixing-assumed",
    "Mixing no better than a test has shown",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="MMWR 43 RR-13", clause="table S3-1, note"),
)
STOPS = Rule("response/fan-can-stop-unnoticed", "Alarm when the fan stops", Weight.WARNS, OWN)
NOTICED = "atmosphere.vent_loss_detection"
INTAKE = Rule(
    "response/intake-not-clean",
    "Air blown in comes from a clean place",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="OSHA ventilation letter", clause="question 1"),
)
FAR_END = Rule(
    "response/no-far-end-test",
    "Air tested at the far end and at every level",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="App B(4)"),
)
_DEFAULTS = {
    Layout.OPEN: "mixing-open",
    Layout.OBSTRUCTED: "mixing-obstructed",
    Layout.DEAD_LEG: "mixing-dead-leg",
}


def flow(scene: Scene, air: Ventilation, needs: Needs) -> Quantity:
    """The flow at the end of the duct: as measured, or worked out from that of the fan alone."""
    key = scene.key("ventilation.flow")
    free = needs.take("Q", "flow of fresh air", air.flow, Unit.M3_PER_S, key)
    needs.say(air.flow_is, scene.key("ventilation.flow_is"))
    if air.flow_is is not FlowIs.FREE_AIR:
        return free
    duct, inside = air.duct, scene.key("ventilation.duct")
    shut_key = scene.key("ventilation.shut_pressure")
    shut = needs.take("p_0", "pressure of the fan, duct shut", air.shut_pressure, Unit.PA, shut_key)
    wide = needs.take("d_d", "width of the duct", duct.diameter, Unit.M, f"{inside}.diameter")
    long = needs.take("l_d", "length of the duct", duct.length, Unit.M, f"{inside}.length")
    bends = needs.number("n_b", "bends", duct.bends, Unit.COUNT, f"{inside}.bends")
    rough = scene.defaults.of("duct-friction")
    if duct.friction is not None:
        rough = needs.number(
            "f_d", "friction factor", duct.friction, Unit.RATIO, f"{inside}.friction"
        )
    bend = scene.defaults.of("bend-loss")
    if duct.bend_loss is not None:
        bend = needs.number(
            "k_b", "loss of a bend", duct.bend_loss, Unit.RATIO, f"{inside}.bend_loss"
        )
    value = needs.work(
        lambda: flow_on_duct_m3_per_s(
            free_flow_m3_per_s=free.value,
            shut_pressure_pa=shut.value,
            resistance=duct_resistance(
                length_m=long.value,
                diameter_m=wide.value,
                friction=rough.value,
                bends=bends.value,
                bend_loss=bend.value,
            ),
        )
    )
    of = (free, shut, wide, long, bends, rough, bend)
    return derived("Q", "flow of fresh air", value, Unit.M3_PER_S, "fan curve on the duct", of)


def mixing(scene: Scene, air: Ventilation, needs: Needs) -> Quantity:
    """The mixing factor: as tested, else the worse of the stated one and the default."""
    key = scene.key("ventilation.mixing_factor")
    own = None
    if air.mixing_factor is not None:
        own = needs.number("K", "mixing factor", air.mixing_factor, Unit.RATIO, key)
        if _is_tested(air):
            return own
    if air.layout is None:
        layout_key = scene.key("ventilation.layout")
        return needs.number("K", "mixing factor", None, Unit.RATIO, layout_key)
    usual = scene.defaults.of(_DEFAULTS[air.layout])
    return own if own is not None and own.value >= usual.value else usual


def _is_tested(air: Ventilation) -> bool:
    return air.mixing_rests_on in (MixingTest.TRACER_GAS, MixingTest.FAR_END)


def check_flow(scene: Scene) -> Iterator[Finding]:
    """The flow that the plan counts on is that of the fan with its duct, best a measured one."""
    air = scene.space.ventilation
    if air is None:
        return
    keys = (scene.key("ventilation.flow"), scene.key("ventilation.flow_is"))
    needs = Needs()
    needs.say(air.flow, keys[0])
    needs.say(air.flow_is, keys[1])
    yield judged(
        scene,
        FREE_AIR,
        needs,
        lambda: _at_the_duct(scene, air),
        settle_by="Measure the flow at the end of the duct as it lies, or state shut_pressure of "
        "the fan and the duct's diameter, length and bends.",
        keys=keys,
    )
    measured, day = air.flow_is is FlowIs.MEASURED, air.flow_measured_on
    outcome: Stated | Missing = Missing(because="no day on which the flow was measured")
    if air.flow_is is FlowIs.FREE_AIR:
        outcome = Missing(because="the flow is that of the fan alone, not measured on the duct")
    elif measured and day is not None:
        outcome = Stated(holds=day <= scene.on, because=f"measured on {day_text(day)}")
    yield finding(
        MEASURED,
        outcome,
        settle_by="Measure the flow at the end of the duct, and state flow_measured_on.",
        keys=(scene.key("ventilation.flow_measured_on"),),
        space=scene.space,
    )


def _at_the_duct(scene: Scene, air: Ventilation) -> Stated:
    if air.flow_is is FlowIs.MEASURED:
        return Stated(holds=True, because="measured at the end of the duct")
    needs = Needs()
    flow(scene, air, needs)
    if needs.missing:
        because = f"flow of the fan alone; {needs.because}, so that the duct is not counted"
        return Stated(holds=False, because=because)
    return Stated(holds=True, because="worked out for the duct from the flow of the fan alone")


def check_mixing(scene: Scene) -> Iterator[Finding]:
    """Nobody assumes better mixing than the default without a test."""
    air = scene.space.ventilation
    if air is None:
        return
    needs = Needs()
    used = mixing(scene, air, needs)

    def outcome() -> Compared | Stated:
        if air.mixing_factor is None or _is_tested(air) or air.layout is None:
            word = "tested" if air.mixing_factor is not None else "default for the layout"
            return Stated(holds=True, because=f"factor {used.value:g}, {word}")
        usual = scene.defaults.of(_DEFAULTS[air.layout])
        own = Needs().number(
            "K",
            "mixing factor",
            air.mixing_factor,
            Unit.RATIO,
            scene.key("ventilation.mixing_factor"),
        )
        return Working(own.value, "K", (own,)).against(
            Relation.AT_LEAST,
            usual,
            result=output("K", "mixing factor, not tested", Unit.RATIO),
        )

    yield judged(
        scene,
        MIXING,
        needs,
        outcome,
        settle_by="Leave the factor out, or show it by tracer gas or readings at the far end and "
        "state mixing_rests_on.",
        keys=(
            scene.key("ventilation.mixing_factor"),
            scene.key("ventilation.mixing_rests_on"),
            scene.key("ventilation.layout"),
        ),
    )


_ASKED = (
    (
        FAR_END,
        "far_end_test",
        "readings at the far end and at every level before entry",
        "Test at the far end and at every level before anybody goes in, about every 4 ft "
        "(1.2 m), and state far_end_test = true.",
    ),
    (
        STOPS,
        "alarm_on_stop",
        "an alarm tells that the fan has stopped",
        "Have a flow alarm, or somebody at the fan with no other duty; everybody leaves when it "
        "stops, and the air is tested again. State alarm_on_stop = true.",
    ),
    (
        INTAKE,
        "clean_intake",
        "the intake stands clear of exhaust, vents and the opening",
        "Set the intake where the air is clean, upwind of engines and vents, and state "
        "clean_intake = true.",
    ),
)


def check_fan_in_use(scene: Scene) -> Iterator[Finding]:
    """The air is tested where the fan reaches least, the fan is watched, its intake is clean."""
    air = scene.space.ventilation
    if air is None:
        return
    for rule, name, promise, settle_by in _ASKED:
        said = getattr(air, name)
        outcome: Stated | Missing = Missing(because=f"not said: {promise}")
        if said is not None:
            outcome = Stated(holds=said, because=promise if said else f"not so: {promise}")
        yield finding(
            rule,
            outcome,
            settle_by=settle_by,
            keys=(scene.key(f"ventilation.{name}"),),
            space=scene.space,
            duty=scene.limits.duty(NOTICED) if rule is STOPS else None,
        )
