"""Clearance: the support against the opening: line over it, feet off it, legs beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.drawn import on_feet
from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.clearance.lift import DORSAL_RATIO, FOOT_DROOP_M
from planbuilder.clearance.place import (
    centring_tolerance_m,
    feet_to_edge_m,
    leg_for_gap_m,
    leg_gap_m,
    nearest_foot_m,
    round_tolerance_m,
)
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.site.opening import OpeningShape
from planbuilder.site.supports import LeggedBaseDavit, Support, Tripod

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
CENTRED = Rule("clearance/line-off-centre", "Line over the opening", Weight.WARNS, GEOMETRY)
FEET = Rule("clearance/feet-near-edge", "Feet off the edge of the opening", Weight.WARNS, GEOMETRY)
LEGS = Rule("clearance/leg-gap", "Casualty out between two legs", Weight.WARNS, GEOMETRY)


def clear_sides(scene: Scene, needs: Needs) -> tuple[Quantity, Quantity] | Quantity:
    """The clear diameter of a round opening, else its two sides, the longer first."""
    opening = scene.space.opening
    needs.say(opening.shape, scene.key("opening.shape"))
    if opening.shape is OpeningShape.ROUND:
        key = scene.key("opening.diameter")
        return needs.take("d_clear", "clear diameter", opening.diameter, Unit.M, key)
    sides = [
        needs.take(f"s_{name}", f"clear {name}", amount, Unit.M, scene.key(f"opening.{name}"))
        for name, amount in (("length", opening.length), ("width", opening.width))
    ]
    sides.sort(key=lambda one: -one.value)
    return sides[0], sides[1]


def check_centred(scene: Scene) -> Iterator[Finding]:
    """The hook let down misses the centre of the opening by no more than the body leaves room."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or rig.off_centre is None or not scene.space.is_confined:
            continue
        needs, key = Needs(), way.key("rig.off_centre")
        off = needs.take("e", "line off the centre", rig.off_centre, Unit.M, key)
        most_m = needs.work(partial(_tolerance_m, scene, clear_sides(scene, needs)))
        note = "half of what the body leaves of the opening, less the gap to the rim"
        yield compare(
            CENTRED,
            way,
            needs,
            partial(Working, off.value, "e", (off,)),
            Relation.AT_MOST,
            derived("e_tol", "room to either side", most_m, Unit.M, note),
            result=("e", "line off the centre", Unit.M),
            settle_by=f"Set the support so that the hook, let down, hangs within {most_m:.3f} m of "
            "the centre; where nothing is left, guide the casualty by hand."
            if most_m > 0
            else "The body leaves no room in this opening: guide the casualty by hand.",
            keys=(key,),
        )


def _tolerance_m(scene: Scene, sides: tuple[Quantity, Quantity] | Quantity) -> float:
    breadth, depth = (largest(scene, one) for one in ("shoulder-breadth", "body-depth"))
    gap_m = scene.defaults.of("rim-gap").value
    if isinstance(sides, Quantity):
        size_m = max(breadth.value, depth.value)
        return round_tolerance_m(diameter_m=sides.value, breadth_m=size_m, gap_m=gap_m)
    return centring_tolerance_m(
        long_side_m=sides[0].value,
        short_side_m=sides[1].value,
        breadth_m=breadth.value,
        depth_m=depth.value,
        gap_m=gap_m,
    )


def check_feet(scene: Scene) -> Iterator[Finding]:
    """The feet of a portable support stand off the edge of the opening."""
    for one in on_feet(scene) if scene.space.is_confined else ():
        needs, way = Needs(), one.way
        foot, foot_key = _nearest_foot(way, one.support, needs)
        corner, off, pad = _corner(scene, needs), one.off_centre(), one.half_pad()
        least = scene.defaults.of("set-back")
        least_m = least.value + corner.value + off.value + pad.value
        yield compare(
            FEET,
            way,
            needs,
            partial(_gap, foot, corner, off, pad),
            Relation.AT_LEAST,
            least,
            result=("g_foot", "foot with its pad to the edge of the opening", Unit.M),
            settle_by=f"Spread the feet to {up(least_m)} m from the hook, or lay a beam that "
            "carries them beyond the edge.",
            keys=(foot_key,),
        )


