"""Does a tripod stand: legs, feet and chain, a line led off its head, a winch on a leg."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases, weight
from planbuilder.checks.reeving import advantage_at_drum
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
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
from planbuilder.haul.apex import apex_m
from planbuilder.haul.tripod import (
    LegForce,
    chain_tension_n,
    largest_lead_m,
    leg_forces,
    tripod_height_m,
)
from planbuilder.site.equipment import Winch
from planbuilder.site.supports import Tripod

STATICS = Source(mark=Mark.DERIVED, document="Statics")
LEGS = Rule("haul/tripod-leg-overloaded", "Legs of the tripod", Weight.BLOCKS, STATICS)
LIFTS = Rule("haul/tripod-foot-lifts", "Every foot of the tripod presses", Weight.BLOCKS, STATICS)
SLIDES = Rule("haul/tripod-feet-slide", "Feet of the tripod held together", Weight.BLOCKS, STATICS)
CHAIN = Rule("haul/tripod-chain-overloaded", "Chain between the feet", Weight.BLOCKS, STATICS)
LED_OFF = Rule("haul/tripod-line-led-off", "Line led off the tripod", Weight.BLOCKS, STATICS)
FOOT_AZIMUTHS = (math.pi / 2, math.pi * 7 / 6, math.pi * 11 / 6)


class _Legs:
    """A tripod with its size, as far as the site file gives it."""

    def __init__(self, way: Way, support: Tripod) -> None:
        self.way, self.support, self.needs = way, support, Needs()
        key = f"support.{support.id}"
        self.length = self.needs.take(
            "L", "leg length", support.leg_length, Unit.M, f"{key}.leg_length"
        )
        self.circle = self.needs.take(
            "r", "radius of the foot circle", support.foot_radius, Unit.M, f"{key}.foot_radius"
        )
        self.needs.say(way.rig.foot_levels if way.rig else None, way.key("rig.foot_levels"))

    @property
    def size(self) -> dict[str, float]:
        return {"leg_length_m": self.length.value, "foot_circle_m": self.circle.value}

    def forces(self, load_n: float) -> tuple[LegForce, ...]:
        """The push in each leg, feet at the heights that the rig states."""
        rig = self.way.rig
        levels = [one.m for one in rig.foot_levels or ()] if rig else []
        radius = self.circle.value
        feet = [
            (radius * math.cos(at), radius * math.sin(at), level)
            for at, level in zip(FOOT_AZIMUTHS, levels, strict=True)
        ]
        head = apex_m(feet=feet, leg_length_m=self.length.value)
        return leg_forces(feet=feet, head=head, head_force_n=(0.0, 0.0, -load_n))


def _tripods(scene: Scene) -> Iterator[tuple[Way, _Legs]]:
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, Tripod):
            yield way, _Legs(way, support)


def check_legs(scene: Scene) -> Iterator[Finding]:
    """The leg that is pushed hardest, with the winch's pull where it hangs on a leg."""
    for way, legs in _tripods(scene):
        key = f"support.{legs.support.id}.leg_rating"
        for case, force in load_cases(way):
            needs = Needs()
            needs.also(legs.needs)
            rating = needs.take("C_max", "rating of a leg", legs.support.leg_rating, Unit.N, key)
            if way.rig and _is_winch(way):
                needs.say(way.rig.winch_on_leg, way.key("rig.winch_on_leg"))
            on_leg = bool(way.rig and way.rig.winch_on_leg) and case == "LC1"
            yield compare(
                LEGS,
                way,
                needs,
                lambda: _leg_push(legs, force, on_leg=on_leg),
                Relation.AT_MOST,
                rating,
                result=("C", f"push in the hardest leg, {case}", Unit.N),
                settle_by="Use a stronger tripod, level the feet, or take the winch off the leg.",
                keys=(key,),
                about=case,
            )


def _leg_push(legs: _Legs, force: Quantity, *, on_leg: bool) -> Working:
    push_n = max(one.push_n for one in legs.forces(force.value))
    note = "three pinned legs, feet where they stand"
    push = derived("C_leg", "push in the hardest leg from the head", push_n, Unit.N, note)
    line = _winch_pull(legs.way, force) if on_leg else _no_winch()
    return Working(
        push_n + line.value, "C_leg + T_leg", (push, line, legs.length, legs.circle, force)
    )


def _winch_pull(way: Way, force: Quantity) -> Quantity:
    """The line of a winch on a leg pushes that leg with what it pulls, past the head sheave."""
    line = advantage_at_drum(way, way.scene.device(way.rig.device)) if way.rig else None
    share = line.value if line else 1.0
    note = "F/A_line: the line of a winch on a leg pushes that leg too"
    of = (line,) if line else ()
    return derived("T_leg", "pull of a winch on the leg", force.value / share, Unit.N, note, of)


def _no_winch() -> Quantity:
    return derived("T_leg", "pull of a winch on the leg", 0.0, Unit.N, "no winch on a leg")


