"""How far out the load line may hang: inside the feet of a portable base; fixed ones do not tip."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, Working, absent, derived, finding, output, stated
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.base import line_inside_base_m, worst_swing_rad
from planbuilder.site.supports import LeggedBaseDavit, Support, SupportKind

BASE = Rule(
    "haul/boom-beyond-base",
    "Reach without tipping the base",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics"),
)
FIXED = {
    SupportKind.FLOOR_SLEEVE: "bolted to the floor",
    SupportKind.WALL_SLEEVE: "bolted to a wall",
    SupportKind.WALL_CLAMP_SLEEVE: "clamped to a wall",
    SupportKind.POST_DAVIT_ARM: "held by a post that is fixed to its platform",
}
"""Supports with an arm that stand on no feet of their own: how they are held."""


def check_base(scene: Scene) -> Iterator[Finding]:
    """The load line never leaves the base of a portable davit; a fixed one has no such limit."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, LeggedBaseDavit):
            yield _portable(way, support)
        elif support is not None and support.kind in FIXED:
            yield _permanent(way, support)


def _permanent(way: Way, support: Support) -> Finding:
    held = f"{support.name} is {FIXED[support.kind]}"
    words = f"{held}: its rating and its fixing limit the reach, not tipping"
    return finding(
        BASE,
        Stated(holds=True, because=words),
        settle_by="Nothing; keep to the reach of the rating.",
        keys=(f"support.{support.id}.rated_reach",),
        space=way.scene.space,
        about=way.name,
    )


def _portable(way: Way, support: LeggedBaseDavit) -> Finding:
    rig = way.rig
    missing = absent(
        reach=rig.reach if rig else None,
        swing_from=rig.swing_from if rig else None,
        swing_to=rig.swing_to if rig else None,
    )
    keys = tuple(way.key(f"rig.{one}") for one in missing)
    keys += () if support.feet else (f"support.{support.id}.feet",)
    return finding(
        BASE,
        Missing(because="feet, reach or permitted swing not given")
        if keys
        else _inside_base(way, support),
        settle_by="Shorten the reach, narrow the permitted swing, or turn the base so that "
        "its legs reach past the opening; never stand people on the base as ballast.",
        keys=keys or (way.key("rig.reach"), f"support.{support.id}.feet"),
        space=way.scene.space,
        about=way.name,
    )


def _inside_base(way: Way, support: LeggedBaseDavit) -> Compared | Missing:
    rig, margin = way.rig, way.scene.defaults.of("base-margin")
    if not (rig and rig.reach and rig.swing_from and rig.swing_to and support.feet):
        return Missing(because="feet, reach or permitted swing not given")
    feet = [(x.m, y.m) for x, y in support.feet]
    sweep = (rig.reach.m, rig.swing_from.rad, rig.swing_to.rad)
    try:
        inside_m = line_inside_base_m(
            feet=feet, reach_m=sweep[0], swing_from_rad=sweep[1], swing_to_rad=sweep[2]
        )
        worst_rad = worst_swing_rad(
            feet=feet, reach_m=sweep[0], swing_from_rad=sweep[1], swing_to_rad=sweep[2]
        )
    except ValueError as error:
        return Missing(because=str(error))
    edge_note = f"over the permitted swing; worst at {math.degrees(worst_rad):.0f} degrees"
    inside = derived("d_in", "distance inside the nearest edge", inside_m, Unit.M, edge_note)
    nothing = derived("d_0", "edge of the base", 0.0, Unit.M, "line over the edge")
    reach = stated("a", "reach", rig.reach, Unit.M, way.key("rig.reach"))
    return Working(inside_m, "d_in", (inside, reach)).against(
        Relation.AT_LEAST,
        nothing,
        result=output("d", "load line inside the base", Unit.M),
        slack=margin.value,
    )
