"""Clearance: the last stretch of a lift, at the head: hook block, and hands to tip out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.lengths import up
from planbuilder.checks.room.lift import Stack, stack_of
from planbuilder.checks.scene import Scene, Way, Working, counted, derived, finding, output, stated
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Verdict,
    Weight,
)
from planbuilder.site.method import CrewRole

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
TWO_BLOCKED = Rule(
    "clearance/hook-meets-head", "Travel left above the hook block", Weight.WARNS, GEOMETRY
)
TIP_OUT = Rule("clearance/tip-out-hands", "People to tip the casualty out", Weight.BLOCKS, GEOMETRY)
# Hands on a handle inside, or away at a telephone, hold nobody at the rim.
AT_THE_RIM = (CrewRole.LEADER, CrewRole.MEDIC, CrewRole.BACK_UP)


def check_hook_travel(scene: Scene) -> Iterator[Finding]:
    """The length counted for the hook block leaves travel above it: it never meets the head."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or rig.hook_length is None:
            continue
        needs, key = Needs(), way.key("rig.block")
        block = needs.take("b_h", "hook block and upper travel margin", rig.block, Unit.M, key)
        hook_key = way.key("rig.hook_length")
        hook = needs.take("l_hook", "hook block itself", rig.hook_length, Unit.M, hook_key)
        least = scene.defaults.of("hook-travel")
        yield compare(
            TWO_BLOCKED,
            way,
            needs,
            partial(_left, block, hook),
            Relation.AT_LEAST,
            least,
            result=("l_left", "travel left above the hook block", Unit.M),
            settle_by=f"Stop {up(hook.value + least.value)} m below the head, and count that "
            "as the length of the block.",
            keys=(key, hook_key),
        )


def _left(block: Quantity, hook: Quantity) -> Working:
    return Working(block.value - hook.value, "b_h - l_hook", (block, hook))


def check_tip_out(scene: Scene) -> Iterator[Finding]:
    """Where the feet stay below the rim, two people are there to tip the casualty out."""
    for way in scene.ways():
        if scene.space.is_confined and _feet_stay_inside(way):
            yield _hands(way)


def _feet_stay_inside(way: Way) -> bool:
    stack, hook = stack_of(way), way.rig.hook_height if way.rig else None
    if not isinstance(stack, Stack) or hook is None:
        return False
    limit = stated("h_h", "hook height", hook, Unit.M, way.key("rig.hook_height"))
    return stack.feet(limit).verdict is Verdict.FAILS


def _hands(way: Way) -> Finding:
    scene, crew_key = way.scene, way.key("crew")
    crew = {one.id for role in AT_THE_RIM for one in way.crew(role)}
    busy = {one.person for one in way.method.crew} - crew
    people = (crew | set(scene.space.attendant)) - busy
    there = counted("n_rim", "people at the rim", float(len(people)), crew_key)
    note = "one on each side of the opening"
    return finding(
        TIP_OUT,
        Working(there.value, "n_rim", (there,)).against(
            Relation.AT_LEAST,
            derived("n_tip", "people to tip out", 2.0, Unit.COUNT, note),
            result=output("n", "people at the rim", Unit.COUNT),
        ),
        settle_by="Raise the hook so that the feet clear the rim, or name 2 people who are free at "
        "the opening at the end of the lift.",
        keys=(crew_key, way.key("rig.hook_height")),
        space=scene.space,
        about=way.name,
    )
