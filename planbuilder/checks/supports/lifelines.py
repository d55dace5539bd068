"""A horizontal lifeline as an overhead anchor: angle, ends, users. Engineer to confirm each one."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, counted, derived
from planbuilder.checks.supports.lifeline_span import Span
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.lifeline import (
    length_for_angle_m,
    midspan_tension_n,
    sag_angle_rad,
)
from planbuilder.site.supports import HorizontalLifeline

STATICS = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
SAG = Rule("haul/lifeline-too-flat", "Angle of the loaded lifeline", Weight.BLOCKS, STATICS)
ENDS = Rule("haul/lifeline-ends-overloaded", "Ends of the lifeline", Weight.BLOCKS, STATICS)
USERS = Rule("haul/lifeline-users", "People on the lifeline", Weight.BLOCKS, STATICS)


def check_lifeline(scene: Scene) -> Iterator[Finding]:
    """A flat line multiplies the load on its ends, which take its tension and not the load."""
    for way in scene.ways():
        line = scene.support(way.rig.support) if way.rig else None
        if not isinstance(line, HorizontalLifeline):
            continue
        for case, force in load_cases(way):
            span = _Span(way, line, force)
            yield _angle(span, case)
            yield _ends(span, case)
        yield _users(way, line)


class _Span(Span):
    """The line between its ends with one load in the middle, in one way out."""

    def __init__(self, way: Way, line: HorizontalLifeline, force: Quantity) -> None:
        super().__init__(line)
        self.way, self.force = way, force


def _angle(span: _Span, case: str) -> Finding:
    """Own weight is left out here: it would only make the line look less flat."""
    way, least = span.way, span.way.scene.defaults.of("least-sag-angle")
    sag = span.sag(span.force)
    length_m = span.needs.work(
        lambda: length_for_angle_m(
            load_n=span.force.value,
            span_m=span.span.value,
            angle_rad=least.value,
            modulus_n=span.stiffness.value,
        )
    )

    def working() -> Working:
        value = sag_angle_rad(span_m=span.span.value, sag_m=sag.value)
        angle = derived("theta", "angle of the loaded line", value, Unit.RAD, "atan(2*sag/S)")
        return Working(value, "theta", (angle, sag, span.span))

    return compare(
        SAG,
        way,
        span.needs,
        working,
        Relation.AT_LEAST,
        least,
        result=("theta", f"angle of the loaded line, {case}", Unit.RAD),
        settle_by=f"Use at least {_up(length_m, 2)} m of slack line between the ends.",
        keys=(f"{span.key}.slack_length",),
        about=case,
    )


def _ends(span: _Span, case: str) -> Finding:
    needs, line, force = Needs(), span.line, span.force
    own = span.own_weight()
    needs.also(span.needs)
    rating = needs.take(
        "T_end", "rating of each end", line.end_rating, Unit.N, f"{span.key}.end_rating"
    )
    both = derived("P", "load at midspan", force.value + own.value, Unit.N, "F + P_l")
    sag = span.sag(both)
    tension_n = needs.work(
        lambda: midspan_tension_n(load_n=both.value, span_m=span.span.value, sag_m=sag.value)
    )
    formula = "(F + P_l)*sqrt((S/2)**2 + sag**2)/(2*sag)"
    return compare(
        ENDS,
        span.way,
        needs,
        lambda: Working(tension_n, formula, (force, own, span.span, sag)),
        Relation.AT_MOST,
        rating,
        result=("T", f"tension at the ends, {case}", Unit.N),
        settle_by=f"Use ends rated for {_up(tension_n / 1000, 1)} kN each, or give the line more "
        "sag: the ends take the tension, not the load.",
        keys=(f"{span.key}.end_rating",),
        about=case,
    )


def _users(way: Way, line: HorizontalLifeline) -> Finding:
    scene, needs, key = way.scene, Needs(), f"support.{line.id}.users"
    most = needs.number("n_max", "users the line was designed for", line.users, Unit.COUNT, key)
    inside = counted("n", "people at once", scene.inside_at_once, scene.key("task.inside_at_once"))
    return compare(
        USERS,
        way,
        needs,
        lambda: Working(inside.value, "n", (inside,)),
        Relation.AT_MOST,
        most,
        result=("n", "people on the lifeline", Unit.COUNT),
        settle_by="One person at a time, or a line designed for more by a qualified person.",
        keys=(key,),
    )


def _up(value: float, decimals: int) -> str:
    """A number needed, rounded up; a question mark where it cannot be worked out."""
    scale = 10**decimals
    return f"{math.ceil(value * scale) / scale:.{decimals}f}" if math.isfinite(value) else "?"
