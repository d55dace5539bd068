"""Clearance: landing, opening and sweep as drawn, against what lies round them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from planbuilder.checks.asking import MEASURE, Needs
from planbuilder.checks.room import landing, traffic
from planbuilder.checks.room.drawn import corners, on_feet
from planbuilder.checks.room.set_back import CORNERS
from planbuilder.checks.scene import Scene, Working, derived, finding, output
from planbuilder.clearance.ground_plan import base_apart_m, circle_apart_m, outlines_apart_m
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.layout import Outline
from planbuilder.site.opening import OpeningShape

OWN = Source(mark=Mark.CHOICE, note="nobody is laid down, or kneels, at an edge")
ON_OBSTACLE = Rule(
    "clearance/landing-on-obstacle", "Landing beside what lies there", Weight.WARNS, OWN
)
AT_DROP = Rule("clearance/landing-at-drop", "Landing off every edge", Weight.BLOCKS, OWN)


def check_landing_drawn(scene: Scene) -> Iterator[Finding]:
    """The landing, as drawn, is clear of opening, obstacles and drops."""
    layout = scene.space.layout
    place = layout.landing
    if place is None:
        return
    if scene.space.is_confined:
        gap = _Gap("layout.landing", "opening")
        gap.measure = _from_opening(scene, gap.needs, place)
        yield gap.held(scene, landing.NEAR, "landing-off", "as drawn")
    for thing in layout.obstacle:
        gap = _Gap("layout.landing", "layout.obstacle", measure=_apart(place, thing.outline))
        yield gap.held(scene, ON_OBSTACLE, "plan-gap", thing.name)
    for drop in layout.drop:
        gap = _Gap("layout.landing", "layout.drop", measure=_apart(place, drop.outline))
        yield gap.held(scene, AT_DROP, "landing-off", drop.name)


def check_lane_drawn(scene: Scene) -> Iterator[Finding]:
    """Landing, opening and base, as drawn, are clear of the lane in use."""
    layout, road = scene.space.layout, scene.space.traffic
    lane = layout.lane
    if lane is None or (road is not None and road.lane == "road-closed"):
        return
    if layout.landing is not None:
        gap = _Gap("layout.landing", "layout.lane", measure=_apart(layout.landing, lane))
        yield gap.held(scene, traffic.LANE, "traffic-setback", "landing as drawn")
    if scene.space.is_confined:
        gap = _Gap("layout.lane")
        gap.measure = _from_opening(scene, gap.needs, lane)
        yield gap.held(scene, traffic.LANE, "traffic-setback", "opening as drawn")
    for one in on_feet(scene):
        gap = _Gap("layout.lane")
        feet, half_m = one.feet(gap.needs), one.half_pad().value + one.off_centre().value
        gap.measure = partial(_base_m, feet, half_m, corners(lane))
        yield gap.held(scene, traffic.LANE, "traffic-setback", f"base as drawn, {one.way.name}")


def _base_m(
    feet: Callable[[], tuple[tuple[float, float], ...]],
    half_pad_m: float,
    outline: tuple[tuple[float, float], ...],
) -> float:
    return max(0.0, base_apart_m(feet(), outline) - half_pad_m)


def _apart(one: Outline, other: Outline) -> Callable[[], float]:
    return partial(outlines_apart_m, corners(one), corners(other))


def _from_opening(scene: Scene, needs: Needs, outline: Outline) -> Callable[[], float]:
    """The gap of an outline to the opening; an oval counts as its box."""
    opening, at = scene.space.opening, corners(outline)
    needs.say(opening.shape, scene.key("opening.shape"))
    if opening.shape is OpeningShape.ROUND:
        key = scene.key("opening.diameter")
        across = needs.take("d_clear", "clear diameter", opening.diameter, Unit.M, key)
        return lambda: circle_apart_m(across.value / 2, at)
    sides = (
        needs.take("s", "clear side", side, Unit.M, scene.key(f"opening.{name}"))
        for name, side in (("length", opening.length), ("width", opening.width))
    )
    x, y = (one.value / 2 for one in sides)
    return lambda: outlines_apart_m(at, ((-x, -y), (x, -y), (x, y), (-x, y)))


class _Gap:
    """A gap taken off the layout, with the keys that it turns on."""

    def __init__(self, *tails: str, measure: Callable[[], float] | None = None) -> None:
        self.tails, self.needs = tails, Needs()
        self.measure = measure or (lambda: 0.0)

    def held(self, scene: Scene, rule: Rule, default: str, about: str) -> Finding:
        """The gap against the least one that a default gives."""
        gap_m, least = self.needs.work(self.measure), scene.defaults.of(default)
        drawn = derived("d_plan", "as drawn", gap_m, Unit.M, "off the layout")
        outcome: Compared | Missing
        keys = tuple(scene.key(one) for one in self.tails)
        if self.needs.missing:
            outcome, settle_by = Missing(because=self.needs.because), MEASURE
            keys = tuple(self.needs.missing)
        elif self.needs.refused:
            outcome, settle_by = Missing(because=self.needs.refused), CORNERS
        else:
            outcome = Working(gap_m, "d_plan", (drawn,)).against(
                Relation.AT_LEAST, least, result=output("g", "gap as drawn", Unit.M)
            )
            lacking_m = max(0.0, least.value - gap_m) + 0.01
            settle_by = f"Move one of the two: at least {lacking_m:.2f} m is lacking."
        return finding(
            rule, outcome, settle_by=settle_by, keys=keys, space=scene.space, about=about
        )
