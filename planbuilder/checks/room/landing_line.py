"""Clearance: the landing outside the approach distance of every live power line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.place import clear_sides
from planbuilder.checks.room.power_lines import approach_needed, is_off, power_lines
from planbuilder.checks.room.standing import Standing, standing
from planbuilder.checks.scene import Scene, Working, derived, stated
from planbuilder.clearance.approach import standing_gap_m, standing_line_distance_m
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.site.room import Landing
from planbuilder.site.surroundings import PowerLine

IN_ZONE = Rule(
    "clearance/landing-near-power-line",
    "Distance of the landing to a line",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.333", clause="(c)(3)"),
)


def check_landing_lines(scene: Scene) -> Iterator[Finding]:
    """Hands and poles at the landing stay clear of every live line."""
    landing = scene.space.landing
    if landing is None:
        return
    for way in scene.ways():
        first = next(standing(way), None)
        for line, key in power_lines(scene):
            if first is not None and not is_off(scene, line):
                yield _kept(first, landing, line, key)


def _kept(one: Standing, landing: Landing, line: PowerLine, key: str) -> Finding:
    scene, needs = one.way.scene, Needs()
    plan = _in_plan(one, landing, line, key, needs)
    height = needs.take("h_l", "height of the line", line.height, Unit.M, f"{key}.height")
    sag = needs.take("s_l", "further sag", line.sag, Unit.M, f"{key}.sag")
    hands, needed = scene.defaults.of("landing-height"), approach_needed(scene, line, needs)
    lowest_m = max(0.0, height.value - sag.value)
    gap_m = standing_gap_m(
        line_distance_m=plan.value, line_height_m=lowest_m, reach_m=0.0, top_m=hands.value
    )
    away_m = needs.work(
        partial(
            standing_line_distance_m,
            needed_m=needed.value,
            line_height_m=lowest_m,
            reach_m=0.0,
            top_m=hands.value,
        )
    )
    formula = "sqrt(d_land**2 + max(0, max(0, h_l - s_l) - h_hands)**2)"
    return compare(
        IN_ZONE,
        one.way,
        needs,
        lambda: Working(gap_m, formula, (plan, height, sag, hands)),
        Relation.AT_LEAST,
        needed,
        result=("a", "gap to the line at the landing", Unit.M),
        settle_by=f"Lay the landing {away_m + 0.01:.2f} m from the line in plan, and state that as "
        "to_line, or have its owner isolate and ground it, and confirm that.",
        keys=(scene.key("landing.to_line"), f"{key}.distance"),
        about=line.name,
        slack=scene.defaults.of("clearance-warning").value,
    )


def _in_plan(one: Standing, landing: Landing, line: PowerLine, key: str, needs: Needs) -> Quantity:
    """As measured; else as if the landing stretched from the opening towards the line."""
    scene, label = one.way.scene, "line from the landing, in plan"
    if landing.to_line is not None:
        return stated("d_land", label, landing.to_line, Unit.M, scene.key("landing.to_line"))
    first = needs.take(
        "d_h", "line from support, in plan", line.distance, Unit.M, f"{key}.distance"
    )
    reach, half_m = one.reach(needs), _half_opening_m(scene, needs)
    across_m = math.hypot(landing.length.m, landing.width.m)
    far_m = reach.value + half_m + landing.from_opening.m + across_m
    least_m = max(0.0, first.value - far_m)
    note = "d_h less reach, opening, gap and diagonal of the landing, all towards the line"
    return derived("d_land", label, least_m, Unit.M, note, (first, reach))


def _half_opening_m(scene: Scene, needs: Needs) -> float:
    if not scene.space.is_confined:
        return 0.0
    sides = clear_sides(scene, needs)
    if isinstance(sides, Quantity):
        return sides.value / 2
    return math.hypot(sides[0].value, sides[1].value) / 2
