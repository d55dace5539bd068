"""Clearance: the packed casualty through rings, raised or drawn out of a manway."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.room.rings import Clear, rings, tightest, unmeasured
from planbuilder.checks.scene import Scene, Way, Working, derived, finding
from planbuilder.clearance.oval import section_short_axis_needed_m
from planbuilder.clearance.stretcher import (
    longest_that_turns_m,
    section_diameter_m,
    section_short_side_needed_m,
    slot_of_oval_m,
    slot_of_rectangle_m,
    slot_width_needed_m,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.method import MethodKind
from planbuilder.site.travel import Carrying

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
PACKED = Rule(
    "clearance/packed-casualty-too-big",
    "Packed casualty through the opening",
    Weight.BLOCKS,
    GEOMETRY,
)
TURNED = Rule(
    "clearance/stretcher-cannot-turn",
    "Stretcher turned into the opening",
    Weight.BLOCKS,
    GEOMETRY,
)
STRAIGHT = Rule(
    "clearance/stretcher-longer-than-room",
    "Stretcher against the longer clear distance at the manway",
    Weight.BLOCKS,
    GEOMETRY,
)
_CARRIED = (Carrying.STRETCHER, Carrying.STRETCHER_DOWN, Carrying.STRETCHER_UP)
ADVICE = (
    "Pack the casualty smaller, use a stretcher that bends, or clear the way: then measure and "
    "state the new sizes."
)


@dataclass(frozen=True, slots=True)
class Packing:
    """The packed casualty of one way, and what its sizes still lack."""

    way: Way
    needs: Needs
    length: Quantity
    width: Quantity
    depth: Quantity


def check_packed(scene: Scene) -> Iterator[Finding]:
    """The section of the packed casualty passes every ring of the way out."""
    for way in scene.ways():
        if not scene.space.is_confined or (load := packing(way)) is None:
            continue
        missing = tuple(key for key in load.needs.missing if not key.endswith("length"))
        yield tightest(
            scene,
            PACKED,
            partial(_sections, load),
            about=way.name,
            settle=ADVICE,
            missing=missing,
        )


def check_turned(scene: Scene) -> Iterator[Finding]:
    """A stiff stretcher can be raised into a hatch, or drawn out of a side manway."""
    for way in scene.ways():
        if not scene.space.is_confined or (load := packing(way)) is None:
            continue
        if missing := (*load.needs.missing, *unmeasured(scene)):
            why = "the stretcher or the opening is not measured"
            yield finding(
                TURNED,
                Missing(because=why),
                settle_by=ADVICE,
                keys=missing,
                space=scene.space,
                about=way.name,
            )
            continue
        yield from _through_side(load) if scene.space.opening.from_side else _from_below(load)


def packing(way: Way) -> Packing | None:
    """The stretcher of *way*; one that is weighed, or carried along the way out, is asked for."""
    rig, needs = way.rig, Needs()
    weighed = rig is not None and rig.stretcher_mass is not None and rig.stretcher_mass.value > 0
    item = way.scene.equipment(way.method.stretcher) if way.method.stretcher else None
    if item is None and not weighed and not _is_carried(way):
        return None
    needs.say(item, way.key("stretcher"))
    packed = item.packed if item else None
    key = f"equipment.{item.id}.packed" if item else way.key("stretcher")
    needs.say(packed.bends if packed else None, f"{key}.bends")
    name, label = "length", "length of the stretcher"
    if packed and packed.bends:
        name, label = "stiff_length", "longest stiff part of the stretcher"
    long = getattr(packed, name) if packed else None
    return Packing(
        way,
        needs,
        needs.take("L_s", label, long, Unit.M, f"{key}.{name}"),
        needs.take(
            "w_p", "width as packed", packed.width if packed else None, Unit.M, f"{key}.width"
        ),
        needs.take(
            "d_p", "depth as packed", packed.depth if packed else None, Unit.M, f"{key}.depth"
        ),
    )


def _is_carried(way: Way) -> bool:
    """An entry rescue whose way out has a stretch that is gone with a stretcher."""
    return way.method.method is MethodKind.ENTRY and any(
        one.coming_out in _CARRIED for one in way.scene.space.route
    )


def _sections(load: Packing, ring: Clear) -> list[Working]:
    return [_section(ring, load)]


def _section(ring: Clear, load: Packing) -> Working:
    sides = {"width_m": load.width.value, "depth_m": load.depth.value}
    if ring.is_round:
        needed_m = section_diameter_m(**sides)
        return Working(needed_m, "sqrt(w_p**2 + d_p**2)", (load.width, load.depth))
    long = ring.long_side
    if ring.is_oval:
        needed_m = section_short_axis_needed_m(**sides, long_axis_m=long.value)
    else:
        needed_m = section_short_side_needed_m(**sides, long_side_m=long.value)
    note = "least short side round the section w_p x d_p, turned the best way"
    turned = derived("d_turned", "short side for the section", needed_m, Unit.M, note)
    return Working(needed_m, "d_turned", (load.width, load.depth, long, turned))


def _from_below(load: Packing) -> Iterator[Finding]:
    """Under a hatch the headroom is the depth less the neck."""
    scene, needs = load.way.scene, Needs()
    opening, depth = scene.space.opening, scene.space.shape.depth
    down = needs.take("h_in", "depth", depth, Unit.M, scene.key("shape.depth"))
    neck = needs.take("e", "length of the neck", opening.neck, Unit.M, scene.key("opening.neck"))
    room = derived("H_room", "headroom", down.value - neck.value, Unit.M, "h_in - e", (down, neck))
    yield _turn(load, needs, room, neck, (down,))


def _through_side(load: Packing) -> Iterator[Finding]:
    """On one side of the manway the whole length must have room; on the other it may turn."""
    scene, needs, way = load.way.scene, Needs(), load.way
    opening, key = scene.space.opening, scene.key("opening")
    neck = needs.take("e", "length of the neck", opening.neck, Unit.M, f"{key}.neck")
    both = [
        needs.take(f"x_{side}", f"clear distance {side}", value, Unit.M, f"{key}.clear_{side}")
        for side, value in (("outside", opening.clear_outside), ("inside", opening.clear_inside))
    ]
    near, far = sorted(both, key=lambda one: one.value)
    yield compare(
        STRAIGHT,
        way,
        needs,
        lambda: Working(load.length.value, "L_s", (load.length,)),
        Relation.AT_MOST,
        far,
        result=("L_need", "length to lay out straight", Unit.M),
        settle_by=f"Clear {up(load.length.value)} m on one side of the manway. {ADVICE}",
        keys=(f"{key}.clear_outside", f"{key}.clear_inside"),
    )
    yield _turn(load, needs, near, neck, ())


def _turn(
    load: Packing, needs: Needs, room: Quantity, neck: Quantity, more: tuple[Quantity, ...]
) -> Finding:
    slot = min((_slot(ring, load) for ring in rings(load.way.scene)), key=lambda one: one.value)

    def turned_m() -> float:
        if room.value <= 0:
            raise ValueError("the neck must be shorter than the depth")
        return slot_width_needed_m(
            length_m=load.length.value,
            thickness_m=load.depth.value,
            headroom_m=room.value,
            neck_m=neck.value,
        )

    needed_m = needs.work(turned_m)

    def working() -> Working:
        note = "worst place of a board whose end slides along the floor, or the wall opposite"
        turned = derived("w_turn", "width for the turn", needed_m, Unit.M, note)
        inputs = (load.length, load.depth, *more, neck, room, turned)
        return Working(needed_m, "w_turn", inputs)

    return compare(
        TURNED,
        load.way,
        needs,
        working,
        Relation.AT_MOST,
        slot,
        result=("w_need", "width needed in the plane of the turn", Unit.M),
        settle_by=f"The turn takes {up(needed_m)} m, and {down(slot.value)} m are clear. "
        f"{_clearing(load, slot, needed_m)} {ADVICE}{_longest(load, needs, room, neck, slot)}"
        if math.isfinite(needed_m)
        else ADVICE,
        keys=(load.way.scene.key("opening"),),
    )


def _clearing(load: Packing, slot: Quantity, needed_m: float) -> str:
    """The sizes that would do: of a round opening, or of the room before this one."""
    round_m = section_diameter_m(width_m=needed_m, depth_m=load.width.value)
    words = f"A round opening of {up(round_m)} m would do"
    if slot.value >= load.depth.value:
        words += f", or {up(load.length.value)} m clear before this one"
    return f"{words}."


def _longest(load: Packing, needs: Needs, room: Quantity, neck: Quantity, slot: Quantity) -> str:
    """The longest stiff part that turns into the opening, where anything does."""
    if needs.missing or room.value <= 0:
        return ""
    try:
        longest_m = longest_that_turns_m(
            slot_m=slot.value,
            thickness_m=load.depth.value,
            headroom_m=room.value,
            neck_m=neck.value,
        )
    except ValueError as error:
        return f" No length would do: {error}."
    return _no_longer(longest_m)


def _no_longer(length_m: float) -> str:
    return "" if math.isnan(length_m) else f" A stiff length of {down(length_m)} m would do."


def _slot(ring: Clear, load: Packing) -> Quantity:
    short_m = ring.available.value
    long_m = short_m if ring.is_round else ring.long_side.value
    if ring.is_round or ring.is_oval:
        slot_m = slot_of_oval_m(
            long_axis_m=long_m, short_axis_m=short_m, breadth_m=load.width.value
        )
    else:
        slot_m = slot_of_rectangle_m(
            long_side_m=long_m, short_side_m=short_m, breadth_m=load.width.value
        )
    note = f"left of the {ring.ring.name} beside the width as packed, w_p"
    return derived("w_slot", "clear width for the turn", slot_m, Unit.M, note, (load.width,))