def _nearest_foot(
    way: Way, support: Tripod | LeggedBaseDavit, needs: Needs
) -> tuple[Quantity, str]:
    label = "hook to the nearest foot"
    if isinstance(support, Tripod):
        key = f"support.{support.id}.foot_radius"
        return needs.take("r_foot", label, support.foot_radius, Unit.M, key), key
    key, rig = f"support.{support.id}.feet", way.rig
    needs.say(support.feet, key)
    reach = needs.take("a", "reach", rig.reach if rig else None, Unit.M, way.key("rig.reach"))
    feet = [(x.m, y.m) for x, y in support.feet or ()]
    foot_m = needs.work(lambda: nearest_foot_m(feet=feet, over=(reach.value, 0.0)))
    return derived("r_foot", label, foot_m, Unit.M, "in plan, boom over the opening", (reach,)), key


def _corner(scene: Scene, needs: Needs) -> Quantity:
    sides = clear_sides(scene, needs)
    label = "centre of the opening to its farthest point"
    if isinstance(sides, Quantity):
        return derived("R_op", label, sides.value / 2, Unit.M, "d_clear/2", (sides,))
    half_m = math.hypot(sides[0].value, sides[1].value) / 2
    return derived("R_op", label, half_m, Unit.M, "half the diagonal", sides)


def _gap(foot: Quantity, corner: Quantity, off: Quantity, pad: Quantity) -> Working:
    gap_m = feet_to_edge_m(foot_m=foot.value, corner_m=corner.value, off_centre_m=off.value)
    inputs = (foot, corner, off, pad)
    return Working(gap_m - pad.value, "r_foot - R_op - e - b_p", inputs)


def check_leg_gap(scene: Scene) -> Iterator[Finding]:
    """At full lift the casualty passes out edgewise between two legs of a tripod."""
    for way in scene.ways():
        support: Support | None = scene.support(way.rig.support) if way.rig else None
        if not scene.space.is_confined or not isinstance(support, Tripod):
            continue
        needs, key = Needs(), f"support.{support.id}"
        leg = needs.take("L", "leg length", support.leg_length, Unit.M, f"{key}.leg_length")
        radius_key = f"{key}.foot_radius"
        circle = needs.take(
            "r", "radius of the foot circle", support.foot_radius, Unit.M, radius_key
        )
        coaming = needs.take(
            "h_c",
            "height of the coaming",
            scene.space.opening.coaming,
            Unit.M,
            scene.key("opening.coaming"),
        )
        depth, allowance = largest(scene, "body-depth"), scene.defaults.of("opening-allowance")
        most_m = depth.value + allowance.value
        shoulder = _shoulders(scene, coaming)
        yield compare(
            LEGS,
            way,
            needs,
            partial(_leg_gap, leg, circle, shoulder),
            Relation.AT_LEAST,
            derived("D_c", "casualty edgewise", most_m, Unit.M, "D + c", (depth, allowance)),
            result=("g_leg", "gap between two legs at the shoulders", Unit.M),
            settle_by=_taller(circle.value, shoulder.value, most_m),
            keys=(radius_key,),
        )


def _taller(circle_m: float, shoulder_m: float, wide_m: float) -> str:
    """The legs, on the same circle, that leave the gap; none do where the circle is too small."""
    advice = "Bring the casualty out feet first and lower them"
    try:
        leg_m = leg_for_gap_m(foot_circle_m=circle_m, at_height_m=shoulder_m, gap_m=wide_m)
    except ValueError:
        least_m = wide_m / math.sqrt(3)
        return f"{advice}, or stand taller legs on a circle of more than {up(least_m)} m."
    return f"{advice}, or use a tripod with legs of {up(leg_m)} m on this circle."


def _shoulders(scene: Scene, coaming: Quantity) -> Quantity:
    aside, stature = scene.defaults.of("swing-aside"), largest(scene, "stature")
    shoulder_m = coaming.value + aside.value + FOOT_DROOP_M + DORSAL_RATIO * stature.value
    note = "h_c + c_f + foot droop + 0.82*H, feet clear of the rim"
    parts = (coaming, aside, stature)
    return derived("z_s", "shoulders above grade", shoulder_m, Unit.M, note, parts)


def _leg_gap(leg: Quantity, circle: Quantity, shoulder: Quantity) -> Working:
    if leg.value <= circle.value:
        raise ValueError("the legs are no longer than the radius of the circle they stand on")
    head_m = math.sqrt(leg.value**2 - circle.value**2)
    gap_m = leg_gap_m(foot_circle_m=circle.value, head_m=head_m, at_height_m=shoulder.value)
    formula = "sqrt(3)*r*max(0, 1 - z_s/sqrt(L**2 - r**2))"
    return Working(gap_m, formula, (circle, shoulder, leg))
