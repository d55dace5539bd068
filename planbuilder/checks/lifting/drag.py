"""A casualty who lies off the hole is dragged along the floor to it."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.drum import working_load
from planbuilder.checks.lifting.haulers import pull_per_person
from planbuilder.checks.lifting.hauling import people_named
from planbuilder.checks.lifting.raise_time import drag_length
from planbuilder.checks.lifting.rope_systems import rope_pull
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.drag import drag_over_lips_n
from planbuilder.site.equipment import RopeSystem
from planbuilder.site.rig import Drag

DRAG = Rule(
    "haul/drag-too-heavy",
    "Pull that drags the casualty to the lift",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)


def check_drag(scene: Scene) -> Iterator[Finding]:
    """Device or team pulls the casualty along the floor, over every edge of the line's path."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or rig.drag is None:
            continue
        needs, load, psi = Needs(), weight(way), dynamic_factor(way)
        drag_length(way, rig, needs)
        edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
        device = scene.device(rig.device)
        slide, limit = _slide(way, rig.drag, needs), _pull(way, device, needs)
        value = load.value * psi.value * slide.value * edges.value
        inputs = (load, psi, slide, edges)
        yield compare(
            DRAG,
            way,
            needs,
            lambda: Working(value, "W*psi*k_drag*k_edge", inputs),
            Relation.AT_MOST,
            limit,
            result=("F_drag", "pull on the line while dragging", Unit.N),
            settle_by="Use a drag sheet, more people or a stronger device, or take an edge out.",
            keys=(way.key("rig.drag.on"), way.key("rig.drag.slope"), way.key("crew")),
        )


def _slide(way: Way, drag: Drag, needs: Needs) -> Quantity:
    """The pull over the weight that keeps the casualty sliding."""
    key = way.key("rig.drag")
    slope = needs.take("alpha", "slope up towards the lift", drag.slope, Unit.RAD, f"{key}.slope")
    needs.say(drag.on, f"{key}.on")
    name = "drag-friction-sheet" if drag.on == "drag-sheet" else "drag-friction"
    friction = way.scene.defaults.of(name)
    value = needs.work(
        lambda: drag_over_lips_n(
            weight_n=1.0, friction=friction.value, upslope_rad=slope.value, edge_factor=1.0
        )
    )
    note = "mu_d*cos(alpha) + sin(alpha), 0 where the casualty slides by itself: hold it back"
    return derived("k_drag", "drag over the weight", value, Unit.RATIO, note, (friction, slope))


def _pull(way: Way, device: AnyDevice, needs: Needs) -> Quantity:
    """What device or team pulls on the line at the casualty."""
    if not isinstance(device, RopeSystem):
        load = working_load(device)
        if isinstance(load, Quantity):
            return load
        needs.missing += load
        return derived("F", "working load", 0.0, Unit.N, "not known")
    people, each = people_named(way), pull_per_person(way)
    value = needs.work(
        lambda: people.value * each.value * rope_pull(way.scene, device).advantage.value
    )
    note = "n_haul*f_p*PMA, as long as the raise lasts"
    return derived("F_team", "pull of the people named", value, Unit.N, note, (people, each))
