"""Clearance: several people inside on lines of their own: crossed, wound, too near to hoist."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import combinations

from planbuilder.checks.room.aside import is_raised_from_above
from planbuilder.checks.room.landing import half_casualty
from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import Scene, Working, derived, finding, output
from planbuilder.clearance.several_lines import distance_m, lines_cross
from planbuilder.findings import (
    Compared,
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
from planbuilder.site.column import EntrantLine

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
CROSS = Rule("clearance/lines-cross", "Lines of several entrants", Weight.WARNS, GEOMETRY)
HEAD = Rule("clearance/lines-on-one-head", "Heads of several lines", Weight.WARNS, GEOMETRY)
NEAR = Rule(
    "clearance/lines-hoisted-too-near", "People hoisted at the same time", Weight.WARNS, GEOMETRY
)
WOUND = Rule("clearance/lines-wound", "Turns of one line round another", Weight.WARNS, GEOMETRY)
Pair = tuple[EntrantLine, EntrantLine]
ONE_AT_A_TIME = "Hoist one at a time, the line on top first"


def check_lines(scene: Scene) -> Iterator[Finding]:
    """Where two or more are inside on lines, these neither cross nor share a sheave."""
    if scene.inside_at_once < 2 or not any(  # noqa: PLR2004 - two lines
        is_raised_from_above(way) and way.rig is not None and way.rig.line_worn
        for way in scene.ways()
    ):
        return
    yield _told(scene, CROSS, ("head", "at"), _crossing, f"{ONE_AT_A_TIME}, or work the other way.")
    apart_m = scene.defaults.of("head-gap").value
    advice = f"Hang each line on a sheave of its own, {up(apart_m)} m apart, or use a tag line."
    yield _told(scene, HEAD, ("head",), _heads, advice)
    apart_m = _side_by_side(scene).value
    advice = f"{ONE_AT_A_TIME}, or set the heads {up(apart_m)} m apart."
    yield _told(scene, NEAR, ("together", "head"), _hoisted, advice)
    advice = (
        "Go back the way that was gone before anybody is hoisted, until less than 180 deg of turn "
        "of one line round another are left."
    )
    yield _told(scene, WOUND, ("turned",), _wound, advice)


def _told(
    scene: Scene,
    rule: Rule,
    names: tuple[str, ...],
    outcome: Callable[[Scene, list[Pair]], Compared | Stated],
    settle_by: str,
) -> Finding:
    """The finding on every pair of lines; unknown until all who are inside at once are placed."""
    lines, key = scene.space.entrant_line, scene.key("entrant_line")
    placed = len({one.person for one in lines}) >= scene.inside_at_once
    missing = [
        f"{key}[{number}].{name}"
        for number, one in enumerate(lines, start=1)
        for name in names
        if getattr(one, name) is None
    ]
    if not placed:
        missing.insert(0, key)
    said: Compared | Stated | Missing
    if missing:
        said = Missing(because="head, place or turns of the line of everybody inside not given")
        settle_by = "State an entrant_line for each of those who are inside at once."
    else:
        said = outcome(scene, list(combinations(lines, 2)))
    keys = tuple(missing) or (key,)
    return finding(rule, said, settle_by=settle_by, keys=keys, space=scene.space)


def _plan(line: EntrantLine, name: str) -> tuple[float, float]:
    x, y = getattr(line, name)
    return x.m, y.m


def _names(scene: Scene, pair: Pair) -> str:
    return " and ".join(scene.person(one.person).name for one in pair)


def _crossing(scene: Scene, pairs: list[Pair]) -> Stated:
    crossed = [
        _names(scene, pair)
        for pair in pairs
        if lines_cross(*((_plan(one, "head"), _plan(one, "at")) for one in pair))
    ]
    because = f"the lines of {'; '.join(crossed)} cross" if crossed else "no two lines cross"
    return Stated(holds=not crossed, because=because)


def _apart(scene: Scene, pairs: list[Pair]) -> Quantity:
    """The least distance between two heads of *pairs*."""
    apart_m, names = min(
        (distance_m(*(_plan(one, "head") for one in pair)), _names(scene, pair)) for pair in pairs
    )
    return derived("g_head", "head to head", apart_m, Unit.M, f"{names}, in plan")


def _heads(scene: Scene, pairs: list[Pair]) -> Compared:
    apart = _apart(scene, pairs)
    return Working(apart.value, "g_head", (apart,)).against(
        Relation.AT_LEAST,
        scene.defaults.of("head-gap"),
        result=output("g", "least distance between two heads", Unit.M),
    )


def _hoisted(scene: Scene, pairs: list[Pair]) -> Compared | Stated:
    at_once = [pair for pair in pairs if all(one.together for one in pair)]
    if not at_once:
        return Stated(holds=True, because="one at a time")
    apart = _apart(scene, at_once)
    return Working(apart.value, "g_head", (apart,)).against(
        Relation.AT_LEAST,
        _side_by_side(scene),
        result=output("g", "least distance between two who are hoisted", Unit.M),
    )


def _side_by_side(scene: Scene) -> Quantity:
    """The distance from head to head at which two pass each other."""
    half, gap = half_casualty(scene), scene.defaults.of("shaft-gap")
    least_m = 2 * half.value + gap.value
    return derived("g_least", "side by side", least_m, Unit.M, "2*b_c + m_s", (half, gap))


def _wound(scene: Scene, pairs: list[Pair]) -> Compared:
    turn_rad, names = max((_between_rad(pair), _names(scene, pair)) for pair in pairs)
    turn = derived("phi", "turn of one line round another", turn_rad, Unit.RAD, names)
    half_turn = derived("phi_most", "half a turn", math.pi, Unit.RAD, "from there on they wrap")
    return Working(turn_rad, "phi", (turn,)).against(
        Relation.LESS_THAN, half_turn, result=output("phi_w", turn.label, Unit.RAD)
    )


def _between_rad(pair: Pair) -> float:
    one, other = (line.turned.rad if line.turned else 0.0 for line in pair)
    return abs(one - other)
