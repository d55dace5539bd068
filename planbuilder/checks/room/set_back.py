"""Clearance: a base off the edge of an excavation, off what lies there, and on firm ground."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.drawn import OnFeet, corners, on_feet
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.clearance.ground_plan import (
    Outline,
    base_apart_m,
    least_inside_m,
    nearest_outside_m,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site import layout
from planbuilder.site.supports import VehicleReceiver

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
EDGE = Rule(
    "haul/foot-near-edge",
    "Feet away from an excavation edge",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="29 CFR 1926.651", clause="(j)(2)"),
)
OBSTACLE = Rule(
    "clearance/base-on-obstacle", "Base beside what lies there", Weight.BLOCKS, GEOMETRY
)
FIRM = Rule("clearance/base-off-firm-ground", "Feet on firm ground", Weight.BLOCKS, GEOMETRY)
CORNERS = "Give the corners of each outline in turn."


def check_edge(scene: Scene) -> Iterator[Finding]:
    """Feet, or the wheels of a vehicle, stand off the edge of an excavation, as measured."""
    for one in on_feet(scene):
        if one.rig.stand.edge_distance is not None:
            yield _measured(one.way, one.half_pad())
    for way in scene.ways():
        if way.rig and isinstance(scene.support(way.rig.support), VehicleReceiver):
            wheels = derived("b_p", "wheel", 0.0, Unit.M, "measured from the nearest wheel")
            if way.rig.stand.edge_distance is not None or scene.space.layout.drop:
                yield _measured(way, wheels)


def _measured(way: Way, half: Quantity) -> Finding:
    """*edge_distance* runs from the middle of the nearest foot."""
    needs, key = Needs(), way.key("rig.stand.edge_distance")
    edge_distance = way.rig.stand.edge_distance if way.rig else None
    away = needs.take("c", "foot to excavation edge", edge_distance, Unit.M, key)
    least = way.scene.defaults.of("pad-edge-distance")
    gap_m = away.value - half.value
    return compare(
        EDGE,
        way,
        needs,
        lambda: Working(gap_m, "c - b_p", (away, half)),
        Relation.AT_LEAST,
        least,
        result=("g_edge", "foot with its pad to the edge", Unit.M),
        settle_by=_AWAY.format(max(0.0, least.value - gap_m) + 0.01),
        keys=(key,),
    )


_AWAY = "Move the base {:.2f} m farther from the edge, or have the edge judged by an engineer."
Measure = Callable[[Outline, Outline], float]


class _Drawn:
    """A base against an outline of the layout, less half a pad and the hook off its centre."""

    def __init__(self, one: OnFeet, measure: Measure, outline: layout.Outline) -> None:
        self.one, self.needs = one, Needs()
        self.half, self.off = one.half_pad(), one.off_centre()
        feet = one.feet(self.needs)
        drawn_m = self.needs.work(lambda: measure(feet(), corners(outline)))
        self.apart = derived("d_plan", "as drawn", drawn_m, Unit.M, "off the layout")

    def held(
        self, rule: Rule, least: Quantity, result: str, *, settle_by: str, tail: str, about: str
    ) -> Finding:
        """The gap against the *least* one; *settle_by* has a place for what is lacking, in m."""
        way = self.one.way
        gap_m = self.apart.value - self.half.value - self.off.value
        lacking_m = max(0.0, least.value - gap_m) + 0.01
        return compare(
            rule,
            way,
            self.needs,
            lambda: Working(gap_m, "d_plan - b_p - e", (self.apart, self.half, self.off)),
            Relation.AT_LEAST,
            least,
            result=("g_base", result, Unit.M),
            settle_by=CORNERS if self.needs.refused else settle_by.format(lacking_m),
            keys=(way.scene.key(tail), way.key("rig.stands_towards")),
            about=about,
        )


def check_drops(scene: Scene) -> Iterator[Finding]:
    """Every foot, as drawn, stands off the edge of every excavation or other drop."""
    for one in on_feet(scene):
        for drop in scene.space.layout.drop:
            yield _Drawn(one, nearest_outside_m, drop.outline).held(
                EDGE,
                scene.defaults.of("pad-edge-distance"),
                "foot with its pad to the edge",
                settle_by=_AWAY,
                tail="layout.drop",
                about=drop.name,
            )


def check_base_clear(scene: Scene) -> Iterator[Finding]:
    """The base, from foot to foot, lies on nothing that is drawn."""
    for one in on_feet(scene):
        for thing in scene.space.layout.obstacle:
            yield _Drawn(one, base_apart_m, thing.outline).held(
                OBSTACLE,
                scene.defaults.of("plan-gap"),
                "base to what lies there",
                settle_by="Take it away, or turn or move the base: at least {:.2f} m is lacking.",
                tail="layout.obstacle",
                about=thing.name,
            )


def check_firm(scene: Scene) -> Iterator[Finding]:
    """Every foot stands with its whole pad on the ground that bears."""
    firm = scene.space.layout.firm
    if firm is None:
        return
    nothing = derived("d_0", "edge of the firm ground", 0.0, Unit.M, "pad at the edge")
    for one in on_feet(scene):
        yield _Drawn(one, least_inside_m, firm).held(
            FIRM,
            nothing,
            "pad inside the firm ground",
            settle_by="Move the base inwards by {:.2f} m, or lay boards that carry it there.",
            tail="layout.firm",
            about="",
        )
