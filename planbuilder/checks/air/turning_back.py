"""Readings to act on: when to turn back, when to start out, and what the low-air alarm is worth."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks.air.air_store import Store, cylinders
from planbuilder.checks.air.breathing import Mission, mission, time_keys, worn
from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, derived, finding
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.air import lasts_s, turn_back_share
from planbuilder.site.air import CylinderAir
from planbuilder.site.equipment import Equipment

TURN_BACK = Rule(
    "response/turn-back-pressure",
    "Readings to turn back and to start out at",
    Weight.NOTES,
    Source(mark=Mark.DERIVED, note="real gas; the lowest gauge of the team decides"),
)
ALARM = Rule(
    "response/low-air-alarm-too-late",
    "Way out on the air that the alarm leaves",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, note="an alarm that sounds inside is no signal to start"),
)

SETTLE = (
    "Larger cylinders, a shorter way, or less work at the casualty: as planned, the team has to "
    "turn round before it is done."
)
Reading = Callable[[str, str, str, Callable[[], float]], Quantity]


def check_readings(scene: Scene) -> Iterator[Finding]:
    """What the gauge must show on reaching the casualty and starting out, and how far it drops."""
    for way, item in worn(scene):
        if isinstance(item.air, CylinderAir):
            yield from _readings(way, item, item.air)


def _readings(way: Way, item: Equipment, air: CylinderAir) -> Iterator[Finding]:
    needs = Needs()
    planned, store = mission(way, needs), cylinders(way.scene, item, air, needs)
    left_m3 = needs.work(lambda: store.usable_m3 - planned.need_m3)
    if needs.missing or needs.refused:
        return  # whether the air lasts is unknown, and asks for it
    if left_m3 < 0:
        yield _none(way, item)
        return

    def reading(symbol: str, label: str, note: str, value: Callable[[], float]) -> Quantity:
        return derived(symbol, label, needs.work(value), Unit.PA_GAUGE, note, store.of)

    pairs = (
        (*_arriving(reading, planned, store), Relation.AT_LEAST),
        (*_dropping(reading, planned, store), Relation.AT_MOST),
        (*_leaving(reading, planned, store), Relation.AT_LEAST),
    )
    for one, limit, relation in pairs:
        yield _shown(way, needs, one, relation, limit, item)


def _arriving(reading: Reading, planned: Mission, store: Store) -> tuple[Quantity, Quantity]:
    return reading(
        "P_there",
        "gauge on reaching the casualty",
        "V(P) = V(P_full) - k_b*q_in*t_in",
        lambda: _after_pa(store, planned.in_m3),
    ), reading(
        "P_turn",
        "turn back where the casualty is not reached by",
        "V(P) = V(P_res) + k_b*(q_work*t_work + q_out*t_out)",
        lambda: max(_left_pa(one, planned.stay_m3) for one in _warm_and_cold(store)),
    )


def _dropping(reading: Reading, planned: Mission, store: Store) -> tuple[Quantity, Quantity]:
    return reading(
        "P_drop",
        "drop of the gauge on the way in",
        "P_full less the gauge on reaching the casualty",
        lambda: max(_drop_pa(one, planned.in_m3) for one in _warm_and_cold(store)),
    ), reading(
        "P_most",
        "turn back after a drop of",
        "1/(1 + r) of the usable air, r = q_out*t_out/(q_in*t_in)",
        lambda: min(_drop_pa(one, _share_m3(one, planned)) for one in _warm_and_cold(store)),
    )


def _leaving(reading: Reading, planned: Mission, store: Store) -> tuple[Quantity, Quantity]:
    return reading(
        "P_done",
        "gauge when the work is done",
        "V(P) = V(P_full) - k_b*(q_in*t_in + q_work*t_work)",
        lambda: _after_pa(store, planned.need_m3 - planned.out_m3),
    ), reading(
        "P_start",
        "start the way out at",
        "V(P) = V(P_res) + k_b*q_out*t_out",
        lambda: max(_left_pa(one, planned.out_m3) for one in _warm_and_cold(store)),
    )


def _warm_and_cold(store: Store) -> tuple[Store, Store]:
    """The cylinders at their coldest and at their warmest: warm, a reading means less free air."""
    return store, store.warm or store


def _after_pa(store: Store, used_m3: float) -> float:
    """The gauge reading after *used_m3* were breathed from full cylinders."""
    return store.reading_pa(store.full_m3 - used_m3)


def _left_pa(store: Store, wanted_m3: float) -> float:
    """The gauge reading that leaves *wanted_m3* above what is kept back."""
    return store.reading_pa(store.low_m3 + wanted_m3)


def _drop_pa(store: Store, used_m3: float) -> float:
    """How far the gauge of full cylinders falls while *used_m3* are breathed."""
    return store.filled.value - store.reading_pa(store.full_m3 - used_m3)


def _share_m3(store: Store, planned: Mission) -> float:
    """Air that may be used on a way in of any length, so that the same way out remains."""
    return store.usable_m3 * (1 - turn_back_share(in_m3=planned.in_m3, out_m3=planned.out_m3))


def _none(way: Way, item: Equipment) -> Finding:
    """The answer where the air does not last: no reading would leave enough."""
    return finding(
        TURN_BACK,
        Stated(holds=False, because="the air does not last: no reading leaves enough"),
        settle_by=SETTLE,
        keys=_keys(way, item),
        space=way.scene.space,
        about=way.name,
    )


def _keys(way: Way, item: Equipment) -> tuple[str, ...]:
    return (f"equipment.{item.id}.air.water_volume", *time_keys(way, "work"))


def _shown(
    way: Way,
    needs: Needs,
    planned: Quantity,
    relation: Relation,
    limit: Quantity,
    item: Equipment,
) -> Finding:
    return compare(
        TURN_BACK,
        way,
        needs,
        lambda: Working(planned.value, planned.symbol, (planned,)),
        relation,
        limit,
        result=("P", f"{planned.label}, as planned", Unit.PA_GAUGE),
        settle_by=SETTLE,
        keys=_keys(way, item),
        about=limit.label,
    )


def check_alarm(scene: Scene) -> Iterator[Finding]:
    """The air that is left when the alarm sounds, down to an empty cylinder, is one way out."""
    for way, item in worn(scene):
        if isinstance(item.air, CylinderAir):
            yield from _alarm(way, item, item.air)


def _alarm(way: Way, item: Equipment, air: CylinderAir) -> Iterator[Finding]:
    needs, key = Needs(), f"equipment.{item.id}.air.alarm_pressure"
    planned, store = mission(way, needs), cylinders(way.scene, item, air, needs)
    alarm = needs.take("P_alarm", "low-air alarm", air.alarm_pressure, Unit.PA_GAUGE, key)
    left_m3 = needs.work(lambda: store.free_m3(alarm.value) - store.free_m3(0.0))
    left = derived(
        "V_alarm", "air from alarm to empty", left_m3, Unit.M3, "real gas", (alarm, *store.of)
    )
    if needs.missing or needs.refused:
        return  # whether the air lasts is unknown, and asks for it
    breathed = planned.factor.value * planned.rate_out.value
    yield compare(
        ALARM,
        way,
        needs,
        lambda: Working(
            lasts_s(volume_m3=left.value, rate_m3_per_s=breathed),
            "V_alarm/(k_b*q_out)",
            (left, planned.factor, planned.rate_out),
        ),
        Relation.AT_LEAST,
        planned.time_out,
        result=("t_alarm", "air left at the alarm", Unit.S),
        settle_by="Start out by the gauge, at the reading on the leader's card, never at the "
        "alarm; or shorten the way out.",
        keys=(key, *time_keys(way, "out")),
    )
