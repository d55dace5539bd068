"""Sets for everybody who goes in or stands by to, and crews that take turns."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.air.breathing import Mission, goers, mission, worn
from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, counted, derived, stated
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.response.air import crews_needed
from planbuilder.site.air import CylinderAir
from planbuilder.site.equipment import Equipment
from planbuilder.site.method import CrewRole

SETS = Rule(
    "response/too-few-sets",
    "A set for everybody who goes in or stands by to",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(g)(3)"),
)
CREWS = Rule(
    "response/one-cylinder-only",
    "Crews to keep the work inside going",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, note="work, then way and rest, in turn"),
)


def check_sets(scene: Scene) -> Iterator[Finding]:
    """There are as many sets as people who wear one."""
    for way, item in worn(scene):
        other = way.method.air.backup_set
        backups = len(way.crew(CrewRole.BACK_UP))
        if other is None or other == item.id:
            yield _enough(way, item, goers(way).value)
        else:
            yield _enough(way, item, goers(way).value - backups)
            yield _enough(way, scene.equipment(other), backups)


def _enough(way: Way, item: Equipment, people: float) -> Finding:
    key = f"equipment.{item.id}.quantity"
    wearers = counted("n_users", "rescuers in these sets", people, way.key("crew"))
    return compare(
        SETS,
        way,
        Needs(),
        lambda: Working(people, "n_users", (wearers,)),
        Relation.AT_MOST,
        counted("n_sets", f"sets: {item.name}", item.quantity, key),
        result=("n", "rescuers who wear one", Unit.COUNT),
        settle_by="Bring a set for each of them, and state the quantity.",
        keys=(key, way.key("crew")),
        about=item.name,
    )


def check_crews(scene: Scene) -> Iterator[Finding]:
    """Work that outlasts one go needs crews that take turns."""
    for way, item in worn(scene):
        if isinstance(item.air, CylinderAir):
            yield from _crews(way)


def _crews(way: Way) -> Iterator[Finding]:
    needs, air = Needs(), way.method.air
    planned, rest = mission(way, needs), way.scene.defaults.of("air-rest")
    if needs.missing:
        return  # whether the air lasts is unknown, and asks for it
    named = counted("n_pairs", "crews that go in", 1, way.key("crew"))
    if air.crew_pairs is not None:
        named = counted("n_pairs", "crews that go in", air.crew_pairs, way.key("air.crew_pairs"))
    whole = derived("t_all", "work in all", planned.time_work.value, Unit.S, "one go does it")
    if air.work_in_all is not None:
        key = way.key("air.work_in_all")
        whole = stated("t_all", "work in all", air.work_in_all, Unit.S, key)
    yield compare(
        CREWS,
        way,
        needs,
        lambda: _turns(planned, rest, whole),
        Relation.AT_MOST,
        named,
        result=("n", "crews needed", Unit.COUNT),
        settle_by="Name more crews in sets (crew_pairs), or shorten the work inside.",
        keys=(way.key("air.crew_pairs"), way.key("air.work_in_all")),
    )


def _turns(planned: Mission, rest: Quantity, whole: Quantity) -> Working:
    times = (planned.time_in, planned.time_work, planned.time_out)
    goes = math.ceil(whole.value / planned.time_work.value)
    away_s = planned.time_in.value + planned.time_out.value + rest.value
    crews = crews_needed(work_s=planned.time_work.value, away_s=away_s)
    formula = "min(ceil(t_all/t_work), ceil((t_work + t_in + t_out + t_rest)/t_work))"
    return Working(min(goes, crews), formula, (whole, *times, rest))
