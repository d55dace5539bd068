"""Power lines: how near a support comes to one as it stands, is raised, or falls."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.approach_tables import approach_tables, distance_needed, in_force
from planbuilder.checks.room.standing import Standing, standing
from planbuilder.checks.scene import Scene, Working, derived, finding
from planbuilder.clearance.approach import (
    farthest_point_m,
    standing_gap_m,
    standing_line_distance_m,
    toppling_gap_m,
    toppling_line_distance_m,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.surroundings import PowerLine

LAW = Source(mark=Mark.READ, document="29 CFR 1910.333", clause="(c)(3)")
NEAR = Rule(
    "clearance/power-line-too-near",
    "Distance of the standing support to a line",
    Weight.BLOCKS,
    LAW,
)
TOPPLES = Rule(
    "clearance/power-line-in-reach-of-fall",
    "Distance to a line while the support is raised or if it falls",
    Weight.BLOCKS,
    LAW,
)
VOLTAGE = Rule(
    "clearance/power-line-voltage-unknown",
    "Voltage of the line",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1926.1408", clause="(a)(2)"),
)
CONFIRMED = Rule(
    "clearance/power-line-not-confirmed",
    "Isolated, grounded or insulated line",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, note="a line is live and bare until its owner says otherwise"),
)
COUNTRY = Rule(
    "clearance/approach-table-elsewhere",
    "Table of approach distances for this country",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, note="approach distances differ between jurisdictions"),
)
UNSAID = Rule(
    "clearance/overhead-not-stated",
    "What is overhead where a support stands",
    Weight.BLOCKS,
    LAW,
)
_AWAY = "or have its owner isolate and ground it, and confirm that."


def power_lines(scene: Scene) -> Iterator[tuple[PowerLine, str]]:
    """Every line of site and space, with the key of its table."""
    for one in scene.site.site.power_line:
        yield one, "site.power_line"
    for one in scene.space.power_line:
        yield one, scene.key("power_line")


def _is_confirmed(scene: Scene, line: PowerLine) -> bool:
    day = line.confirmed_on
    return line.confirmed_by is not None and day is not None and day <= scene.on


def is_off(scene: Scene, line: PowerLine) -> bool:
    """True for a line whose isolation and grounding somebody has confirmed by this day."""
    return line.state == "isolated-and-grounded" and _is_confirmed(scene, line)


def check_overhead_stated(scene: Scene) -> Iterator[Finding]:
    """Where something is set up that stands high, the plan says what is overhead."""
    raised = any(one.is_raised for way in scene.ways() for one in standing(way))
    if not raised or any(power_lines(scene)):
        return
    outcome: Stated | Missing = Missing(because="nothing is said about overhead lines")
    if scene.site.site.overhead:
        outcome = Stated(holds=True, because="said in words under overhead, and not worked out")
    yield finding(
        UNSAID,
        outcome,
        settle_by="Look up, and say under overhead what is there; state each line that is near "
        "with voltage, distance and height.",
        keys=("site.overhead", "site.power_line"),
        space=scene.space,
    )


def check_line_facts(scene: Scene) -> Iterator[Finding]:
    """The voltage of a line is known, its isolation confirmed, and the table that of the place."""
    for line, key in power_lines(scene):
        if line.state == "isolated-and-grounded" or line.insulated:
            yield _confirmed(scene, line, key)
        if not is_off(scene, line):
            yield _voltage(scene, line, key)
            yield _country(scene, line, key)


def _confirmed(scene: Scene, line: PowerLine, key: str) -> Finding:
    what = "isolated and grounded" if line.state == "isolated-and-grounded" else "insulated"
    outcome: Stated | Missing = Missing(because=f"{what}, but nobody has confirmed it by this day")
    if _is_confirmed(scene, line):
        outcome = Stated(holds=True, because=f"{what}, confirmed by {line.confirmed_by}")
    return finding(
        CONFIRMED,
        outcome,
        settle_by="Have the owner of the line confirm it, and state who did and when; until then "
        "it counts as live and bare.",
        keys=(f"{key}.confirmed_by", f"{key}.confirmed_on"),
        space=scene.space,
        about=line.name,
    )


def _voltage(scene: Scene, line: PowerLine, key: str) -> Finding:
    outcome: Stated | Missing = Missing(because="not given: the strictest distance is held")
    if line.voltage is not None:
        outcome = Stated(holds=True, because=line.voltage.written)
    return finding(
        VOLTAGE,
        outcome,
        settle_by="Ask the owner of the line for its voltage.",
        keys=(f"{key}.voltage",),
        space=scene.space,
        about=line.name,
    )


def _country(scene: Scene, line: PowerLine, key: str) -> Finding:
    names = [name for name in in_force(scene, line) if name in approach_tables()]
    here = scene.site.site.country
    holds = here.strip().upper() in {approach_tables()[name].country for name in names}
    listed = ", ".join(names) or "none"
    words = f"tables in force: {listed}; the site is in {here}"
    return finding(
        COUNTRY,
        Stated(holds=holds, because=words),
        settle_by="Name the table of the jurisdiction under table "
        f"({', '.join(approach_tables())}), or write the country by its two letters.",
        keys=(f"{key}.table", "site.country"),
        space=scene.space,
        about=line.name,
    )


def check_distances(scene: Scene) -> Iterator[Finding]:
    """No part of a support comes nearer to a live line than its table allows."""
    for way in scene.ways():
        for one in standing(way):
            for line, key in power_lines(scene):
                if is_off(scene, line):
                    continue
                yield _Approach(one, line, key).standing()
                if one.is_raised:
                    yield _Approach(one, line, key).toppling()


def approach_needed(scene: Scene, line: PowerLine, needs: Needs) -> Quantity:
    """The approach distance in force at *line*; where there is none, *needs* says why."""
    insulated = line.insulated and _is_confirmed(scene, line)
    try:
        return distance_needed(scene, line, insulated=insulated)
    except ValueError as error:
        needs.refused = needs.refused or str(error)
    return derived("D", "approach distance", math.nan, Unit.M, "not known")


class _Approach:
    """One support and one line."""

    def __init__(self, one: Standing, line: PowerLine, key: str) -> None:
        self.one, self.line, self.key, self.needs = one, line, key, Needs()
        take = self.needs.take
        self.apart = one.apart(self.needs)
        self.plan = self._in_plan()
        self.height = take("h_l", "height of the line", line.height, Unit.M, f"{key}.height")
        self.sag = take("s_l", "further sag", line.sag, Unit.M, f"{key}.sag")
        self.lowest_m = max(0.0, self.height.value - self.sag.value)
        self.top = one.top(self.needs)
        self.reach = one.reach(self.needs)
        self.needed = approach_needed(one.way.scene, line, self.needs)
        self.slack_m = one.way.scene.defaults.of("clearance-warning").value

    def _in_plan(self) -> Quantity:
        """The line may lie on the side on which the backup's support stands."""
        key, label = f"{self.key}.distance", "line from support, in plan"
        first = self.needs.take("d_h", label, self.line.distance, Unit.M, key)
        if not self.one.is_backup:
            return first
        least_m = max(0.0, first.value - self.apart.value)
        return derived("d_h", label, least_m, Unit.M, "d_line - d_b", (first, self.apart))

    def _finding(self, rule: Rule, working: Working, away_m: float, label: str) -> Finding:
        """*away_m* is the plan distance that would do with all its slack, bar a centimetre."""
        keys = (f"{self.key}.distance", f"{self.key}.height", self.one.top_key)
        away_m += self.apart.value
        return compare(
            rule,
            self.one.way,
            self.needs,
            lambda: working,
            Relation.AT_LEAST,
            self.needed,
            result=("a", label, Unit.M),
            settle_by=f"Set up {away_m + 0.01:.2f} m from the line in plan, {_AWAY}",
            keys=keys,
            about=", ".join(filter(None, (self.one.about, self.line.name))),
            slack=self.slack_m,
        )

    def standing(self) -> Finding:
        """The gap left by the support as it stands and turns."""
        gap_m = standing_gap_m(
            line_distance_m=self.plan.value,
            line_height_m=self.lowest_m,
            reach_m=self.reach.value,
            top_m=self.top.value,
        )
        away = partial(
            standing_line_distance_m,
            needed_m=self.needed.value + self.slack_m,
            line_height_m=self.lowest_m,
            reach_m=self.reach.value,
            top_m=self.top.value,
        )
        formula = "sqrt(max(0, d_h - R)**2 + max(0, max(0, h_l - s_l) - h_t)**2)"
        inputs = (self.plan, self.reach, self.height, self.sag, self.top)
        working = Working(gap_m, formula, inputs)
        return self._finding(NEAR, working, self.needs.work(away), "gap to the line, standing")

    def toppling(self) -> Finding:
        """The gap left by the support as it is raised, or if it falls."""
        base = self.one.base(self.needs)
        farthest_m = farthest_point_m(
            top_m=self.top.value, reach_m=self.reach.value, base_m=base.value
        )
        gap_m = toppling_gap_m(
            line_distance_m=self.plan.value,
            line_height_m=self.lowest_m,
            base_m=base.value,
            farthest_m=farthest_m,
        )
        away = partial(
            toppling_line_distance_m,
            needed_m=self.needed.value + self.slack_m,
            line_height_m=self.lowest_m,
            base_m=base.value,
            farthest_m=farthest_m,
        )
        formula = "sqrt(max(0, d_h - b)**2 + max(0, h_l - s_l)**2) - sqrt(h_t**2 + (R + b)**2)"
        inputs = (self.plan, base, self.height, self.sag, self.top, self.reach)
        working = Working(gap_m, formula, inputs)
        return self._finding(TOPPLES, working, self.needs.work(away), "gap to the line, falling")
