"""Rope for a system hauled by people: reeved the whole way, or gripping a main line and reset."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.lifting.raise_time import drag_length, rope_parts
from planbuilder.checks.lifting.rope_systems import rope_systems
from planbuilder.checks.scene import Scene, Way, Working, stated
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.strokes import haul_line_m, main_line_m, tackle_line_m
from planbuilder.site.equipment import ReevingKind, RopeSystem
from planbuilder.site.rig import Rig

HAUL_ROPE = Rule(
    "haul/haul-rope-too-short",
    "Haul rope of a system that is reset",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)


def rope_needed(way: Way, rig: Rig, device: RopeSystem) -> Working | tuple[str, ...]:
    """The length of the rope that carries the casualty, or the keys that are missing."""
    needs = Needs()
    try:
        if device.reset_distance is None:
            working = _reeved_the_whole_way(way, rig, device, needs)
        else:
            working = _main_line(way, rig, device, needs)
    except ValueError:  # no rope system: another check says why
        return (*needs.missing, f"device.{device.id}.reeving")
    return tuple(needs.missing) or working


def _hanging(way: Way, rig: Rig, needs: Needs) -> tuple[Quantity, ...]:
    """Depth, attachment, head and connectors, and the way along the floor if there is one."""
    below, tail = way.scene.down
    dragged = drag_length(way, rig, needs)
    return (
        needs.take("z", "depth or height below", below, Unit.M, way.scene.key(tail)),
        way.scene.defaults.of("lying-attachment-height"),
        needs.take("H", "hook height", rig.hook_height, Unit.M, way.key("rig.hook_height")),
        needs.take("h_con", "connectors", rig.connector, Unit.M, way.key("rig.connector")),
        *((dragged,) if dragged else ()),
    )


def _reeved_the_whole_way(way: Way, rig: Rig, device: RopeSystem, needs: Needs) -> Working:
    hanging, spare = _hanging(way, rig, needs), way.scene.defaults.of("line-allowance")
    depth, lying, head, blocks, *dragged = (one.value for one in hanging)
    run = needs.take("l_run", "rope to the haulers", rig.haul_run, Unit.M, way.key("rig.haul_run"))
    parts = rope_parts(way.scene, device)
    value = tackle_line_m(
        parts=parts.value,
        attachment_depth_m=depth - lying + sum(dragged),
        head_height_m=head,
        block_m=blocks,
        tail_m=run.value + spare.value,
    )
    formula = f"n_parts*({_hangs(hanging)}) + l_run + l_spare"
    return Working(value, formula, (parts, *hanging, run, spare))


def _main_line(way: Way, rig: Rig, device: RopeSystem, needs: Needs) -> Working:
    """The line that is gripped; where no haul rope is stated, it is reeved with its own tail."""
    hanging, spare = _hanging(way, rig, needs), way.scene.defaults.of("line-allowance")
    depth, lying, head, blocks, *dragged = (one.value for one in hanging)
    knot, key = way.scene.defaults.of("knot-length"), way.key("rig.anchor_to_edge")
    back = needs.take("b", "anchor to head or edge", rig.anchor_to_edge, Unit.M, key)
    value = main_line_m(
        lift_m=depth - lying + sum(dragged) + head - blocks,
        anchor_to_edge_m=back.value,
        knots_m=2 * knot.value,
        tails_m=spare.value,
    )
    formula = f"{_hangs(hanging)} + b + 2*l_knot + l_spare"
    inputs = (*hanging, back, knot, spare)
    if device.haul_rope_length is not None:
        return Working(value, formula, inputs)
    own = _haul_rope(way, rig, device, needs, own_rope=False)
    return Working(value + own.value, f"{formula} + {own.formula}", (*inputs, *own.inputs))


def _hangs(hanging: tuple[Quantity, ...]) -> str:
    return "z - h_lying + H - h_con" + "".join(f" + {one.symbol}" for one in hanging[4:])


def check_haul_rope(scene: Scene) -> Iterator[Finding]:
    """A haul rope of its own reaches through the system and along the haulers' way."""
    for way, device in rope_systems(scene):
        length = device.haul_rope_length
        if way.rig is None or length is None or device.reset_distance is None:
            continue
        needs, key = Needs(), f"device.{device.id}.haul_rope_length"
        rope = _haul_rope(way, way.rig, device, needs, own_rope=True)
        spare = scene.defaults.of("line-allowance")
        inputs = (*rope.inputs, spare)
        yield compare(
            HAUL_ROPE,
            way,
            needs,
            lambda: Working(rope.value + spare.value, f"{rope.formula} + l_spare", inputs),
            Relation.AT_MOST,
            stated("l_haul", "haul rope, all stages together", length, Unit.M, key),
            result=("l_need", "haul rope needed", Unit.M),
            settle_by="Bring a longer haul rope, or set grab and anchor pulley closer together.",
            keys=(key, way.key("rig.walkway")),
        )


def _haul_rope(way: Way, rig: Rig, device: RopeSystem, needs: Needs, *, own_rope: bool) -> Working:
    """Rope between the blocks and along the walkway; one strand less if the main line is one."""
    stages, saved = _stages(way, device, needs), 0 if own_rope else 1
    walk = needs.take("w", "walkway of the haulers", rig.walkway, Unit.M, way.key("rig.walkway"))
    strands = [
        (count - (saved if not at else 0), start) for at, (count, start) in enumerate(stages)
    ]
    value = walk.value + sum(
        haul_line_m(own_advantage=count, start_m=start.value, walkway_m=0.0, tails_m=0.0)
        for count, start in strands
    )
    formula = " + ".join(f"{count:g}*{start.symbol}" for count, start in strands)
    return Working(value, f"{formula} + w", (*(start for _, start in strands), walk))


def _stages(way: Way, device: RopeSystem, needs: Needs) -> list[tuple[float, Quantity]]:
    """Strands and start distance of each stage; other systems as one stage of all their strands."""
    key = f"device.{device.id}"
    label, distance = "grab to anchor pulley", device.reset_distance
    first = needs.take("D_1", label, distance, Unit.M, f"{key}.reset_distance")
    if device.reeving is not ReevingKind.COMPOUND:
        return [(rope_parts(way.scene, device).value, first)]
    further = device.stage_distances or []
    stages: list[tuple[float, Quantity]] = [(device.parts[0], first)]
    for number, count in enumerate(device.parts[1:], 2):
        start = further[number - 2] if number - 2 < len(further) else None
        name = f"{label}, stage {number}"
        stages.append(
            (count, needs.take(f"D_{number}", name, start, Unit.M, f"{key}.stage_distances"))
        )
    return stages
