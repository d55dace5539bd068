"""Breathing air of rescuers who go in: does it last, and what the usual sum would have said."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.air.air_store import Store, bank, cylinders, usable
from planbuilder.checks.air.breathing import NEED, goers, mission, or_steps, time_keys, worn
from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, counted, finding
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.gas import ideal_volume_m3
from planbuilder.site.air import CylinderAir, LineAir
from planbuilder.site.equipment import Equipment

RUNS_OUT = Rule(
    "response/air-runs-out",
    "Air for the way in, the work and the way out",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="at the breathing of one rescuer in ten, real gas"),
)
BACKUP = Rule(
    "response/backup-air-shorter",
    "Air of the back-up for the same mission",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="whoever stands by must be able to do it all"),
)
IDEAL = Rule(
    "response/ideal-gas-overstates",
    "What litres times bar would have said",
    Weight.NOTES,
    Source(mark=Mark.DERIVED, document="Lemmon 2000", note="air is no ideal gas above 200 bar"),
)
STATE_AIR = (
    'State the table air of this equipment: kind ("cylinder", "line"), water_volume, '
    "fill_pressure, filled_at, coldest, and alarm_pressure of a set, or least_pressure, flow and "
    "hose_length of a line."
)


def check_air_lasts(scene: Scene) -> Iterator[Finding]:
    """The air needed by the one-in-ten breather lies within what the supply gives."""
    for way, item in worn(scene):
        yield _lasts(RUNS_OUT, way, item)


def check_backup_air(scene: Scene) -> Iterator[Finding]:
    """A back-up with other sets could do the whole mission as well."""
    for way, _ in worn(scene):
        other = way.method.air.backup_set
        if other is not None:
            yield _lasts(BACKUP, way, scene.equipment(other))


def _lasts(rule: Rule, way: Way, item: Equipment) -> Finding:
    match item.air:
        case CylinderAir() as air:
            return or_steps(_set_lasts(rule, way, item, air))
        case LineAir() as air:
            return or_steps(_line_lasts(rule, way, item, air))
        case None:
            said: Missing | Stated = Missing(because=f"{item.name}: its air is not stated")
        case _:
            said = Stated(holds=False, because=f"{item.name}: only for getting out")
    return finding(
        rule,
        said,
        settle_by=STATE_AIR,
        keys=(f"equipment.{item.id}.air",),
        space=way.scene.space,
        about=way.name,
    )


def _set_lasts(rule: Rule, way: Way, item: Equipment, air: CylinderAir) -> Finding:
    needs = Needs()
    planned, store = mission(way, needs), cylinders(way.scene, item, air, needs)
    limit = usable(store, needs)
    return compare(
        rule,
        way,
        needs,
        lambda: Working(planned.need_m3, NEED, planned.inputs),
        Relation.AT_MOST,
        limit,
        result=("V_need", "air needed by one wearer, one-in-ten breather", Unit.M3),
        settle_by=_larger(store, planned.need_m3, limit.value)
        + "a shorter way, an air line, crews that take turns, or retrieval from outside.",
        keys=(f"equipment.{item.id}.air.water_volume", *_times(way)),
    )


def _line_lasts(rule: Rule, way: Way, item: Equipment, air: LineAir) -> Finding:
    needs, key = Needs(), f"equipment.{item.id}.air"
    planned, store = mission(way, needs), bank(item, air, needs)
    flow = needs.take("q_line", "flow to one user", air.flow, Unit.M3_PER_S, f"{key}.flow")
    users = _users(way, air, key)
    times = (planned.time_in, planned.time_work, planned.time_out)
    need_m3 = users.value * flow.value * planned.time_s
    limit = usable(store, needs)
    return compare(
        rule,
        way,
        needs,
        lambda: Working(need_m3, "n_users*q_line*(t_in + t_work + t_out)", (users, flow, *times)),
        Relation.AT_MOST,
        limit,
        result=("V_need", "air needed from the bank", Unit.M3),
        settle_by=_larger(store, need_m3, limit.value) + "a second bank, or a shorter way.",
        keys=(f"{key}.water_volume", *_times(way)),
    )


def _times(way: Way) -> tuple[str, ...]:
    return tuple(key for phase in ("in", "work", "out") for key in time_keys(way, phase))


def _users(way: Way, air: LineAir, key: str) -> Quantity:
    """How many breathe from the bank: everybody in sets, or more if more are stated."""
    crew = goers(way)
    if air.users is None or air.users < crew.value:
        return crew
    return counted("n_users", "users of the bank", air.users, f"{key}.users")


def _larger(store: Store, need_m3: float, usable_m3: float) -> str:
    """How much water volume would do at these pressures, as the beginning of the advice."""
    if not (math.isfinite(need_m3) and usable_m3 > 0):
        return "Plan more air: "
    litres = math.ceil(store.water_m3 * need_m3 / usable_m3 * 1e4 - 1e-9) / 10
    return f"Cylinders of {litres:.1f} L water volume in all, filled as these; "


def check_ideal_gas(scene: Scene) -> Iterator[Finding]:
    """Says what the usual sum promises, where it says that the air is enough."""
    for way, item in worn(scene):
        if not isinstance(item.air, CylinderAir):
            continue
        needs = Needs()
        planned, store = mission(way, needs), cylinders(scene, item, item.air, needs)
        real_m3 = usable(store, needs).value
        if needs.missing or needs.refused:
            continue  # the first rule says what is missing
        ideal_m3 = _ideal_m3(store)
        if planned.need_m3 > ideal_m3:
            continue  # short by either sum
        yield _ideal(way, item, planned.need_m3, real_m3, ideal_m3)


def _ideal_m3(store: Store) -> float:
    written = next(one.value for one in store.of if one.symbol == "P_fill")
    return ideal_volume_m3(water_m3=store.water_m3, gauge_pa=written - store.low.value)


def _ideal(way: Way, item: Equipment, need_m3: float, real_m3: float, ideal_m3: float) -> Finding:
    words = (
        f"litres of water times bar say {ideal_m3 * 1e3:.0f} L of usable air, and that it is "
        f"enough; real and cooled it is {math.floor(real_m3 * 1e3)} L, needed are "
        f"{math.ceil(need_m3 * 1e3)} L"
    )
    return finding(
        IDEAL,
        Stated(holds=need_m3 <= real_m3, because=words),
        settle_by="Plan with the real figure; top cylinders up once they are cold.",
        keys=(f"equipment.{item.id}.air.fill_pressure",),
        space=way.scene.space,
        about=way.name,
    )
