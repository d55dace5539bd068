"""Winches and the lift: crank, drum, time against the limit, stuck casualty, landing."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import edge_load_factor, weight
from planbuilder.checks.hazards import air_limit
from planbuilder.checks.raise_time import haul_time
from planbuilder.checks.scene import (
    Scene,
    Way,
    Working,
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
from planbuilder.haul.drum import layer_radius_m, layers_needed
from planbuilder.haul.winch import crank_force_n
from planbuilder.site.equipment import Winch
from planbuilder.site.space import HazardKind

STATICS = Source(mark=Mark.DERIVED, document="Statics")
OWN = Source(mark=Mark.CHOICE)
STUCK = Rule(
    "haul/casualty-may-be-stuck",
    "A stuck casualty is freed before any pull",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="pulling a wedged or engulfed person injures"),
)
CRANK = Rule(
    "haul/crank-too-heavy",
    "Pull on the crank",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="EN 1496", note="secondary copy"),
)
DRUM = Rule("haul/drum-overfull", "Flange above the line on the drum", Weight.WARNS, STATICS)
LONG = Rule("haul/raise-longer-than-limit", "Raise alone against the limit", Weight.BLOCKS, OWN)
LANDING = Rule(
    "haul/landing-not-planned", "Way from over the opening to the ground", Weight.WARNS, OWN
)


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
        key, needs, load = f"device.{winch.id}", Needs(), weight(way)
        arm = needs.take("R_c", "crank radius", winch.crank_radius, Unit.M, f"{key}.crank_radius")
        gear = needs.number(
            "i", "crank turns a drum turn", winch.gear_ratio, Unit.RATIO, f"{key}.gear_ratio"
        )
        eta = needs.number(
            "eta_w", "efficiency of the winch", winch.efficiency, Unit.RATIO, f"{key}.efficiency"
        )
        top = needs.keep(_top_radius(winch), f"{key}.drum_diameter")
        edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))

        def working() -> Working:
            value = crank_force_n(
                line_force_n=load.value * edges.value,
                layer_radius_m=top.value,
                crank_radius_m=arm.value,
                crank_turns_per_drum_turn=gear.value,
                efficiency=eta.value,
            )
            return Working(value, "W*k_edge*r_k/(R_c*i*eta_w)", (load, edges, top, arm, gear, eta))

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


def _top_radius(winch: Winch) -> Quantity | None:
    length, line = winch.line_length, winch.line_diameter
    drum, width = winch.drum_diameter, winch.drum_width
    if length is None or line is None or drum is None or width is None:
        return None
    layer = layers_needed(
        line_length_m=length.m,
        drum_diameter_m=drum.m,
        drum_width_m=width.m,
        line_diameter_m=line.m,
    )
    radius = layer_radius_m(drum_diameter_m=drum.m, line_diameter_m=line.m, layer=layer)
    return derived("r_k", "radius of the top layer", radius, Unit.M, f"layer {layer}")


def check_drum(scene: Scene) -> Iterator[Finding]:
    """The flange stands above the line when all of it is wound in."""
    ratio = scene.defaults.of("flange-stand")
    for way, winch in _winches(scene):
        key, needs = f"device.{winch.id}", Needs()
        flange = needs.take(
            "D_fl", "flange", winch.flange_diameter, Unit.M, f"{key}.flange_diameter"
        )
        line = needs.take("d", "line", winch.line_diameter, Unit.M, f"{key}.line_diameter")
        top = needs.keep(_top_radius(winch), f"{key}.drum_width")
        yield compare(
            DRUM,
            way,
            needs,
            lambda: Working(
                (flange.value / 2 - top.value - line.value / 2) / line.value,
                "(D_fl/2 - r_k - d/2)/d",
                (flange, top, line),
            ),
            Relation.AT_LEAST,
            ratio,
            result=("k", "flange above the top layer, in line diameters", Unit.RATIO),
            settle_by="Wind a shorter line, or use a larger drum.",
            keys=(f"{key}.flange_diameter",),
        )


def check_raise_in_limit(scene: Scene) -> Iterator[Finding]:
    """The raise alone does not use up the planning limit."""
    limit = air_limit(scene)
    for way in scene.ways():
        time = haul_time(way)
        if way.rig is None or isinstance(time, tuple):
            continue  # the clock to air says what is missing
        yield compare(
            LONG,
            way,
            Needs(),
            lambda: time,
            Relation.AT_MOST,
            limit,
            result=("t_raise", "time of the raise", Unit.S),
            settle_by="Use a quicker device, or fewer parts of line.",
            keys=(f"device.{way.rig.device}.line_speed",),
        )


def check_landing(scene: Scene) -> Iterator[Finding]:
    """After the lift the casualty hangs over the hole: a swing or a tag line brings them down."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or not scene.space.is_confined:
            continue
        swings = rig.swing_from is not None and rig.swing_to is not None
        turned = swings and rig.swing_from != rig.swing_to
        said = "the mast swings" if turned else ("a tag line" if rig.tag_line else "")
        outcome = (
            Stated(holds=True, because=said)
            if said
            else Missing(because="neither swing nor tag line is planned")
        )
        yield finding(
            LANDING,
            outcome,
            settle_by="Plan how the casualty gets from over the opening to the ground: swing_from "
            "and swing_to, or tag_line = true.",
            keys=(way.key("rig.tag_line"),),
            space=scene.space,
            about=way.name,
        )


def check_stuck(scene: Scene) -> Iterator[Finding]:
    """Lift sums do not hold for a person stuck in grain, sludge or a narrow place."""
    kinds = {one.kind for one in scene.space.hazard}
    if not kinds & {HazardKind.ENGULFMENT, HazardKind.WEDGED}:
        return
    for way in scene.ways():
        if way.rig is None:
            continue
        plan = way.method.free_first
        words = (
            plan
            or "no word on how a stuck casualty is freed; the force can be several times the weight"
        )
        yield finding(
            STUCK,
            Stated(holds=plan is not None, because=words),
            settle_by="Say in free_first how the casualty is freed before the line is pulled.",
            keys=(way.key("free_first"),),
            space=scene.space,
            about=way.name,
        )
