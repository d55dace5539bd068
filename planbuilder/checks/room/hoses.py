"""Clearance: hoses and cables in the column, and a casualty who spins on the line."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.room.aside import is_raised_from_above
from planbuilder.checks.room.landing import half_casualty
from planbuilder.checks.room.lengths import up
from planbuilder.checks.room.place import clear_sides
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

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
HOSE = Rule(
    "clearance/hose-in-column", "Hoses and cables in the way of the lift", Weight.WARNS, GEOMETRY
)
SPINS = Rule("clearance/casualty-spins", "Casualty kept from spinning", Weight.WARNS, GEOMETRY)
ADVICE = (
    "State each hose and cable under hose: through which opening, how wide, and whether it is out "
    "before the lift."
)


def check_hoses(scene: Scene) -> Iterator[Finding]:
    """What goes in by the opening of the lift leaves room for the casualty, or is out by then."""
    space = scene.space
    if not (space.hose or space.ventilation or space.task.air_line):
        return
    for way in scene.ways():
        if is_raised_from_above(way):
            yield _beside_hoses(way) if space.hose else _unsaid(way)


def _unsaid(way: Way) -> Finding:
    scene, hose = way.scene, way.scene.space.ventilation
    what = "the blower's hose" if hose else "the air line"
    return finding(
        HOSE,
        Missing(because=f"not said where {what} goes in"),
        settle_by=ADVICE,
        keys=(scene.key("hose"),),
        space=scene.space,
        about=way.name,
    )


def _beside_hoses(way: Way) -> Finding:
    scene, needs, key = way.scene, Needs(), way.scene.key("hose")
    there = [
        needs.take(f"w_{number}", one.name, one.width, Unit.M, f"{key}[{number}].width")
        for number, one in enumerate(scene.space.hose, start=1)
        if one.through == "this-opening" and not one.out_before_lift
    ]
    keys = tuple(f"{key}[{n}].out_before_lift" for n in range(1, len(scene.space.hose) + 1))
    names = ", ".join(one.label for one in there)
    if not there:
        said = Stated(holds=True, because="no hose or cable is in the opening during the lift")
        return answer(HOSE, way, needs, lambda: said, settle_by=ADVICE, keys=keys)
    sides, half = clear_sides(scene, needs), half_casualty(scene)
    long = sides if isinstance(sides, Quantity) else sides[0]
    needed_m = 2 * half.value + sum(one.value for one in there)
    return compare(
        HOSE,
        way,
        needs,
        partial(_left, long, there),
        Relation.AT_LEAST,
        derived("B_c", "casualty, clothed", 2 * half.value, Unit.M, "2*b_c", (half,)),
        result=("s_left", "left of the opening beside the hoses", Unit.M),
        settle_by=f"Draw out {names} before the lift, and count on no fresh air from then on, or "
        "take it through another opening; then state it. Casualty and hoses side by side need "
        f"{up(needed_m)} m.",
        keys=keys,
    )


def _left(long: Quantity, there: list[Quantity]) -> Working:
    """The opening less the hoses side by side along its rim; the casualty taken across."""
    left_m = long.value - sum(one.value for one in there)
    return Working(left_m, " - ".join(one.symbol for one in (long, *there)), (long, *there))


def check_spin(scene: Scene) -> Iterator[Finding]:
    """A tag line keeps a casualty from turning, where turning catches, or winds up a line."""
    for way in scene.ways():
        reason = _why_spin_matters(way) if is_raised_from_above(way) else ""
        if reason and way.rig is not None:
            held = bool(way.rig.tag_line)
            yield finding(
                SPINS,
                Stated(holds=held, because="a tag line" if held else f"no tag line, and {reason}"),
                settle_by="Fix a tag line to the casualty, name who holds it, and state "
                "tag_line = true.",
                keys=(way.key("rig.tag_line"),),
                space=scene.space,
                about=way.name,
            )


def _why_spin_matters(way: Way) -> str:
    space, rig = way.scene.space, way.rig
    if rig is None:
        return ""
    if space.obstruction:
        return f"{space.obstruction[0].name} reaches into the shaft"
    if space.ladder is not None:
        return "a ladder shares the column"
    if way.method.stretcher is not None or (rig.stretcher_mass and rig.stretcher_mass.value > 0):
        return "a stretcher turns its length into the walls"
    if rig.backup is not None and rig.backup_support in (None, rig.support):
        return "the backup's line, on the same support, winds round that of the lift"
    return ""
