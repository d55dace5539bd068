"""First aid: a kit that lies somewhere, and somebody who is with the casualty in time."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.days import day_text
from planbuilder.checks.people.care import equipment_for
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.checks.timing.clocks import gives_first_aid
from planbuilder.checks.timing.hazards import LETTERS, scene_limit
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
from planbuilder.response.classes import PlanningClass, air_limit_s
from planbuilder.response.shock import can_shock
from planbuilder.site.equipment import Care
from planbuilder.site.method import Posture

KIT = Rule(
    "plan/no-first-aid-kit",
    "First-aid kit, and where it lies",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="nobody is treated with what lies elsewhere"),
)
REACH = Rule(
    "response/aid-too-late",
    "Trained first aid reaches the casualty",
    Weight.WARNS,
    LETTERS,
)


def check_kit(scene: Scene) -> Iterator[Finding]:
    """A first-aid kit is named with its place."""
    kits = equipment_for(scene, Care.FIRST_AID)
    placed = [f"{one.name}, {one.kept_at}" for one in kits if one.kept_at]
    outcome: Stated | Missing = Missing(because="no equipment is named for: first aid")
    if placed:
        outcome = Stated(holds=True, because="; ".join(placed))
    elif kits:
        names = ", ".join(one.name for one in kits)
        outcome = Missing(because=f"where it lies is not stated: {names}")
    yield finding(
        KIT,
        outcome,
        settle_by='Have a first-aid kit at the opening, and state it with care = ["first-aid"] '
        "and kept_at.",
        keys=tuple(f"equipment.{one.id}.kept_at" for one in kits) or ("equipment",),
        space=scene.space,
    )


def check_reach(scene: Scene) -> Iterator[Finding]:
    """A first-aider who does not stand by at the opening is with the casualty in time."""
    live = scene.space.task.live_voltage
    shock = scene.limits.limit("people.aid_reach_min") if live and can_shock(live.v) else None
    reach = scene.space.aid_reach
    if reach is None and shock is None and _stands_by(scene):
        return
    needs, key = Needs(), scene.key("aid_reach")
    given = needs.take("t_aid", "first-aider with kit to the casualty", reach, Unit.S, key)
    limit = (
        shock.quantity
        if shock
        else scene_limit(air_limit_s(PlanningClass.MINUTES), LETTERS, "first aid")
    )
    outcome: Compared | Missing = Missing(because=f"{needs.because}: {_who(scene)}")
    if not needs.missing:
        outcome = Working(given.value, "t_aid", (given,)).against(
            shock.relation if shock else Relation.AT_MOST,
            limit,
            result=output("t", "first aid reaches the casualty", Unit.S),
        )
    yield finding(
        REACH,
        outcome,
        settle_by=f"Walk it with the kit and state aid_reach; or have somebody with current first "
        f"aid and CPR, to {day_text(scene.last_day)}, stand by within {limit.written}.",
        keys=(key, scene.key("rescue.primary.crew")),
        space=scene.space,
        duty=shock,
    )


def _first_aiders(scene: Scene) -> list[str]:
    way = next(scene.ways())
    people = [scene.person(one.person) for one in way.method.crew]
    return list(dict.fromkeys(one.name for one in people if gives_first_aid(scene, one)))


def _stands_by(scene: Scene) -> bool:
    """Whether somebody who gives first aid waits at the opening all the time."""
    ready = next(scene.ways()).method.posture is Posture.STANDBY
    return ready and bool(_first_aiders(scene))


def _who(scene: Scene) -> str:
    return f"first-aiders in the crew: {', '.join(_first_aiders(scene)) or 'none'}"