def check_feet_press(scene: Scene) -> Iterator[Finding]:
    """No foot lifts, with the feet at their own heights."""
    for way, legs in _tripods(scene):

        def working() -> Working:
            load = weight(way)
            least_n = min(one.vertical_n for one in legs.forces(load.value))
            note = "three pinned legs, feet where they stand"
            least = derived("R_min", "least push of the ground", least_n, Unit.N, note)
            return Working(least_n, "R_min", (least, legs.length, legs.circle, load))

        yield compare(
            LIFTS,
            way,
            legs.needs,
            working,
            Relation.MORE_THAN,
            derived("R_0", "a foot that lifts", 0.0, Unit.N, "it can push, not pull"),
            result=("R", "push of the ground on the lightest foot", Unit.N),
            settle_by="Level the feet, or spread the legs evenly under the load.",
            keys=(way.key("rig.foot_levels"),),
        )


def check_feet_held(scene: Scene) -> Iterator[Finding]:
    """A chain or strap holds the feet together, or the ground's friction alone would have to."""
    for way, legs in _tripods(scene):
        key, support = f"support.{legs.support.id}", legs.support
        if support.chain:
            yield answer(
                SLIDES,
                way,
                Needs(),
                lambda: Stated(holds=True, because="a chain holds the feet"),
                settle_by="Nothing; fit the chain before the tripod is loaded.",
                keys=(f"{key}.chain",),
            )
            yield from _chain(way, legs)
            continue
        needs = Needs()
        needs.also(legs.needs)
        needs.say(support.chain, f"{key}.chain")
        grip = needs.number(
            "mu",
            "friction under the feet",
            support.foot_friction,
            Unit.RATIO,
            f"{key}.foot_friction",
        )
        yield compare(
            SLIDES,
            way,
            needs,
            lambda: _friction(legs),
            Relation.AT_MOST,
            grip,
            result=("mu_need", "friction needed under the feet", Unit.RATIO),
            settle_by="Fit the chain between the feet.",
            keys=(f"{key}.chain", f"{key}.foot_friction"),
        )


def _friction(legs: _Legs) -> Working:
    """Outward push over the push on the ground, at the foot where that is the most."""
    load = weight(legs.way)
    forces = legs.forces(load.value)
    if min(one.vertical_n for one in forces) <= 0:
        raise ValueError("a foot lifts, and friction holds nothing there")
    worst = max(forces, key=lambda one: one.thrust_n / one.vertical_n)
    note = "foot that needs most, feet where they stand"
    out = derived("H_f", "outward push of the foot", worst.thrust_n, Unit.N, note)
    down = derived("V_f", "push of the foot on the ground", worst.vertical_n, Unit.N, note)
    inputs = (out, down, legs.length, legs.circle, load)
    return Working(worst.thrust_n / worst.vertical_n, "H_f/V_f", inputs)


def _chain(way: Way, legs: _Legs) -> Iterator[Finding]:
    key = f"support.{legs.support.id}.chain_rating"
    if legs.support.chain_rating is None:
        return  # part of a marked tripod: its rating covers the chain it came with
    for case, force in load_cases(way):
        needs = Needs()
        needs.also(legs.needs)
        rating = needs.take("T_max", "rating of the chain", legs.support.chain_rating, Unit.N, key)

        def working() -> Working:
            most_n = max(one.thrust_n for one in legs.forces(force.value))
            note = "foot that pushes most, feet where they stand"
            thrust = derived("H_f", "outward push of the foot", most_n, Unit.N, note)
            value = chain_tension_n(thrust_n=most_n)
            return Working(value, "H_f/sqrt(3)", (thrust, force, legs.circle, legs.length))

        yield compare(
            CHAIN,
            way,
            needs,
            working,
            Relation.AT_MOST,
            rating,
            result=("T_ch", f"tension of the chain, {case}", Unit.N),
            settle_by="Fit a stronger chain.",
            keys=(key,),
            about=case,
        )


def check_led_off(scene: Scene) -> Iterator[Finding]:
    """A line led off the head to the ground stays near enough not to tip the tripod."""
    for way, legs in _tripods(scene):
        rig, key, needs = way.rig, way.key("rig.lead_distance"), Needs()
        if rig is None or (rig.lead_distance is None and not _winch_elsewhere(way)):
            continue
        needs.also(legs.needs)
        lead = needs.take("x", "lead from the middle", rig.lead_distance, Unit.M, key)
        note = "largest lead in any direction: the pull meets the ground inside the feet"
        most_m = needs.work(
            lambda: largest_lead_m(
                height_m=tripod_height_m(**legs.size), foot_circle_m=legs.circle.value
            )
        )
        yield compare(
            LED_OFF,
            way,
            needs,
            lambda: Working(lead.value, "x", (lead,)),
            Relation.AT_MOST,
            derived("x_max", "largest lead distance", most_m, Unit.M, note),
            result=("x", "lead of the line from the middle", Unit.M),
            settle_by=f"Lead the line at most {most_m:.2f} m off, down a leg, or guy the head.",
            keys=(key,),
        )


def _winch_elsewhere(way: Way) -> bool:
    """A winch that does not hang on a leg stands somewhere, and its line goes there."""
    rig = way.rig
    return rig is not None and rig.winch_on_leg is False and _is_winch(way)


def _is_winch(way: Way) -> bool:
    return way.rig is not None and isinstance(way.scene.device(way.rig.device), Winch)
