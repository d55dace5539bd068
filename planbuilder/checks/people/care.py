"""Care on the spot until the ambulance crew takes over: what has to lie ready, and where."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.checks.timing.hazards import LETTERS, fastest, scene_limit
from planbuilder.checks.timing.moments import slow
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
from planbuilder.profiles.statements import Duty
from planbuilder.response.classes import PlanningClass, air_limit_s
from planbuilder.site.equipment import Care, Equipment
from planbuilder.site.hazard import HazardKind

REVIVE = Rule(
    "response/no-resuscitation-gear",
    "Resuscitation gear and defibrillator before the ambulance",
    Weight.BLOCKS,
    LETTERS,
)
AT_HAND = Rule(
    "response/no-treatment-at-hand",
    "Gear for what is treated on the spot",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="bleeding is stopped inside; heat illness is cooled first"),
)
_STOPS_BREATH = (
    HazardKind.OXYGEN,
    HazardKind.INERT_GAS,
    HazardKind.HYDROGEN_SULFIDE,
    HazardKind.CARBON_MONOXIDE,
    HazardKind.DROWNING,
    HazardKind.ENGULFMENT,
)
_TREATED_BY = {HazardKind.BLEEDING: Care.BLEEDING, HazardKind.HEAT: Care.COOLING}


def equipment_for(scene: Scene, care: Care) -> list[Equipment]:
    """The equipment that serves for *care*."""
    return [one for one in scene.site.equipment if care in one.care]


def check_resuscitation(scene: Scene) -> Iterator[Finding]:
    """Where harm takes minutes and the ambulance is later than that, the gear is here.

    Where a rule set asks for it and breath can stop, no ambulance makes up for it.
    """
    duty = _asphyxia_duty(scene)
    if fastest(scene).planning_class > PlanningClass.MINUTES and duty is None:
        return
    wanted = (Care.RESUSCITATION, Care.DEFIBRILLATOR)
    lacking = [one for one in wanted if not equipment_for(scene, one)]
    outcome: Compared | Stated | Missing
    if lacking:
        by_law = duty is not None and Care.RESUSCITATION in lacking
        missing = Missing(because=f"no equipment is named for: {', '.join(lacking)}")
        outcome = missing if by_law else _ambulance(scene) or missing
    else:
        items = dict.fromkeys(one.name for care in wanted for one in equipment_for(scene, care))
        outcome = Stated(holds=True, because=f"at hand: {', '.join(items)}")
    yield finding(
        REVIVE,
        outcome,
        settle_by="Have a resuscitation mask or bag and a defibrillator at the opening, and state "
        'care = ["resuscitation", "defibrillator"] at the equipment.',
        keys=("equipment",),
        space=scene.space,
        duty=duty,
    )


def _asphyxia_duty(scene: Scene) -> Duty | None:
    """What a rule set says of resuscitation gear, where a hazard here can stop the breath."""
    if not any(one.kind in _STOPS_BREATH for one in scene.space.hazard):
        return None
    return scene.limits.duty("rescue.resuscitation_kit")


def _ambulance(scene: Scene) -> Compared | None:
    """The hand-over against four minutes; None where the timeline does not tell."""
    arrival = slow(next(scene.ways()), "handed-over")
    if arrival is None:
        return None
    limit = scene_limit(air_limit_s(PlanningClass.MINUTES), LETTERS, "without gear of your own")
    return Working(arrival.value, arrival.symbol, (arrival,)).against(
        Relation.AT_MOST, limit, result=output("T_ems", arrival.label, Unit.S)
    )


def check_treatment(scene: Scene) -> Iterator[Finding]:
    """What stops bleeding goes in with the entrants; what cools lies at the opening."""
    for kind in dict.fromkeys(one.kind for one in scene.space.hazard):
        care = _TREATED_BY.get(kind)
        if care is None:
            continue
        inside = care is Care.BLEEDING
        items = [one for one in equipment_for(scene, care) if one.goes_inside or not inside]
        where = "that goes inside" if inside else "here"
        outcome: Stated | Missing = Missing(
            because=f"no equipment {where} is named for: {care.replace('-', ' ')}"
        )
        if items:
            said = ", ".join(f"{one.name}, {one.kept_at or 'place not stated'}" for one in items)
            outcome = Stated(holds=True, because=said)
        yield finding(
            AT_HAND,
            outcome,
            settle_by=f'Provide it, train with it, and state care = ["{care}"]'
            + (" and goes_inside = true." if inside else "."),
            keys=("equipment",),
            space=scene.space,
            about=kind.replace("-", " "),
        )
