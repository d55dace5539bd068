"""Clearance: the plumb line down a shaft, past ladders, pipes and ledges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.landing import half_casualty
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.clearance.shaft import Obstruction, Section, best_plumb_m, clear_radius_m
from planbuilder.findings import Finding, Mark, Relation, Rule, Source, Unit, Weight
from planbuilder.site.atmosphere import InsideShape

TIGHT = Rule(
    "clearance/shaft-tight",
    "Room round the line down the shaft",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)


def check_shaft(scene: Scene) -> Iterator[Finding]:
    """Where something reaches into the shaft, the casualty still passes it on the plumb line."""
    for way in scene.ways():
        if way.rig is not None and scene.space.obstruction:
            yield _shaft(way)


def _shaft(way: Way) -> Finding:
    scene, needs, key = way.scene, Needs(), way.key("rig.plumb_at")
    at = way.rig.plumb_at if way.rig else None
    x, y = at or (None, None)
    right = needs.take("x", "line along the shaft", x, Unit.M, key)
    aside = needs.take("y", "line across the shaft", y, Unit.M, key)
    section = section_of(scene, needs)
    there = obstructions_of(scene)
    clear = partial(clear_radius_m, section=section, x_m=right.value, y_m=aside.value)
    radius_m = needs.work(lambda: clear(obstructions=there))
    rho = derived("rho", "least room round the line", radius_m, Unit.M, "to wall or obstruction")
    half, gap = half_casualty(scene), scene.defaults.of("shaft-gap")
    least_m = half.value + gap.value
    return compare(
        TIGHT,
        way,
        needs,
        lambda: Working(radius_m, "rho", (rho,)),
        Relation.AT_LEAST,
        derived("rho_least", "room needed", least_m, Unit.M, "b_c + m_s", (half, gap)),
        result=("rho", "least room round the line", Unit.M),
        settle_by=""
        if math.isnan(radius_m)
        else _advice(way, section, there, (right.value, aside.value), least_m),
        keys=(key, scene.key("obstruction")),
    )


def obstructions_of(scene: Scene) -> list[Obstruction]:
    """Whatever reaches into the shaft, in the order of the site file."""
    return [
        Obstruction(towards_rad=one.towards.rad, reaches_in_m=one.reaches_in.m)
        for one in scene.space.obstruction
    ]


def section_of(scene: Scene, needs: Needs) -> Section:
    """The clear section of the shaft; what the site file does not give is remembered in *needs*."""
    shape = scene.space.shape
    needs.say(shape.inside_is, scene.key("shape.inside_is"))
    is_round = shape.inside_is is InsideShape.ROUND
    width = needs.take(
        "w", "inside width", shape.inside_width, Unit.M, scene.key("shape.inside_width")
    )
    if is_round:
        return Section(length_m=width.value, width_m=width.value, is_round=True)
    length = needs.take(
        "l", "inside length", shape.inside_length, Unit.M, scene.key("shape.inside_length")
    )
    return Section(length_m=length.value, width_m=width.value, is_round=False)


def _advice(
    way: Way,
    section: Section,
    there: list[Obstruction],
    line_m: tuple[float, float],
    least_m: float,
) -> str:
    """Everything that leaves too little room, by depth, and the best place for the line."""
    gaps = [
        (one.gap_m(section, *line_m), named)
        for one, named in zip(there, way.scene.space.obstruction, strict=True)
    ]
    short = [one for gap_m, one in gaps if gap_m < least_m] or [
        min(gaps, key=lambda one: one[0])[1]
    ]
    names = "; ".join(
        f"{one.name} from {one.from_depth.m:.2f} to {one.to_depth.m:.2f} m down"
        for one in sorted(short, key=lambda one: one.from_depth.m)
    )
    best_x_m, best_y_m, best_m = best_plumb_m(section=section, obstructions=there)
    return (
        f"In the way, or nearest: {names}. Most room, {best_m:.3f} m, is at ({best_x_m:.2f}, "
        f"{best_y_m:.2f}) m from the centre: hang the line there, or take out what reaches in."
    )
