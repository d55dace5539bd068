"""Clearance: the support of a backup under the same roof, as it stands and while it is raised."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room import overhead
from planbuilder.checks.room.standing import Standing, standing
from planbuilder.checks.scene import Scene, Way, Working
from planbuilder.clearance.overhead import raised_tip_m
from planbuilder.findings import Finding, Quantity, Relation, Unit
from planbuilder.site.room import Overhead
from planbuilder.site.supports import LeggedBaseDavit, Tripod

_INSTEAD = "or hang the backup from the structure above."


def check_backup_under(scene: Scene) -> Iterator[Finding]:
    """A backup's own support keeps the gap to the roof too, standing and while it is raised."""
    for way in scene.ways():
        over = way.rig.overhead if way.rig else None
        for one in standing(way):
            if over is not None and one.is_backup and one.is_raised:
                yield _stands(way, over, one)
                yield from _is_raised(way, over, one)


def _stands(way: Way, over: Overhead, one: Standing) -> Finding:
    needs = Needs()
    above, coaming = overhead.under_what(way, over, needs)
    top = one.top(needs)
    gap_m = above.value + coaming.value - top.value
    return compare(
        overhead.UNDER,
        way,
        needs,
        partial(Working, gap_m, "h_o + h_c - h_t", (above, coaming, top)),
        Relation.AT_LEAST,
        way.scene.defaults.of("overhead-margin"),
        result=("g_head", "gap above the support", Unit.M),
        settle_by=f"Set its mast lower, {_INSTEAD}",
        keys=(way.key("rig.overhead.clear_height"), one.top_key),
        about=one.about,
    )


def _is_raised(way: Way, over: Overhead, one: Standing) -> Iterator[Finding]:
    needs, support = Needs(), one.support
    above, coaming = overhead.under_what(way, over, needs)
    if isinstance(support, Tripod):
        key = f"support.{support.id}.leg_length"
        leg = needs.take("l_leg", "leg length", support.leg_length, Unit.M, key)
        gap_m = above.value + coaming.value - leg.value
        working = partial(Working, gap_m, "h_o + h_c - l_leg", (above, coaming, leg))
    elif isinstance(support, LeggedBaseDavit) or one.rig.backup_stand.hinge_height is not None:
        key = way.key("rig.backup_stand.hinge_height")
        hinge_height = one.rig.backup_stand.hinge_height
        hinge = needs.take("h_p", "height of the hinge", hinge_height, Unit.M, key)
        inputs = (above, coaming, hinge, one.top(needs), one.reach(needs))
        working = partial(_turned_up, *inputs)
    else:
        return  # nobody said that it turns up about a hinge
    yield compare(
        overhead.RAISING,
        way,
        needs,
        working,
        Relation.AT_LEAST,
        way.scene.defaults.of("overhead-margin"),
        result=("g_up", "gap while it is raised", Unit.M),
        settle_by=f"Raise it beside the obstruction and move it in, {_INSTEAD}",
        keys=(way.key("rig.overhead.clear_height"), key),
        about=one.about,
    )


def _turned_up(
    above: Quantity, coaming: Quantity, hinge: Quantity, top: Quantity, reach: Quantity
) -> Working:
    tip_m = raised_tip_m(
        hook_height_m=top.value,
        head_above_hook_m=0.0,
        hinge_height_m=hinge.value,
        reach_m=reach.value,
    )
    gap_m = above.value + coaming.value - tip_m
    formula = "h_o + h_c - h_p - sqrt((h_t - h_p)**2 + R**2)"
    return Working(gap_m, formula, (above, coaming, hinge, top, reach))
