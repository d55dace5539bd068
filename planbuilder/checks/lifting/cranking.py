"""What the person at the crank of a hand winch gives: turns, power, and the time they make."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import edge_load_factor, weight
from planbuilder.checks.lifting.reeving import advantage_at_drum, line_parts
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.winch import crank_time_s, crank_turns, power_time_s, wound_length_m
from planbuilder.site.equipment import Winch


@dataclass(frozen=True, slots=True)
class Pull:
    """What the line pulls at the drum while the casualty rises, and the winch's losses."""

    load: Quantity
    edges: Quantity
    line: Quantity
    eta: Quantity

    FORCE = "W*k_edge/A_line"

    @property
    def force_n(self) -> float:
        """Pull of the line at the drum, in N."""
        return self.load.value * self.edges.value / self.line.value

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """The numbers put in."""
        return self.load, self.edges, self.line, self.eta


def pull_at_drum(way: Way, winch: Winch, needs: Needs) -> Pull:
    """The pull of the line at the drum; *needs* remembers what is missing."""
    key = f"device.{winch.id}.efficiency"
    return Pull(
        load=weight(way),
        edges=needs.keep(edge_load_factor(way), way.key("rig.edges")),
        line=advantage_at_drum(way, winch),
        eta=needs.number("eta_w", "efficiency of the winch", winch.efficiency, Unit.RATIO, key),
    )


def cranked_time(way: Way, winch: Winch, rise: Working) -> Working | tuple[str, ...]:
    """The time of a *rise* at the planned turns of the crank, and no quicker than power allows."""
    needs, scene = Needs(), way.scene
    pull, turns = pull_at_drum(way, winch, needs), _turns(scene, winch, rise, needs)
    if needs.missing:
        return tuple(needs.missing)
    parts = line_parts(winch)
    turn, power = scene.defaults.of("crank-turn"), scene.defaults.of("crank-power-sustained")
    by_hand_s = crank_time_s(crank_turns=turns.value, crank_rate_per_s=1 / turn.value)
    by_power_s = power_time_s(
        load_n=pull.force_n,
        lift_m=wound_length_m(lift_m=rise.value, parts=int(parts.value)),
        efficiency=pull.eta.value,
        power_w=power.value,
    )
    work = f"{Pull.FORCE}*n_parts*({rise.formula})/eta_w"
    inputs = (*rise.inputs, turns, turn, *pull.inputs, parts, power)
    return Working(max(by_hand_s, by_power_s), f"max(n_turns*t_turn, {work}/P_sus)", inputs)


def _turns(scene: Scene, winch: Winch, rise: Working, needs: Needs) -> Quantity:
    """Turns of the crank, with the dead wraps alone on the drum: a turn winds the least there."""
    key = f"device.{winch.id}"
    gear = needs.number(
        "i", "crank turns a drum turn", winch.gear_ratio, Unit.RATIO, f"{key}.gear_ratio"
    )
    line = needs.take("d", "line", winch.line_diameter, Unit.M, f"{key}.line_diameter")
    drum = needs.take("D", "drum", winch.drum_diameter, Unit.M, f"{key}.drum_diameter")
    width = needs.take("w_d", "drum width", winch.drum_width, Unit.M, f"{key}.drum_width")
    wraps, parts = scene.defaults.of("dead-wraps"), line_parts(winch)
    turns = needs.work(
        lambda: crank_turns(
            wound_m=wound_length_m(lift_m=rise.value, parts=int(parts.value)),
            dead_wraps=wraps.value,
            drum_diameter_m=drum.value,
            drum_width_m=width.value,
            line_diameter_m=line.value,
            crank_turns_per_drum_turn=gear.value,
        )
    )
    note = f"layer by layer onto {wraps.value:g} dead wraps"
    of = (wraps, gear, line, drum, width)
    return derived("n_turns", "turns of the crank", turns, Unit.RATIO, note, of)
