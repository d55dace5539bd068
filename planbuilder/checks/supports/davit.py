"""Does a davit on a portable base stand: moments, slope and lean, ballast."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Working, derived
from planbuilder.checks.supports.davit_base import Base, davits, sloped
from planbuilder.checks.supports.head_pull import Pulled, planned_lean, pulled
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.swing import Swept

STATICS = Source(mark=Mark.DERIVED, document="Statics")
TIPS = Rule("haul/base-tips", "Moments about the edges of the base", Weight.BLOCKS, STATICS)
LEAN = Rule("haul/lean-uses-margin", "Base under slope and a leaning line", Weight.WARNS, STATICS)
ON_SLOPE = Rule("haul/base-tips-on-slope", "Base on its slope", Weight.BLOCKS, STATICS)
LOOSE = Rule("haul/loose-ballast", "Ballast fixed to the base", Weight.BLOCKS, STATICS)
UNTIPPED = 1e6  # a factor without end, as a number


def check_base_moments(scene: Scene) -> Iterator[Finding]:
    """Own weight and fixed ballast hold the tipping moment with a factor, on level ground."""
    factor = scene.defaults.of("base-factor")
    for way, support in davits(scene):
        base, (case, force) = Base(way, support), next(load_cases(way))
        pull = pulled(way, case, force, base.needs)
        advice = "Shorten the reach, or fix ballast to the base."
        swept = _or_none(base, pull)
        advice = _advice(swept) if swept else advice
        yield compare(
            TIPS,
            way,
            base.needs,
            lambda: _moments(base, pull),
            Relation.AT_LEAST,
            factor,
            result=("SF_e", "moment factor, LC1", Unit.RATIO),
            settle_by=advice,
            keys=(f"support.{support.id}.ballast", way.key("rig.reach")),
        )


def _moments(base: Base, pull: Pulled) -> Working:
    swept = base.swept(pull, level=True)
    value = min(swept.moment_factor, UNTIPPED)
    note = (
        "load line inside at every permitted angle: the load cannot tip the base"
        if swept.line_inside
        else f"worst at {math.degrees(swept.factor_at_rad):.0f} degrees of swing"
    )
    moments = derived("SF_e", "stabilising over overturning moment", value, Unit.RATIO, note)
    bodies = (base.base, base.mast, base.boom, base.reach, *pull.inputs)
    return Working(value, "SF_e", (moments, *bodies))


def _or_none(base: Base, pull: Pulled) -> Swept | None:
    if base.needs.missing:
        return None
    try:
        return base.swept(pull, level=True)
    except ValueError:
        return None


def _advice(swept: Swept) -> str:
    """The smallest changes that clear it, from the same statics."""
    reach = f"shorten the reach to {swept.inside_reach_m:.2f} m" if swept.inside_reach_m else ""
    ballast = (
        f"fix {math.ceil(swept.ballast_kg):.0f} kg of ballast at the rear feet"
        if 0 < swept.ballast_kg < math.inf
        else ""
    )
    words = " or ".join(one for one in (reach, ballast) if one) or "use another support"
    return f"{words[0].upper()}{words[1:]}. People standing on the base never count."


def check_slope(scene: Scene) -> Iterator[Finding]:
    """The base stands on the slope it is on, with the line as it leans: own weight holds it."""
    edge = derived("m_0", "edge of the base", 0.0, Unit.M, "centre of pressure over the edge")
    for way, support in davits(scene):
        for case, force in load_cases(way):
            base = sloped(way, support)
            yield _pressed(base, ON_SLOPE, pulled(way, case, force, base.needs), edge, case)


def check_lean(scene: Scene) -> Iterator[Finding]:
    """Load case LC4: the lift on the slope with a line that leans as planned uses up the margin."""
    least = scene.defaults.of("base-margin")
    for way, support in davits(scene):
        base, (case, force) = sloped(way, support), next(load_cases(way))
        pull = pulled(way, case, force, base.needs, lean=planned_lean(way))
        yield _pressed(base, LEAN, pull, least, "LC4")


def _pressed(base: Base, rule: Rule, pull: Pulled, least: Quantity, case: str) -> Finding:
    def working() -> Working:
        swept = base.swept(pull, level=False)
        note = f"centre of pressure, worst at {math.degrees(swept.margin_at_rad):.0f} degrees"
        margin = derived("m_c", "centre of pressure inside", swept.margin_m, Unit.M, note)
        own = (base.slope, base.hook, base.reach)
        return Working(swept.margin_m, "m_c", (margin, *own, *pull.inputs))

    return compare(
        rule,
        base.way,
        base.needs,
        working,
        Relation.AT_LEAST,
        least,
        result=("m", f"centre of pressure inside the base, {case}", Unit.M),
        settle_by="Level the base, keep the line plumb, lower the hook or shorten the reach.",
        keys=(base.way.key("rig.stand.slope"), base.way.key("rig.reach")),
        about="" if case == "LC4" else case,
    )


def check_ballast(scene: Scene) -> Iterator[Finding]:
    """Ballast that is not fixed does not count, and must not be counted on."""
    for way, support in davits(scene):
        if not support.ballast:
            continue
        loose = sum(not one.fixed for one in support.ballast)
        words = f"{loose} loose weights" if loose else "every ballast weight is fixed"
        yield answer(
            LOOSE,
            way,
            Needs(),
            lambda: Stated(holds=not loose, because=words),
            settle_by="Fix the ballast to the base, or take it off the plan.",
            keys=(f"support.{support.id}.ballast",),
        )
