"""Clearance: the class of access that a bore of pipe has in print, for comparison only."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from planbuilder.checks.room.crawlways import crawled
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Rule, Source, Stated, Weight
from planbuilder.tables import table
from planbuilder.units import Length

ACCESS = Rule(
    "clearance/bore-below-access-class",
    "Class of access by the bore of a pipe, as for drains and sewers",
    Weight.NOTES,
    Source(mark=Mark.RECALLED, document="EN 476", clause="5.3.4"),
)


def access_class(bore_m: float) -> dict[str, Any]:
    """The row of the published classes that a clear bore of *bore_m* falls into."""
    rows: list[dict[str, Any]] = table("least_openings")["bore"]
    return next(one for one in rows if bore_m >= one["from"])


def check_access_class(scene: Scene) -> Iterator[Finding]:
    """Crawled pipes, as far as they are measured."""
    if not scene.space.is_confined:
        return
    for name, bore, key in _bores(scene):
        row = access_class(bore.m)
        because = f"{bore.written}: {row['what']} ({row['document']}, {row['mark']})"
        yield finding(
            ACCESS,
            Stated(holds=row["holds"], because=because),
            settle_by="Nothing here decides; from a bore of 0.8 m on the class is access now and "
            "then, from 1.0 m on routine access.",
            keys=(key,),
            space=scene.space,
            about=name,
        )


def _bores(scene: Scene) -> Iterator[tuple[str, Length, str]]:
    for one in crawled(scene):
        if one.clear.diameter is not None:
            yield one.what, one.clear.diameter, f"{one.key}.diameter"
