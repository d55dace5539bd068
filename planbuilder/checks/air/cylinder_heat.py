"""Cylinders warmer in use than when they were filled: the gauge rises, the air does not."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.air_store import COOLED, compressibility, outside, reading_at
from planbuilder.checks.air.breathing import worn
from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, derived, stated
from planbuilder.findings import Finding, Mark, Relation, Rule, Source, Unit, Weight
from planbuilder.site.air import EscapeAir
from planbuilder.site.equipment import Equipment

WARMER = Rule(
    "response/cylinder-warmer-than-filled",
    "Cylinders no warmer in use than when filled",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, note="no more air is counted for a gauge that rises by warmth"),
)


def check_warmth(scene: Scene) -> Iterator[Finding]:
    """The coldest in use is no warmer than the filling, or somebody has looked at why."""
    for way, item in worn(scene):
        other = way.method.air.backup_set
        yield from _warmer(way, item)
        if other is not None and other != item.id:
            yield from _warmer(way, scene.equipment(other))


def _warmer(way: Way, item: Equipment) -> Iterator[Finding]:
    air, key = item.air, f"equipment.{item.id}.air"
    if air is None or isinstance(air, EscapeAir):
        return
    if air.fill_pressure is None or air.filled_at is None or air.coldest is None:
        return  # whether the air lasts is unknown, and asks for it
    needs = Needs()
    pressure_key = f"{key}.fill_pressure"
    filled = stated("P_fill", "fill pressure", air.fill_pressure, Unit.PA_GAUGE, pressure_key)
    at = stated("T_fill", "temperature at filling", air.filled_at, Unit.K, f"{key}.filled_at")
    used = stated("T_use", "coldest in use", air.coldest, Unit.K, f"{key}.coldest")
    shown_pa = reading_at(filled, at, used, needs)
    shown = derived("P_use", "gauge in use", shown_pa, Unit.PA_GAUGE, COOLED)
    factors = (
        compressibility("fill", filled, at, needs),
        compressibility("use", shown, used, needs),
    )
    inputs = (filled, at, used, outside(), *factors)
    yield compare(
        WARMER,
        way,
        needs,
        lambda: Working(shown_pa, COOLED, inputs),
        Relation.AT_MOST,
        filled,
        result=("P_use", "full cylinders at the coldest in use", Unit.PA_GAUGE),
        settle_by="See that filled_at and coldest are not exchanged. If they are right, keep the "
        "cylinders below their rated pressure as they warm: no more air is counted for it.",
        keys=(f"{key}.coldest", f"{key}.filled_at"),
        about=item.name,
    )
