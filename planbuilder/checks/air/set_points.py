"""Readings at which everybody leaves: one for each gas, each stricter than its limit."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.atmosphere import judged
from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.profiles.statements import Limit
from planbuilder.site.hazard import Hazard, HazardKind
from planbuilder.units import Fraction

SET_POINT = Rule(
    "plan/alarm-set-point",
    "Monitor set-points against the limits",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(b), (d)(3)(i)"),
)
# A point at the limit itself is marginal: the example programme of appendix C has people out at it.
AT_LIMIT = 1e-7
NO_IGNITION = "atmosphere.lfl_max_no_ignition"


def flammable_limit(scene: Scene) -> Limit:
    """The limit for flammable gas: the looser one only where a named person says why none ignites.

    It also takes a rule set that has such a limit.
    """
    gas, looser = scene.space.flammable, scene.limits.limit(NO_IGNITION)
    stated = gas is not None and gas.no_ignition_because and gas.no_ignition_decided_by
    return looser if stated and looser is not None else scene.limits.of("atmosphere.lfl_max")


def other_toxics(scene: Scene) -> Iterator[tuple[str, Hazard]]:
    """Gases without a limit of this tool, each with its name."""
    for one in scene.space.hazard:
        if one.kind is HazardKind.OTHER_TOXIC:
            yield one.substance or one.kind.replace("-", " "), one


def check_set_points(scene: Scene) -> Iterator[Finding]:
    """Every reading that the attendant acts on is set, and stricter than the limit."""
    if not scene.space.is_confined:
        return
    points, kinds = scene.space.set_points, {one.kind for one in scene.space.hazard}
    of = scene.limits.of
    rows: list[tuple[str, Limit, Fraction | None]] = [
        ("oxygen_low", of("atmosphere.o2_min"), points.oxygen_low),
        ("oxygen_high", of("atmosphere.o2_max"), points.oxygen_high),
        ("flammable", flammable_limit(scene), points.flammable),
    ]
    if HazardKind.HYDROGEN_SULFIDE in kinds or points.hydrogen_sulfide is not None:
        rows.append(("hydrogen_sulfide", of("atmosphere.h2s_max"), points.hydrogen_sulfide))
    if HazardKind.CARBON_MONOXIDE in kinds or points.carbon_monoxide is not None:
        rows.append(("carbon_monoxide", of("atmosphere.co_max"), points.carbon_monoxide))
    for name, limit, point in rows:
        yield _set_point(scene, name, limit, point)
    for name, hazard in other_toxics(scene):
        yield _other(scene, name, hazard)


def _set_point(scene: Scene, name: str, limit: Limit, point: Fraction | None) -> Finding:
    tail = f"set_points.{name}"
    outcome: Compared | Missing = Missing(because=f"no set-point for {limit.quantity.label}")
    if point is not None:
        given = scene.given("p", "set-point", point, Unit.FRACTION, tail)
        outcome = Working(point.ratio, "p", (given,)).against(
            limit.relation,
            limit.quantity,
            result=output("p_set", limit.quantity.label, Unit.FRACTION),
            slack=AT_LIMIT,
        )
    return finding(
        SET_POINT,
        outcome,
        settle_by=f"Set the monitor and state {name}, stricter than {limit.quantity.written}: at "
        "the limit itself people are to be out already.",
        keys=(scene.key(tail),),
        space=scene.space,
        about=limit.quantity.label,
    )


def _other(scene: Scene, name: str, hazard: Hazard) -> Finding:
    """A gas whose limit the plan itself must name."""
    needs, key = Needs(), scene.key(f"hazard.{hazard.kind}")
    needs.say(hazard.substance, f"{key}.substance")
    point = needs.take("p", "set-point", hazard.set_point, Unit.FRACTION, f"{key}.set_point")
    most = needs.take("C_most", f"limit of {name}", hazard.limit, Unit.FRACTION, f"{key}.limit")
    return judged(
        scene,
        SET_POINT,
        needs,
        lambda: Working(point.value, "p", (point,)).against(
            Relation.AT_MOST, most, result=output("p_set", name, Unit.FRACTION), slack=AT_LIMIT
        ),
        settle_by=f"State substance, limit and set_point of {name}, the point below the limit.",
        keys=(f"{key}.set_point", f"{key}.limit"),
        about=name,
    )
