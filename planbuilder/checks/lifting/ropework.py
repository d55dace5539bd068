"""Rope systems as built: the description hangs together, the sheaves turn and hold."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.rope_systems import pulley_efficiency, rope_pull, rope_systems
from planbuilder.checks.scene import (
    Scene,
    Working,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)

STATICS = Source(mark=Mark.DERIVED, document="Statics")
CARABINERS = Rule(
    "haul/carabiners-for-pulleys",
    "Sheaves of the rope system",
    Weight.WARNS,
    Source(mark=Mark.READ, note="bench test of carabiner and pulley: about half is lost"),
)
PULLEY = Rule(
    "haul/pulley-overloaded", "Hardest loaded sheave of the rope system", Weight.BLOCKS, STATICS
)
SYSTEM = Rule("haul/no-rope-system", "Rope system as described", Weight.BLOCKS, STATICS)


def check_described(scene: Scene) -> Iterator[Finding]:
    """Parts fit the reeving, and a described system hangs together: no rope end is loose."""
    for way, device in rope_systems(scene):

        def outcome() -> Stated:
            pull = rope_pull(scene, device)
            words = f"{pull.ideal.value:g}:1 without losses, {pull.advantage.value:.2f}:1 with them"
            return Stated(holds=True, because=f"{device.name}: {words}")

        yield answer(
            SYSTEM,
            way,
            Needs(),
            outcome,
            settle_by="Follow the rope from the haulers to its end: name each sheave and grab it "
            "meets, what each hangs on, and what the end is made off on.",
            keys=(f"device.{device.id}.rope", f"device.{device.id}.parts"),
        )


def check_sheaves(scene: Scene) -> Iterator[Finding]:
    """Carabiners in place of pulleys take half of the pull at each turn."""
    for way, device in rope_systems(scene):
        needs, key = Needs(), f"device.{device.id}.sheaves_are"
        needs.say(device.sheaves_are, key)
        eta = pulley_efficiency(scene, device)
        bad = device.sheaves_are == "carabiners" and eta.value > 0.6  # noqa: PLR2004 - bench test
        words = f"{device.sheaves_are}, efficiency {eta.value:g} each"
        yield answer(
            CARABINERS,
            way,
            needs,
            lambda: Stated(holds=not bad, because=words),
            settle_by="Use pulleys, or state an efficiency of 0.5 to 0.6 for carabiners.",
            keys=(key,),
        )


def check_pulleys(scene: Scene) -> Iterator[Finding]:
    """A sheave carries both its strands: in a rope system up to most of the load."""
    for way, device in rope_systems(scene):
        key, needs = f"device.{device.id}.pulley_rating", Needs()
        rating = needs.take("F_p", "rating of a pulley", device.pulley_rating, Unit.N, key)
        edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
        load, psi = weight(way), dynamic_factor(way)

        def working() -> Working:
            pull = rope_pull(scene, device)
            value = load.value * psi.value * edges.value / pull.advantage.value * pull.hardest.value
            inputs = (load, psi, edges, pull.advantage, pull.hardest)
            return Working(value, "W*psi*k_edge/PMA*k_s", inputs)

        yield compare(
            PULLEY,
            way,
            needs,
            working,
            Relation.AT_MOST,
            rating,
            result=("F", "load on the hardest loaded sheave, LC1", Unit.N),
            settle_by="Use stronger pulleys, or reeve for less advantage.",
            keys=(key,),
        )
