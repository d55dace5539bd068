"""Room for the strokes of a rope system that is reset, and the stroke that stretch takes."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.line_stretch import modulus
from planbuilder.checks.lifting.raise_time import parts_at_load
from planbuilder.checks.lifting.rope_systems import rope_systems
from planbuilder.checks.lifting.stroke_room import stroke
from planbuilder.checks.scene import Scene, Working, derived
from planbuilder.findings import Finding, Mark, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.strokes import first_stroke_stretch_m

STATICS = Source(mark=Mark.DERIVED, document="Statics")
STROKE = Rule("haul/no-stroke", "Room for a stroke of the rope system", Weight.BLOCKS, STATICS)
STRETCH = Rule("haul/first-stroke-lost", "First stroke lost to stretch", Weight.WARNS, STATICS)


def check_stroke(scene: Scene) -> Iterator[Finding]:
    """A system that is reset needs room: a stroke of nothing raises nobody."""
    least = derived("dh_0", "a stroke that raises", 0.0, Unit.M, "must be more than nothing")
    for way, device in rope_systems(scene):
        if device.reset_distance is None:
            continue  # reeved the whole way: no strokes
        needs = Needs()
        rise = stroke(way, device, needs)
        yield compare(
            STROKE,
            way,
            needs,
            lambda: rise,
            Relation.MORE_THAN,
            least,
            result=("dh", "rise of one stroke", Unit.M),
            settle_by="Give the haulers a longer way, or the blocks and grabs a longer one.",
            keys=(way.key("rig.walkway"), f"device.{device.id}.reset_distance"),
        )


def check_stretch(scene: Scene) -> Iterator[Finding]:
    """A stretchy rope takes up the first pull before the casualty leaves the ground."""
    for way, device in rope_systems(scene):
        key, needs, load = f"device.{device.id}", Needs(), weight(way)
        stiff = needs.keep(modulus(device), f"{key}.line_stiffness")
        below, tail = scene.down
        depth = needs.take("z", "depth or height below", below, Unit.M, scene.key(tail))
        edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
        psi = dynamic_factor(way)

        def working() -> Working:
            parts = parts_at_load(scene, device)
            value = first_stroke_stretch_m(
                system_load_n=load.value * psi.value * edges.value / parts.value,
                length_m=depth.value,
                modulus_n=stiff.value,
            )
            formula = "W*psi*k_edge/n_parts*z/M"
            return Working(value, formula, (load, psi, edges, parts, depth, stiff))

        yield compare(
            STRETCH,
            way,
            needs,
            working,
            Relation.AT_MOST,
            scene.defaults.of("unusable-stroke"),
            result=("d_stretch", "rise lost to stretch", Unit.M),
            settle_by="Use a rope that stretches less, or take up the stretch before the lift.",
            keys=(f"{key}.line_stiffness",),
        )
