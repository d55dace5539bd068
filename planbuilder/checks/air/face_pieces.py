"""Which way a face piece leaks: outward, by positive pressure, wherever the air can hurt."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.breathing import has_bad_air, worn
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.air import EscapeAir

POSITIVE = Rule(
    "response/set-not-positive-pressure",
    "Sets with positive pressure in bad air",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(g)(3)(vi)(A)"),
)


def check_positive_pressure(scene: Scene) -> Iterator[Finding]:
    """In bad air nobody breathes through a face piece that draws air in where it leaks."""
    if not has_bad_air(scene):
        return
    for way, item in worn(scene):
        if item.air is None:
            continue  # whether its air lasts is unknown, and asks for it
        outcome: Stated | Missing = Missing(because=f"{item.name}: pressure demand or not")
        if isinstance(item.air, EscapeAir):
            outcome = Stated(holds=False, because=f"{item.name}: for getting out only")
        elif item.air.positive_pressure is not None:
            word = "positive pressure" if item.air.positive_pressure else "demand only"
            outcome = Stated(
                holds=item.air.positive_pressure, because=f"{item.name}: {word}, as marked"
            )
        yield finding(
            POSITIVE,
            outcome,
            settle_by="Read the marking of the set, and state positive_pressure; use sets with "
            "positive pressure only.",
            keys=(f"equipment.{item.id}.air.positive_pressure",),
            space=scene.space,
            about=way.name,
        )
