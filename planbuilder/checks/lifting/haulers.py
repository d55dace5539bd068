"""The people on the haul line: how many, how they stand, and how hard they work."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.hauling import haul_pull, hauler_power, people_named
from planbuilder.checks.lifting.raise_time import SHORT_RAISE_S, haul_time
from planbuilder.checks.lifting.rope_systems import rope_pull_or_none, rope_systems
from planbuilder.checks.scene import Scene, Way, Working, derived, finding
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
from planbuilder.haul.ropes import added_friction_haul_n, people_needed
from planbuilder.site.rig import HaulPosture

HAULERS = Rule(
    "haul/too-few-haulers",
    "People on the haul line",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="Mital 1986"),
)
TRADE = Rule(
    "haul/pull-by-trade-rule",
    "Haul force by the trade manuals' rule of 10 % a sheave",
    Weight.NOTES,
    Source(mark=Mark.READ, document="US Navy Steelworker", note="a second opinion"),
)
POSTURE = Rule(
    "haul/posture-not-stated",
    "How the people on the rope can stand",
    Weight.WARNS,
    Source(mark=Mark.READ, document="Mital 1986"),
)
POWER = Rule(
    "haul/too-much-power",
    "Power asked of each person on the haul line",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="50 to 150 W for an hour, reference article on human power"),
)
POSTURE_DEFAULTS = {
    HaulPosture.KNEELING: "force-kneeling",
    HaulPosture.SEATED: "force-seated",
    HaulPosture.REACHING: "force-outstretched",
}


def pull_per_person(way: Way) -> Quantity:
    """What one person pulls, standing unless the rig says otherwise, as long as the raise lasts."""
    time = haul_time(way)
    short = isinstance(time, Working) and time.value <= SHORT_RAISE_S
    plain = "force-per-person-short" if short else "force-per-person-long"
    posture = way.rig.haul_posture if way.rig else None
    usual = way.scene.defaults.of(plain)
    if posture not in POSTURE_DEFAULTS:
        return usual
    chosen = way.scene.defaults.of(POSTURE_DEFAULTS[posture])
    return min(chosen, usual, key=lambda one: one.value)  # grip tires whatever the posture


def check_haulers(scene: Scene) -> Iterator[Finding]:
    """A rope system has as many people on it as its pull asks for."""
    for way, device in rope_systems(scene):
        needs = Needs()
        force, pull = haul_pull(way, device, needs), pull_per_person(way)
        count = needs.work(
            lambda: people_needed(haul_force_n=force.value, force_per_person_n=pull.value)
        )
        formula = f"ceil({force.formula}/{pull.symbol})"
        yield compare(
            HAULERS,
            way,
            needs,
            lambda: Working(count, formula, (*force.inputs, pull)),
            Relation.AT_MOST,
            people_named(way),
            result=("N", "people needed on the haul line", Unit.COUNT),
            settle_by=f"Name {count:.0f} people to haul, or reeve for more advantage.",
            keys=(way.key("crew"), f"device.{device.id}.parts"),
        )


def check_trade_rule(scene: Scene) -> Iterator[Finding]:
    """The people named also pull what the older manuals ask for: a second opinion, no more."""
    for way, device in rope_systems(scene):
        needs, load, psi = Needs(), weight(way), dynamic_factor(way)
        edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
        people, pull = people_named(way), pull_per_person(way)
        team = derived(
            "F_team",
            "pull of the people named",
            people.value * pull.value,
            Unit.N,
            f"{people.value:.0f} of {pull.value:g} N",
            (people, pull),
        )

        rope = rope_pull_or_none(scene, device)
        key = f"device.{device.id}.reeving"
        sheaves = needs.keep(rope.sheaves if rope else None, key)
        ideal = needs.keep(rope.ideal if rope else None, key)
        force = needs.work(
            lambda: added_friction_haul_n(
                load_n=load.value * psi.value * edges.value,
                sheaves=int(sheaves.value),
                ideal_advantage=ideal.value,
            )
        )
        count = needs.work(lambda: people_needed(haul_force_n=force, force_per_person_n=pull.value))
        formula, inputs = "W*psi*k_edge*(1 + 0.10*n_sh)/TMA", (load, psi, edges, sheaves, ideal)

        yield compare(
            TRADE,
            way,
            needs,
            lambda: Working(force, formula, inputs),
            Relation.AT_MOST,
            team,
            result=("F_h", "haul force by 10 % of the load a sheave", Unit.N),
            settle_by=f"Nothing is due by this alone; the rule asks for {count:.0f} on the rope.",
            keys=(way.key("crew"),),
        )


def check_posture(scene: Scene) -> Iterator[Finding]:
    """Kneeling, seated or reaching people pull less than standing ones."""
    for way, _ in rope_systems(scene):
        posture, key = way.rig.haul_posture if way.rig else None, way.key("rig.haul_posture")
        yield finding(
            POSTURE,
            Stated(holds=True, because=str(posture))
            if posture
            else Missing(because="standing is assumed"),
            settle_by="State haul_posture: standing, kneeling, seated or arms-outstretched.",
            keys=(key,),
            space=scene.space,
            about=way.name,
        )


def check_power(scene: Scene) -> Iterator[Finding]:
    """Nobody is asked for more power than a person gives for minutes; rests come on top."""
    most = scene.defaults.of("power-for-minutes")
    for way, device in rope_systems(scene):
        needs = Needs()
        power = hauler_power(way, device, needs)
        yield compare(
            POWER,
            way,
            needs,
            lambda: power,
            Relation.AT_MOST,
            most,
            result=("P", "power of each person while the line moves", Unit.W),
            settle_by="Plan a slower haul, or more people on the rope.",
            keys=(f"device.{device.id}.line_speed", way.key("crew")),
        )
