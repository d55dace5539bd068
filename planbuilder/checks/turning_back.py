"""Readings to act on: when to turn back, when to start out, and what the low-air alarm is worth."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.breathing import Mission, Store, cylinders, mission, worn
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
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


def check_readings(scene: Scene) -> Iterator[Finding]:
    """What the gauge must still show on reaching the casualty and on starting out."""
    for way, item in worn(scene):
        if isinstance(item.air, CylinderAir):
            yield from _readings(way, item, item.air)


def _readings(way: Way, item: Equipment, air: CylinderAir) -> Iterator[Finding]:
    needs = Needs()
    planned, store = mission(way, needs), cylinders(way.scene, item, air, needs)
    turn = _reading(
        needs,
        store,
        ("P_turn", "turn back, casualty not reached", "work and way out, or r/(1 + r) of it all"),
        lambda: _turn_m3(planned, store),
    )
    start = _reading(
        needs,
        store,
        ("P_start", "start the way out", "V(P) = V(P_res) + k_b*q_out*t_out"),
        lambda: store.low_m3 + planned.out_m3,
    )
    there = _reading(
        needs,
        store,
        ("P_there", "gauge on reaching the casualty", "V(P) = V(P_full) - k_b*q_in*t_in"),
        lambda: store.full_m3 - planned.in_m3,
    )
    done = _reading(
        needs,
        store,
        ("P_done", "gauge when the work is done", "as on arrival, less k_b*q_work*t_work"),
        lambda: store.full_m3 - planned.need_m3 + planned.out_m3,
    )
    yield _shown(way, needs, there, turn, item)
    yield _shown(way, needs, done, start, item)


def _turn_m3(planned: Mission, store: Store) -> float:
    """Free air to turn back with: for work and way out, or the share for a way of any length."""
    share = turn_back_share(in_m3=planned.in_m3, out_m3=planned.out_m3)
    return store.low_m3 + max(planned.stay_m3, share * store.usable_m3)


def _reading(
    needs: Needs, store: Store, said: tuple[str, str, str], free_m3: Callable[[], float]
) -> Quantity:
    """The gauge reading that goes with a volume of free air, named, labelled and explained."""
    symbol, label, note = said
    value = needs.work(lambda: store.reading_pa(free_m3()))
    return derived(symbol, label, value, Unit.PA_GAUGE, note, store.of)


def _shown(way: Way, needs: Needs, planned: Quantity, least: Quantity, item: Equipment) -> Finding:
    return compare(
        TURN_BACK,
        way,
        needs,
        lambda: Working(planned.value, planned.symbol, (planned,)),
        Relation.AT_LEAST,
        least,
        result=("P", f"{planned.label}, as planned", Unit.PA_GAUGE),
        settle_by="Larger cylinders, a shorter way, or less work at the casualty: as planned, the "
        "team has to turn round before it is done.",
        keys=(f"equipment.{item.id}.air.water_volume", way.key("air.time_work")),
        about=least.label,
    )


def check_alarm(scene: Scene) -> Iterator[Finding]:
    """The air that is left when the alarm sounds, down to an empty cylinder, is one way out."""
    for way, item in worn(scene):
        if isinstance(item.air, CylinderAir):
            yield _alarm(way, item, item.air)


def _alarm(way: Way, item: Equipment, air: CylinderAir) -> Finding:
    needs, key = Needs(), f"equipment.{item.id}.air.alarm_pressure"
    planned, store = mission(way, needs), cylinders(way.scene, item, air, needs)
    alarm = needs.take("P_alarm", "low-air alarm", air.alarm_pressure, Unit.PA_GAUGE, key)
    left_m3 = needs.work(lambda: store.free_m3(alarm.value) - store.free_m3(0.0))
    left = derived(
        "V_alarm", "air from alarm to empty", left_m3, Unit.M3, "real gas", (alarm, *store.of)
    )
    breathed = planned.factor.value * planned.rate_out.value
    return compare(
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
        keys=(key, way.key("air.time_out")),
    )
