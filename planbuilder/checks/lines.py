"""The lifting line: strength as rigged, size of its sheaves, its factor beside published ones."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.parts import up_kn
from planbuilder.checks.raise_time import haul_time, rope_parts, travel_up
from planbuilder.checks.reeving import advantage_at_drum
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, derived, finding
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
from planbuilder.haul.factors import DESIGN_FACTORS, SHEAVE_RATIOS
from planbuilder.haul.strength import (
    bending_efficiency,
    breaking_needed_n,
    design_factor,
    personnel_hoist_factor,
    shaft_rope_factor,
    weakest_efficiency,
)
from planbuilder.site.equipment import SelfRetractingLine, Winch

PERSONS = Source(mark=Mark.READ, document="2006/42/EC", clause="Annex I 6.1.1, by analogy")
LINE = Rule("haul/line-too-weak", "Strength of the line as rigged", Weight.BLOCKS, PERSONS)
LINE_STATED = Rule(
    "haul/line-strength-not-stated",
    "Breaking strength, termination and bend of the line",
    Weight.WARNS,
    PERSONS,
)
SHEAVE = Rule(
    "haul/sheave-too-small",
    "Sheave against the thickness of the line",
    Weight.WARNS,
    Source(mark=Mark.READ, document="TB 43-0142", clause="table A-1"),
)
PUBLISHED = Rule(
    "haul/below-published-factor",
    "Factor of the line beside published ones",
    Weight.NOTES,
    Source(mark=Mark.CHOICE, note="made for other machines; the plan goes by the factor above"),
)


@dataclass(frozen=True, slots=True)
class _Line:
    """The line of one way, with what holds it and what pulls on it."""

    way: Way
    device: AnyDevice
    needs: Needs
    breaks: Quantity
    end: Quantity
    sheave: Quantity
    line: Quantity
    edges: Quantity

    @classmethod
    def of(cls, way: Way, device: AnyDevice) -> _Line:
        """Asks for everything that the strength of the line hangs on."""
        needs, key = Needs(), f"device.{device.id}"
        return cls(
            way,
            device,
            needs,
            needs.take(
                "F_break", "breaking strength", device.line_breaking, Unit.N, f"{key}.line_breaking"
            ),
            needs.number(
                "E_term",
                "kept at the termination",
                device.termination,
                Unit.RATIO,
                f"{key}.termination",
            ),
            needs.take("D", "sheave", device.sheave_diameter, Unit.M, f"{key}.sheave_diameter"),
            needs.take("d", "line", device.line_diameter, Unit.M, f"{key}.line_diameter"),
            needs.keep(edge_load_factor(way), way.key("rig.edges")),
        )

    def kept(self) -> float:
        """Share of the strength that is left at the worse of end and bend."""
        bend = bending_efficiency(
            sheave_diameter_m=self.sheave.value, line_diameter_m=self.line.value
        )
        return weakest_efficiency(termination=self.end.value, bending=bend)

    def pulls(self) -> tuple[Quantity, ...]:
        """Weight, jerk, edges and parts: what the largest pull on the line is made of."""
        way = self.way
        return weight(way), dynamic_factor(way), self.edges, advantage_at_drum(way, self.device)

    def tension_n(self) -> float:
        """Largest pull on the line while raising: at the drum, in N."""
        load, psi, edges, line = self.pulls()
        return load.value * psi.value * edges.value / line.value

    def factor(self) -> Working:
        """The design factor of the line as rigged."""
        value = design_factor(
            breaking_n=self.breaks.value, efficiency=self.kept(), tension_n=self.tension_n()
        )
        formula = "F_break*min(E_term, 1 - 0.5/sqrt(D/d))*A_line/(W*psi*k_edge)"
        inputs = (self.breaks, self.end, self.sheave, self.line, *self.pulls())
        return Working(value, formula, inputs)


def _with_line(scene: Scene) -> Iterator[tuple[Way, AnyDevice]]:
    for way in scene.ways():
        if way.rig is not None:
            yield way, scene.device(way.rig.device)


def _is_rated_with_device(device: AnyDevice) -> bool:
    """A line that came with its device: the rating for people covers it; a rope is chosen apart."""
    return device.line_breaking is None and isinstance(device, Winch | SelfRetractingLine)


def check_line_strength(scene: Scene) -> Iterator[Finding]:
    """The line holds the lift with termination and bending taken off, by its design factor."""
    for way, device in _with_line(scene):
        if isinstance(device, Winch | SelfRetractingLine):
            yield _stated(way, device)
        if not _is_rated_with_device(device):
            yield _strong(way, _Line.of(way, device))


def _stated(way: Way, device: AnyDevice) -> Finding:
    given = device.line_breaking is not None
    lacks = f"{device.name}: breaking strength of the line not given"
    return finding(
        LINE_STATED,
        Stated(holds=True, because=f"{device.name}: stated") if given else Missing(because=lacks),
        settle_by="Nothing; renew the figures when the line is replaced."
        if given
        else "State line_breaking, termination, sheave_diameter and line_diameter.",
        keys=(f"device.{device.id}.line_breaking",),
        space=way.scene.space,
        about=way.name,
    )


def _strong(way: Way, line: _Line) -> Finding:
    factor, needs = way.scene.defaults.of("factor-line"), line.needs
    needed_n = needs.work(
        lambda: breaking_needed_n(
            tension_n=line.tension_n(), factor=factor.value, efficiency=line.kept()
        )
    )
    strong = f" that breaks at {up_kn(needed_n)} or more" if math.isfinite(needed_n) else ""
    return compare(
        LINE,
        way,
        needs,
        line.factor,
        Relation.AT_LEAST,
        factor,
        result=("f", "design factor of the line, LC1", Unit.RATIO),
        settle_by=f"Fit a line{strong}, a larger sheave or a better termination.",
        keys=(f"device.{line.device.id}.line_breaking",),
    )


def check_sheaves(scene: Scene) -> Iterator[Finding]:
    """The smallest sheave is not so small that it wears the line out: it warns, it does not block.

    A line of which nobody says what it is counts as wire. The limit is that of the most flexible.
    """
    for way, device in _with_line(scene):
        if _is_rated_with_device(device):
            continue
        is_wire, needs, key = device.line_is != "textile", Needs(), f"device.{device.id}"
        least = scene.defaults.of("sheave-ratio-wire" if is_wire else "sheave-ratio-textile")
        sheave = needs.take("D", "sheave", device.sheave_diameter, Unit.M, f"{key}.sheave_diameter")
        line = needs.take("d", "line", device.line_diameter, Unit.M, f"{key}.line_diameter")
        yield compare(
            SHEAVE,
            way,
            needs,
            partial(_ratio, sheave, line),
            Relation.AT_LEAST,
            least,
            result=("k", "sheave over line", Unit.RATIO),
            settle_by=_larger_sheaves(least.value * line.value, is_wire=is_wire),
            keys=(f"{key}.sheave_diameter",),
        )


def _larger_sheaves(least_m: float, *, is_wire: bool) -> str:
    size = f" of {math.ceil(least_m * 1000)} mm or more" if math.isfinite(least_m) else ""
    if not is_wire:
        return f"Use sheaves{size}."
    asked = ", ".join(f"{one.rope} {one.least:g}" for one in SHEAVE_RATIOS)
    return (
        f"Use sheaves{size}, or look for broken wires before each use. Wire by its make asks for "
        f"{asked}."
    )


def _ratio(sheave: Quantity, line: Quantity) -> Working:
    return Working(sheave.value / line.value, "D/d", (sheave, line))


def check_published(scene: Scene) -> Iterator[Finding]:
    """The factor reached stands beside those that published rules ask of lines for persons."""
    for way, device in _with_line(scene):
        if not _is_rated_with_device(device):
            yield _beside_published(way, device)


def _beside_published(way: Way, device: AnyDevice) -> Finding:
    line = _Line.of(way, device)
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


def _beside(line: _Line, rows: tuple[Quantity, ...]) -> Working:
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
    up, time = travel_up(way.scene), haul_time(way)
    for one in (up, time):
        needs.missing += one if isinstance(one, tuple) else ()
    if way.rig is None or isinstance(up, tuple) or isinstance(time, tuple):
        return math.nan
    return up.value * rope_parts(way.scene, way.scene.device(way.rig.device)).value / time.value
