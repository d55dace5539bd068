"""Exhaust, hot work and the intake of the blower, with the wind."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import MEASURE, Needs
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.clearance.surroundings import angle_between_rad
from planbuilder.findings import (
    Compared,
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
from planbuilder.site.surroundings import Nearby
from planbuilder.units import Amount

CHOICE = Source(mark=Mark.CHOICE, note="exhaust must not reach whoever breathes at the place")
EXHAUST = Rule("clearance/exhaust-too-near", "Exhaust and opening", Weight.BLOCKS, CHOICE)
UPWIND = Rule("clearance/exhaust-upwind", "Exhaust and wind", Weight.BLOCKS, CHOICE)
AT_INTAKE = Rule("clearance/exhaust-at-intake", "Exhaust and blower", Weight.BLOCKS, CHOICE)
HOT = Rule(
    "clearance/hot-work-too-near",
    "Hot work and opening",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.252", clause="(a)(2)(vii)"),
)
INTAKE = Rule("clearance/intake-too-near", "Blower intake and opening", Weight.BLOCKS, CHOICE)
DOWNWIND = Rule("clearance/intake-downwind", "Blower intake and wind", Weight.BLOCKS, CHOICE)
_ANGLE = "min(max(beta - w, w - beta), 2*pi - max(beta - w, w - beta))"
_TURNS = "Look again whenever the wind turns."


def check_nearby(scene: Scene) -> Iterator[Finding]:
    """Engines stand far enough off and downwind, hot work far enough off."""
    for one in scene.space.nearby:
        if one.kind == "hot-work":
            yield _apart(scene, HOT, one, "hot-work-distance", one.distance, "distance")
            continue
        yield _apart(scene, EXHAUST, one, "exhaust-distance", one.distance, "distance")
        yield _downwind(scene, one)
        if scene.space.ventilation is not None:
            yield _apart(scene, AT_INTAKE, one, "exhaust-distance", one.to_intake, "to_intake")


def check_intake(scene: Scene) -> Iterator[Finding]:
    """The blower draws from upwind of the opening, and not from its rim."""
    air = scene.space.ventilation
    if air is None:
        return
    engines = [one for one in scene.space.nearby if one.kind == "exhaust"]
    if not (engines or air.intake_distance or air.intake_bearing):
        return
    key, needs = scene.key("ventilation.intake_distance"), Needs()
    away = needs.take("d_given", "intake from opening", air.intake_distance, Unit.M, key)
    least = scene.defaults.of("intake-distance")
    yield _held(
        scene,
        INTAKE,
        needs,
        Working(away.value, "d_given", (away,)),
        Relation.AT_LEAST,
        least,
        result=output("d", "distance of the intake", Unit.M),
        settle_by=f"Put the intake {least.value:g} m or more from the opening.",
    )
    needs = Needs()
    key = scene.key("ventilation.intake_bearing")
    working = _off_wind(scene, needs, air.intake_bearing, key)
    most = scene.defaults.of("upwind-angle")
    yield _held(
        scene,
        DOWNWIND,
        needs,
        working,
        Relation.AT_MOST,
        most,
        result=output("phi", "angle between intake and wind", Unit.RAD),
        settle_by="Put the intake on the side that the wind comes from, "
        f"{_between(scene, -most.value, most.value)}. {_TURNS}",
    )


def _apart(
    scene: Scene, rule: Rule, one: Nearby, default: str, amount: Amount | None, tail: str
) -> Finding:
    needs, least = Needs(), scene.defaults.of(default)
    away = needs.take("d_given", "distance stated", amount, Unit.M, scene.key(f"nearby.{tail}"))
    return _held(
        scene,
        rule,
        needs,
        Working(away.value, "d_given", (away,)),
        Relation.AT_LEAST,
        least,
        result=output("d", "distance", Unit.M),
        settle_by=f"Move it to {least.value + 0.005:.2f} m or more away.",
        about=one.name,
    )


def _downwind(scene: Scene, one: Nearby) -> Finding:
    needs = Needs()
    working = _off_wind(scene, needs, one.bearing, scene.key("nearby.bearing"))
    least = scene.defaults.of("downwind-angle")
    return _held(
        scene,
        UPWIND,
        needs,
        working,
        Relation.AT_LEAST,
        least,
        result=output("phi", "angle between exhaust and wind", Unit.RAD),
        settle_by="Move it to the side that the wind blows to, "
        f"{_between(scene, least.value, -least.value)}. {_TURNS}",
        about=one.name,
    )


def _between(scene: Scene, one_rad: float, other_rad: float) -> str:
    """The bearings between two angles from where the wind comes from, clockwise."""
    wind = scene.space.wind_from
    if wind is None:
        return "once it is known"
    first, last = (math.degrees(wind.value + one) % 360 for one in (one_rad, other_rad))
    return f"bearing {math.ceil(first - 1e-6)} to {math.floor(last + 1e-6)} deg"


def _off_wind(scene: Scene, needs: Needs, bearing: Amount | None, key: str) -> Working:
    """The angle at the opening between a thing and where the wind comes from."""
    wind = needs.take(
        "w", "wind comes from", scene.space.wind_from, Unit.RAD, scene.key("wind_from")
    )
    at = needs.take("beta", "bearing from the opening", bearing, Unit.RAD, key)
    value = angle_between_rad(bearing_rad=at.value, other_rad=wind.value)
    return Working(math.nan if needs.missing else value, _ANGLE, (at, wind))


def _held(  # noqa: PLR0913 - the parts of a comparison
    scene: Scene,
    rule: Rule,
    needs: Needs,
    working: Working,
    relation: Relation,
    limit: Quantity,
    *,
    result: Quantity,
    settle_by: str,
    about: str = "",
) -> Finding:
    outcome: Compared | Missing
    if needs.missing:
        outcome, settle_by = Missing(because=needs.because), MEASURE
    else:
        outcome = working.against(relation, limit, result=result)
    keys = tuple(needs.missing) or tuple(one.source.key for one in working.inputs)
    return finding(rule, outcome, settle_by=settle_by, keys=keys, space=scene.space, about=about)
