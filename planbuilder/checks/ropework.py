"""Rope systems hauled by people: posture, over-pull, sheaves, strokes, stretch."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.raise_time import rope_parts
from planbuilder.checks.rope_systems import pulley_efficiency, rope_pull
from planbuilder.checks.scene import (
    Scene,
    Way,
    Working,
    counted,
    derived,
    finding,
)
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
from planbuilder.haul.strokes import first_stroke_stretch_m, peak_force_n, stroke_m
from planbuilder.site.equipment import RopeSystem
from planbuilder.site.space import CrewRole, HaulPosture

STATICS = Source(mark=Mark.DERIVED, document="Statics")
OVER_PULL = Rule(
    "haul/over-pull", "Strongest pull of the team on a jammed load", Weight.WARNS, STATICS
)
CARABINERS = Rule(
    "haul/carabiners-for-pulleys",
    "Sheaves of the rope system",
    Weight.WARNS,
    Source(mark=Mark.READ, note="bench test of carabiner and pulley: about half is lost"),
)
PULLEY = Rule(
    "haul/pulley-overloaded", "Hardest loaded sheave of the rope system", Weight.BLOCKS, STATICS
)
STROKE = Rule("haul/no-stroke", "Room for a stroke of the rope system", Weight.BLOCKS, STATICS)
STRETCH = Rule("haul/first-stroke-lost", "First stroke lost to stretch", Weight.WARNS, STATICS)
SYSTEM = Rule("haul/no-rope-system", "Rope system as described", Weight.BLOCKS, STATICS)
POSTURE = Rule(
    "haul/posture-not-stated",
    "How the people on the rope can stand",
    Weight.WARNS,
    Source(mark=Mark.READ, document="Mital 1986"),
)
POSTURE_DEFAULTS = {
    HaulPosture.KNEELING: "force-kneeling",
    HaulPosture.SEATED: "force-seated",
    HaulPosture.REACHING: "force-outstretched",
}


def _rope_systems(scene: Scene) -> Iterator[tuple[Way, RopeSystem]]:
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if isinstance(device, RopeSystem):
            yield way, device


def pull_per_person(way: Way, *, short: bool) -> Quantity:
    """What one person pulls, standing unless the rig says otherwise."""
    posture = way.rig.haul_posture if way.rig else None
    plain = "force-per-person-short" if short else "force-per-person-long"
    chosen = way.scene.defaults.of(POSTURE_DEFAULTS.get(posture, plain) if posture else plain)
    usual = way.scene.defaults.of(plain)
    return min(chosen, usual, key=lambda one: one.value)  # grip tires whatever the posture


def check_described(scene: Scene) -> Iterator[Finding]:
    """Parts fit the reeving, and a described system hangs together: no rope end is loose."""
    for way, device in _rope_systems(scene):

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


def check_posture(scene: Scene) -> Iterator[Finding]:
    """Kneeling, seated or reaching people pull less than standing ones."""
    for way, _ in _rope_systems(scene):
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


def check_over_pull(scene: Scene) -> Iterator[Finding]:
    """The whole team pulling its strongest on a jammed load breaks nothing."""
    strongest = scene.defaults.of("strongest-pull-ratio")
    for way, device in _rope_systems(scene):
        key, needs = f"device.{device.id}", Needs()
        grab = needs.take(
            "F_weak",
            "load at which the grab slips",
            device.grab_slips_at,
            Unit.N,
            f"{key}.grab_slips_at",
        )
        people = counted(
            "n_haul", "people named to haul", len(way.crew(CrewRole.HAUL)), way.key("crew")
        )
        pull = scene.defaults.of("force-per-person-short")

        def working() -> Working:
            advantage = rope_pull(scene, device).ideal
            value = peak_force_n(
                people=int(people.value),
                strongest_pull_n=strongest.value * pull.value,
                ideal_advantage=advantage.value,
            )
            return Working(value, "n_haul*k_max*f_p*TMA", (people, strongest, pull, advantage))

        yield compare(
            OVER_PULL,
            way,
            needs,
            working,
            Relation.AT_MOST,
            grab,
            result=("F_peak", "strongest pull of the team at the load", Unit.N),
            settle_by="Fewer people on the rope, or stop when it stops: never pull harder.",
            keys=(f"{key}.grab_slips_at", way.key("crew")),
        )


def check_sheaves(scene: Scene) -> Iterator[Finding]:
    """Carabiners in place of pulleys take half of the pull at each turn."""
    for way, device in _rope_systems(scene):
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
    for way, device in _rope_systems(scene):
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


def check_stroke(scene: Scene) -> Iterator[Finding]:
    """A system that is reset needs room: a stroke of nothing raises nobody."""
    least = derived("dh_0", "a stroke that raises", 0.0, Unit.M, "must be more than nothing")
    for way, device in _rope_systems(scene):
        if device.reset_distance is None:
            continue  # reeved the whole way: no strokes
        needs, unusable = Needs(), scene.defaults.of("unusable-stroke")
        start = needs.take(
            "D_1",
            "grab to anchor pulley",
            device.reset_distance,
            Unit.M,
            f"device.{device.id}.reset_distance",
        )
        walk = needs.take(
            "w",
            "walkway of the haulers",
            way.rig.walkway if way.rig else None,
            Unit.M,
            way.key("rig.walkway"),
        )

        def working() -> Working:
            advantage = rope_pull(scene, device).ideal
            value = stroke_m(
                gaps=((start.value, 1.0),),
                unusable_m=unusable.value,
                walkway_m=walk.value,
                ideal_advantage=advantage.value,
            )
            return Working(value, "min(D_1 - d_0, w/TMA)", (start, unusable, walk, advantage))

        yield compare(
            STROKE,
            way,
            needs,
            working,
            Relation.MORE_THAN,
            least,
            result=("dh", "rise of one stroke", Unit.M),
            settle_by="Give the haulers a longer way or the grab a longer one.",
            keys=(way.key("rig.walkway"),),
        )


def check_stretch(scene: Scene) -> Iterator[Finding]:
    """A stretchy rope takes up the first pull before the casualty leaves the ground."""
    for way, device in _rope_systems(scene):
        key, needs, load = f"device.{device.id}", Needs(), weight(way)
        stiff = needs.take(
            "M", "modulus of the rope", device.line_stiffness, Unit.N, f"{key}.line_stiffness"
        )
        below, tail = scene.down
        depth = needs.take("z", "depth or height below", below, Unit.M, scene.key(tail))
        psi = dynamic_factor(way)

        def working() -> Working:
            parts = rope_parts(scene, device)
            value = first_stroke_stretch_m(
                system_load_n=load.value * psi.value / parts.value,
                length_m=depth.value,
                modulus_n=stiff.value,
            )
            return Working(value, "W*psi/n_parts*z/M", (load, psi, parts, depth, stiff))

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
