"""The factor of the lifting line beside those of published rules for lines that carry persons."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.lifting.lines import LiftingLine, is_rated_with_device, with_line
from planbuilder.checks.lifting.raise_time import haul_time, rope_parts, travel_up
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.factors import DESIGN_FACTORS
from planbuilder.haul.strength import personnel_hoist_factor, shaft_rope_factor

PUBLISHED = Rule(
    "haul/below-published-factor",
    "Factor of the line beside published ones",
    Weight.NOTES,
    Source(mark=Mark.CHOICE, note="made for other machines; the plan goes by the factor above"),
)


def check_published(scene: Scene) -> Iterator[Finding]:
    """The factor reached stands beside those that published rules ask of lines for persons."""
    for way, device in with_line(scene):
        if not is_rated_with_device(device):
            yield _beside_published(way, device)


def _beside_published(way: Way, device: AnyDevice) -> Finding:
    line = LiftingLine.of(way, device)
    line.needs.say(device.line_is, f"device.{device.id}.line_is")
    rows = _published(way, device, line.needs)
    nothing = derived("f_pub", "published factor", math.nan, Unit.RATIO, "kind of line not known")
    return compare(
        PUBLISHED,
        way,
        line.needs,
        partial(_beside, line, rows),
        Relation.AT_LEAST,
        replace(max(rows, key=lambda one: one.value, default=nothing), symbol="f_pub"),
        result=("f", "factor of the line, LC1", Unit.RATIO),
        settle_by="Say in the plan which rule's factor the line goes by; a stronger line meets "
        "more of them.",
        keys=(f"device.{device.id}.line_breaking",),
    )


def _beside(line: LiftingLine, rows: tuple[Quantity, ...]) -> Working:
    factor = line.factor()
    return replace(factor, inputs=(*factor.inputs, *rows))


def _published(way: Way, device: AnyDevice, needs: Needs) -> tuple[Quantity, ...]:
    """The published factors that apply to this kind of line, its depth and its speed."""
    rows = [
        (one.use, float(one.factor), one.document, one.clause, one.mark)
        for one in DESIGN_FACTORS
        if one.line == device.line_is
    ]
    if device.line_is == "wire":
        rows += _by_depth_and_speed(way, needs)
    return tuple(
        Quantity(
            symbol=f"f_{number}",
            label=f"{use}: compared only",
            value=factor,
            unit=Unit.RATIO,
            source=Source(mark=Mark(mark), document=document, clause=clause),
        )
        for number, (use, factor, document, clause, mark) in enumerate(rows, 1)
    )


Row = tuple[str, float, str, str, str]


def _by_depth_and_speed(way: Way, needs: Needs) -> Iterator[Row]:
    below, tail = way.scene.down
    depth = needs.take("z", "depth", below, Unit.M, way.scene.key(tail))
    shaft = needs.work(lambda: shaft_rope_factor(suspended_m=depth.value))
    yield "new rope on a drum in a shaft", shaft, "30 CFR 57.19021", "7.0 - 0.001 L", Mark.READ
    speed = _line_speed(way, needs)
    hoist = needs.work(lambda: personnel_hoist_factor(rope_speed_m_per_s=speed))
    yield "rope of a personnel hoist", hoist, "WAC 296-155-77105", "table", Mark.READ


def _line_speed(way: Way, needs: Needs) -> float:
    up, time = travel_up(way), haul_time(way)
    for one in (up, time):
        needs.missing += one if isinstance(one, tuple) else ()
    if way.rig is None or isinstance(up, tuple) or isinstance(time, tuple):
        return math.nan
    return up.value * rope_parts(way.scene, way.scene.device(way.rig.device)).value / time.value
