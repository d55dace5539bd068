"""The chain from casualty to ground: what each part carries, what it holds, which is weakest."""

from __future__ import annotations

import math

from planbuilder.findings import Compared, Finding, Missing
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import Chain, ChainRow
from planbuilder.view.numbers import pair
from planbuilder.view.words import SHAPES

# From the casualty to the ground, in the order of the load's way.
CHAIN = (
    "haul/link-too-weak",
    "haul/line-too-weak",
    "haul/redirect-overloaded",
    "haul/pulley-overloaded",
    "haul/device-overloaded",
    "haul/backup-overloaded",
    "haul/support-overloaded",
    "haul/two-lines-on-one-head",
    "haul/head-cannot-arrest",
    "haul/tripod-leg-overloaded",
    "haul/tripod-leg-bows",
    "haul/tripod-chain-overloaded",
    "haul/socket-overloaded",
    "haul/mast-overstressed",
    "haul/base-tips",
    "haul/pad-pressure",
    "haul/clamp-overloaded",
    "haul/clamp-slips",
    "haul/wall-strip-tips",
    "haul/bolts-overused",
    "haul/collar-neck-overloaded",
    "haul/ledge-overloaded",
    "haul/hitch-overloaded",
    "haul/vehicle-tips",
    "haul/vehicle-pulled-away",
    "haul/vehicle-slides",
    "haul/post-too-high",
    "haul/lifeline-ends-overloaded",
    "haul/sling-leg-overloaded",
    "haul/sling-drop-too-hard",
)
ENDLESS = 1000.0  # a load line inside the base cannot tip it: no reserve to print


def chains(space: SpacePlan, system: UnitSystem) -> tuple[Chain, ...]:
    """One chain a method with a rig; parts that nobody measured stand in it as unknown."""
    ways = (way for way in space.scene.ways() if way.rig is not None)
    return tuple(_chain(space, way.name, system) for way in ways)


def weakest(space: SpacePlan, way_name: str) -> Finding | None:
    """The part of the chain with the least reserve, if every part is known."""
    parts = [one for one in parts_of(space, way_name) if isinstance(one.outcome, Compared)]
    return min(parts, key=_reserve, default=None)


def parts_of(space: SpacePlan, way_name: str) -> list[Finding]:
    """The findings on the parts of one way, from the casualty to the ground."""
    found = [one for one in space.findings if one.rule.id in CHAIN]
    mine = [one for one in found if one.about.partition(",")[0] == way_name]
    return sorted(mine, key=lambda one: CHAIN.index(one.rule.id))


def _reserve(one: Finding) -> float:
    return one.outcome.reserve if isinstance(one.outcome, Compared) else math.nan


def _chain(space: SpacePlan, way_name: str, system: UnitSystem) -> Chain:
    worst = weakest(space, way_name)
    rows = tuple(_row(one, system, weakest=one is worst) for one in parts_of(space, way_name))
    return Chain(f"From casualty to ground, {way_name} method", rows)


def _row(one: Finding, system: UnitSystem, *, weakest: bool) -> ChainRow:
    about = one.about.partition(", ")[2]
    part = one.rule.title + (f", {about}" if about else "")
    verdict = f"{SHAPES[one.verdict]} {one.verdict}"
    if not isinstance(one.outcome, Compared):
        unknown = isinstance(one.outcome, Missing)
        times = "unknown" if unknown else "-"
        return ChainRow(part, one.outcome.because, "-", times, verdict, "")
    figures, reserve = pair(one.outcome, system), _reserve(one)
    times = "no limit" if reserve >= ENDLESS else f"{math.floor(reserve * 100) / 100:.2f}"
    mark = "◀ weakest" if weakest else ""
    carries = f"{one.outcome.result.label}: {figures.result}"
    return ChainRow(part, carries, figures.limit, times, verdict, mark)
