"""Clearance: the lift of a casualty who lies aside: dragged first, swinging in, or held back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import compare
from planbuilder.checks.casualty import GRAVITY, weight
from planbuilder.checks.room.aside import Aside, asides
from planbuilder.checks.scene import Scene, Working, derived
from planbuilder.clearance.line import side_force_n
from planbuilder.clearance.swing import (
    equal_fall_m,
    largest_offset_m,
    swing_angle_rad,
    swing_speed_m_per_s,
)
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.drag import lift_pull_n, slide_pull_n

STATICS = Source(mark=Mark.DERIVED, document="Statics")
DRAGS = Rule(
    "clearance/drags-before-it-lifts", "Drag planned before the lift", Weight.WARNS, STATICS
)
SWINGS = Rule(
    "clearance/swings-at-lift-off", "Swing of the casualty at lift-off", Weight.WARNS, STATICS
)


def check_drags(scene: Scene) -> Iterator[Finding]:
    """Whoever lies aside is dragged by the line before being lifted: the plan says so."""
    for aside in asides(scene):
        speed = scene.defaults.of("lift-off-speed")
        note = "x_c + e - x_plumb, to where the lift starts slower than v_most"
        needed_m = aside.needs.work(partial(_drag_needed_m, aside, speed))
        of = (aside.lies, aside.off, aside.hook, aside.depth, speed)
        yield compare(
            DRAGS,
            aside.way,
            aside.needs,
            partial(Working, aside.dragged.value, "l_drag", (aside.dragged,)),
            Relation.AT_LEAST,
            derived("l_need", "drag before a plumb lift", needed_m, Unit.M, note, of),
            result=("l", "way along the floor", Unit.M),
            settle_by=_drag_advice(aside, needed_m),
            keys=(aside.way.key("rig.drag"), scene.key("lies_off")),
        )


def _plumb_m(aside: Aside, speed: Quantity) -> float:
    """How far from under the hook a lift still starts at no more than *speed*."""
    return largest_offset_m(depth_m=aside.line_m, drop_m=equal_fall_m(speed.value))


def _drag_needed_m(aside: Aside, speed: Quantity) -> float:
    return max(0.0, aside.lies.value + aside.off.value - _plumb_m(aside, speed))


def _drag_advice(aside: Aside, needed_m: float) -> str:
    if not math.isfinite(needed_m):
        return "State where the casualty may lie, and plan the drag from there."
    angle_rad = swing_angle_rad(depth_m=aside.line_m, offset_m=aside.from_hook_m)
    load_n, friction = weight(aside.way).value, aside.way.scene.defaults.of("drag-friction")
    slides_n = slide_pull_n(weight_n=load_n, friction=friction.value, angle_rad=angle_rad)
    lifts_n = lift_pull_n(weight_n=load_n, angle_rad=angle_rad)
    return (
        f"The line drags the casualty from {slides_n:.0f} N on and would lift from {lifts_n:.0f} "
        f"N: clear the floor, and plan a drag of {needed_m:.2f} m or more with its slope and what "
        "it slides on."
    )


def check_swing(scene: Scene) -> Iterator[Finding]:
    """Lifted where something holds them aside, the casualty swings in slowly or is held back."""
    for aside in asides(scene):
        held = aside.way.rig is not None and aside.way.rig.tag_line
        yield _held(aside) if held else _swings(aside)


def _swings(aside: Aside) -> Finding:
    speed, way = aside.way.scene.defaults.of("lift-off-speed"), aside.way
    most_m = aside.needs.work(partial(_plumb_m, aside, speed))
    return compare(
        SWINGS,
        way,
        aside.needs,
        partial(_speed, aside),
        Relation.AT_MOST,
        speed,
        result=("v", "speed under the hook", Unit.M_PER_S),
        settle_by=f"Lift from within {most_m:.2f} m of under the hook, or hold the casualty back "
        "with a tag line and state it."
        if math.isfinite(most_m)
        else "State where the casualty may lie.",
        keys=(way.key("rig.tag_line"), way.key("rig.drag.length")),
    )


def _speed(aside: Aside) -> Working:
    value = swing_speed_m_per_s(
        depth_m=aside.line_m, offset_m=aside.from_hook_m, at_m=0.0, free_fall_m=0.0
    )
    formula = "sqrt(2*g*(sqrt((max(0, x_c - l_drag) + e)**2 + (h_h + z_a)**2) - (h_h + z_a)))"
    return Working(value, formula, (*aside.inputs, GRAVITY))


def _held(aside: Aside) -> Finding:
    way, pull = aside.way, aside.way.scene.defaults.of("force-per-person-short")
    return compare(
        SWINGS,
        way,
        aside.needs,
        partial(_side_force, aside),
        Relation.AT_MOST,
        pull,
        result=("F_h", "pull that holds the casualty aside", Unit.N),
        settle_by="Drag the casualty nearer before the lift, or let the tag line run round a post.",
        keys=(way.key("rig.drag.length"), way.scene.key("lies_off")),
    )


def _side_force(aside: Aside) -> Working:
    load = weight(aside.way)
    angle_rad = swing_angle_rad(depth_m=aside.line_m, offset_m=aside.from_hook_m)
    force_n = side_force_n(weight_n=load.value, angle_rad=angle_rad)
    return Working(force_n, "W*(max(0, x_c - l_drag) + e)/(h_h + z_a)", (load, *aside.inputs))
