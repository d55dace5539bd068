"""The lifting line: strength as rigged, size of its sheaves."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import dynamic_factor, edge_load_factor, weight
from planbuilder.checks.lifting.parts import up_kn
from planbuilder.checks.lifting.reeving import advantage_at_drum
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, finding
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
from planbuilder.haul.factors import SHEAVE_RATIOS
from planbuilder.haul.strength import (
    bending_efficiency,
    breaking_needed_n,
    design_factor,
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


@dataclass(frozen=True, slots=True)
class LiftingLine:
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
    def of(cls, way: Way, device: AnyDevice) -> LiftingLine:
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


def with_line(scene: Scene) -> Iterator[tuple[Way, AnyDevice]]:
    """Every way that hangs on a line, and the device that the line belongs to."""
    for way in scene.ways():
        if way.rig is not None:
            yield way, scene.device(way.rig.device)


def is_rated_with_device(device: AnyDevice) -> bool:
    """A line that came with its device: the rating for people covers it; a rope is chosen apart."""
    return device.line_breaking is None and isinstance(device, Winch | SelfRetractingLine)


def check_line_strength(scene: Scene) -> Iterator[Finding]:
    """The line holds the lift with termination and bending taken off, by its design factor."""
    for way, device in with_line(scene):
        if isinstance(device, Winch | SelfRetractingLine):
            yield _stated(way, device)
        if not is_rated_with_device(device):
            yield _strong(way, LiftingLine.of(way, device))


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


def _strong(way: Way, line: LiftingLine) -> Finding:
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
    for way, device in with_line(scene):
        if is_rated_with_device(device):
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
