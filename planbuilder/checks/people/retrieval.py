"""Is the way out that the plan assumes open: line worn, way clear, no entry that is too late."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import MethodKind

AVAILABLE = Rule(
    "response/retrieval-not-available",
    "Line worn and way clear for a retrieval from outside",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(3)"),
)
NO_ENTRY = Rule(
    "response/entry-after-engulfment",
    "No entry rescue counted on against engulfment",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="Grain engulfment reports"),
)


def check_retrieval_available(scene: Scene) -> Iterator[Finding]:
    """Retrieval from outside needs a line on the entrant and nothing for it to catch on."""
    if not scene.space.is_confined:
        return  # at height the line is brought to the casualty
    for way in scene.ways():
        if way.method.method is not MethodKind.NON_ENTRY or way.rig is None:
            continue  # without a rig another rule blocks
        yield finding(
            AVAILABLE,
            _available(way),
            settle_by="Have each entrant wear harness and line from rim to rim, take away or pad "
            "what the line can catch on, and state line_worn and way_clear; or plan another way.",
            keys=(way.key("rig.line_worn"), way.key("rig.way_clear")),
            space=scene.space,
            about=way.name,
        )


def _available(way: Way) -> Stated | Missing:
    rig = way.rig
    worn, clear = (rig.line_worn, rig.way_clear) if rig else (None, None)
    wrong = [
        words
        for words, value in (("no line is worn", worn), ("something is in the way", clear))
        if value is False
    ]
    if wrong:
        return Stated(holds=False, because="; ".join(wrong))
    if worn is None or clear is None:
        return Missing(because="not stated: line worn throughout, way clear of obstructions")
    return Stated(holds=True, because="the line is worn throughout, the way is clear")


def check_engulfment_entry(scene: Scene) -> Iterator[Finding]:
    """Flowing material covers in seconds: nobody can go in after the casualty in time."""
    if all(one.kind is not HazardKind.ENGULFMENT for one in scene.space.hazard):
        return
    way = next(scene.ways())
    yield finding(
        NO_ENTRY,
        Stated(
            holds=way.method.method is not MethodKind.ENTRY,
            because=f"primary rescue is {way.method.method.replace('-', ' ')}",
        ),
        settle_by="Lock out what feeds and empties, keep the entrant on a line that cannot let "
        "them sink, and plan retrieval from outside.",
        keys=(way.key("method"),),
        space=scene.space,
    )
