"""Hand winches: pull and power at the crank, line on the drum."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.lifting.cranking import Pull, pull_at_drum
from planbuilder.checks.lifting.drum import top_layer_radius
from planbuilder.checks.lifting.raise_time import haul_time, travel_up
from planbuilder.checks.lifting.reeving import line_parts
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.haul.drum import drum_capacity_m, layers_below_flange
from planbuilder.haul.winch import crank_force_n, crank_power_w, power_time_s, wound_length_m
from planbuilder.site.equipment import Winch

STATICS = Source(mark=Mark.DERIVED, document="Statics")
CRANK = Rule(
    "haul/crank-too-heavy",
    "Pull on the crank",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="EN 1496", note="secondary copy"),
)
POWER = Rule(
    "haul/raise-quicker-than-power",
    "Power of the person at the crank",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="150 W for minutes, 75 W kept up"),
)
OVERFULL = Rule("haul/drum-overfull", "Line on the drum within its flange", Weight.BLOCKS, STATICS)
FLANGE = Rule("haul/flange-low", "Flange above the line on the drum", Weight.WARNS, STATICS)


def _winches(scene: Scene) -> Iterator[tuple[Way, Winch]]:
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if isinstance(device, Winch):
            yield way, device


def check_crank(scene: Scene) -> Iterator[Finding]:
    """One person can turn the crank with the line on its top layer."""
    most = scene.defaults.of("crank-force-most")
    sustained = scene.defaults.of("crank-force-sustained")
    for way, winch in _winches(scene):
        key, needs = f"device.{winch.id}", Needs()
        pull = pull_at_drum(way, winch, needs)
        arm = needs.take("R_c", "crank radius", winch.crank_radius, Unit.M, f"{key}.crank_radius")
        gear = needs.number(
            "i", "crank turns a drum turn", winch.gear_ratio, Unit.RATIO, f"{key}.gear_ratio"
        )
        top = needs.keep(top_layer_radius(winch), f"{key}.drum_diameter")

        def working() -> Working:
            value = crank_force_n(
                line_force_n=pull.force_n,
                layer_radius_m=top.value,
                crank_radius_m=arm.value,
                crank_turns_per_drum_turn=gear.value,
                efficiency=pull.eta.value,
            )
            return Working(value, f"{Pull.FORCE}*r_k/(R_c*i*eta_w)", (*pull.inputs, top, arm, gear))

        yield compare(
            CRANK,
            way,
            needs,
            working,
            Relation.AT_MOST,
            most,
            result=("F_c", "pull on the crank", Unit.N),
            settle_by="Use a winch with a longer crank or a lower gear; beyond the sustained pull "
            "two people take turns.",
            keys=(f"{key}.crank_radius", f"{key}.gear_ratio"),
            slack=most.value - sustained.value,
        )


def check_power(scene: Scene) -> Iterator[Finding]:
    """The time of the raise asks no more of the person at the crank than a person has."""
    most = scene.defaults.of("crank-power-most")
    sustained = scene.defaults.of("crank-power-sustained")
    for way, winch in _winches(scene):
        if winch.crank_radius is None:
            continue  # the pull on the crank asks for it
        needs, key = Needs(), f"device.{winch.id}.line_speed"
        pull, (wound, time) = pull_at_drum(way, winch, needs), _raise(way, winch, needs)

        def working() -> Working:
            value = crank_power_w(
                load_n=pull.force_n,
                lift_m=wound.value,
                efficiency=pull.eta.value,
                time_s=time.value,
            )
            return Working(
                value, f"{Pull.FORCE}*l_wound/(eta_w*t_raise)", (*pull.inputs, wound, time)
            )

        slowest = needs.work(
            lambda: power_time_s(
                load_n=pull.force_n,
                lift_m=wound.value,
                efficiency=pull.eta.value,
                power_w=sustained.value,
            )
        )
        yield compare(
            POWER,
            way,
            needs,
            working,
            Relation.AT_MOST,
            most,
            result=("P_c", "power at the crank", Unit.W),
            settle_by=f"Plan {slowest:.0f} s or more for the raise: time the line with the load "
            "on it and state that line_speed, or leave it out to count from the crank's turns.",
            keys=(key,),
            slack=most.value - sustained.value,
        )


def _raise(way: Way, winch: Winch, needs: Needs) -> tuple[Quantity, Quantity]:
    """The line wound in over the raise, and the time that the plan counts for it."""
    up, time, parts = travel_up(way), haul_time(way), line_parts(winch)
    for one in (up, time):
        needs.missing += one if isinstance(one, tuple) else ()
    travel_m, time_s = (one.value if isinstance(one, Working) else math.nan for one in (up, time))
    wound_m = wound_length_m(lift_m=travel_m, parts=int(parts.value))
    how = time.formula if isinstance(time, Working) else ""
    return (
        derived("l_wound", "line wound in", wound_m, Unit.M, "rise times parts of line", (parts,)),
        derived("t_raise", "time of the raise", time_s, Unit.S, how),
    )


def check_drum(scene: Scene) -> Iterator[Finding]:
    """All of the line lies on the drum below the rim of its flange, and with some flange to spare.

    Real winding holds less than turns laid side by side: the spare is for that.
    """
    for way, winch in _winches(scene):
        yield _drum(way, winch, OVERFULL, None)
        yield _drum(way, winch, FLANGE, scene.defaults.of("flange-stand"))


def _drum(way: Way, winch: Winch, rule: Rule, spare: Quantity | None) -> Finding:
    key, needs = f"device.{winch.id}", Needs()
    length = needs.take(
        "l_line", "line on the drum", winch.line_length, Unit.M, f"{key}.line_length"
    )
    holds = _holds(winch, needs, spare.value if spare else 0.0)
    if spare is not None:
        holds = replace(holds, of=(*holds.of, spare))
    return compare(
        rule,
        way,
        needs,
        lambda: Working(length.value, "l_line", (length, *holds.of)),
        Relation.AT_MOST,
        holds,
        result=("l_line", "line on the drum", Unit.M),
        settle_by=f"Wind at most {math.floor(holds.value * 10) / 10:.1f} m of line on it, or use "
        "a larger drum."
        if math.isfinite(holds.value)
        else "Use a larger drum.",
        keys=(f"{key}.flange_diameter", f"{key}.line_length"),
    )


def _holds(winch: Winch, needs: Needs, spare: float) -> Quantity:
    """The line that the drum holds with so many line diameters of flange above it."""
    key = f"device.{winch.id}"
    flange = needs.take("D_fl", "flange", winch.flange_diameter, Unit.M, f"{key}.flange_diameter")
    drum = needs.take("D_d", "drum", winch.drum_diameter, Unit.M, f"{key}.drum_diameter")
    width = needs.take("w_d", "drum width", winch.drum_width, Unit.M, f"{key}.drum_width")
    line = needs.take("d", "line", winch.line_diameter, Unit.M, f"{key}.line_diameter")

    def capacity_m() -> float:
        layers = layers_below_flange(
            flange_diameter_m=flange.value,
            drum_diameter_m=drum.value,
            line_diameter_m=line.value,
            stand_m=spare * line.value,
        )
        return drum_capacity_m(
            drum_diameter_m=drum.value,
            drum_width_m=width.value,
            line_diameter_m=line.value,
            layers=layers,
        )

    note = f"turns side by side in whole layers, {spare:g} line diameters of flange above"
    of = (flange, drum, width, line)
    return derived("C_d", "line that the drum holds", needs.work(capacity_m), Unit.M, note, of)
