"""What each part of a rig carries and holds, in words, and where on the diagram that is said."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from planbuilder.checks.casualty import dynamic_factor, weight
from planbuilder.checks.lifting.lines import LiftingLine
from planbuilder.checks.lifting.reeving import line_parts
from planbuilder.checks.scene import Way
from planbuilder.findings import Compared, Finding, Stated, Unit
from planbuilder.site.rig import Rig
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.shapes import Words

Figures = Callable[[Compared], tuple[str, str]]  # result and limit, cut as everywhere in the plan
MOST_EDGES = 3
MOST_TOLD = 12  # from more parts on only the factors find room beside the diagram
NO_BACKUP = "No backup is planned."
LINK, LINE, REDIRECT = "haul/link-too-weak", "haul/line-too-weak", "haul/redirect-overloaded"


class Where(StrEnum):
    """A place on the diagram, from the casualty to the ground."""

    CASUALTY = "casualty"
    LINK = "link"
    EDGE = "edge"
    LINE = "line"
    SHEAVE = "sheave"
    REDIRECT = "redirect"
    DEVICE = "device"
    BACKUP = "backup"
    HEAD = "head"
    GROUND = "ground"


# What is asked of a support and not named here stands at its foot.
_PLACES = {
    LINK: Where.LINK,
    LINE: Where.LINE,
    REDIRECT: Where.REDIRECT,
    "haul/pulley-overloaded": Where.SHEAVE,
    "haul/device-overloaded": Where.DEVICE,
    "haul/backup-overloaded": Where.BACKUP,
    "haul/support-overloaded": Where.HEAD,
    "haul/two-lines-on-one-head": Where.HEAD,
    "haul/head-cannot-arrest": Where.HEAD,
    "haul/lifeline-ends-overloaded": Where.HEAD,
    "haul/sling-leg-overloaded": Where.HEAD,
    "haul/sling-drop-too-hard": Where.HEAD,
}


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of one part, and where; *part* names it where several stand there.

    *reserve* is how many times over it holds, nought where that is not known.
    """

    where: Where
    part: str
    text: str
    fails: bool = False
    reserve: float = math.inf


@dataclass(frozen=True, slots=True)
class Rigged:
    """A way with its rig, the reader's words, its parts from casualty to ground, the weakest."""

    way: Way
    rig: Rig
    words: Words
    figures: Figures
    parts: tuple[Finding, ...]
    weakest: Finding | None

    def told(self) -> tuple[Told, ...]:
        """Everything that the diagram says."""
        return (*self._loaded(), *(self._part(one) for one in self.parts))

    def tension_n(self) -> float:
        """The pull on what hangs below the head while the casualty is lifted, jerk included."""
        return weight(self.way).value * dynamic_factor(self.way).value

    def _loaded(self) -> Iterator[Told]:
        """The load, the edges that it is pulled over, and the names of what has no rule."""
        load = self.words(weight(self.way).value, Unit.N)
        pulled = self.words(self.tension_n(), Unit.N)
        said = f"Weight on the line {load}; in the lift, with its jerk, {pulled}"
        yield Told(Where.CASUALTY, "", said)
        edges = [f"{one.material} {one.turn.written}" for one in self.rig.edges or ()]
        if edges:
            more = f" and {len(edges) - MOST_EDGES} more" if len(edges) > MOST_EDGES else ""
            yield Told(Where.EDGE, "", f"Edges: {', '.join(edges[:MOST_EDGES])}{more}")
        device = self.way.scene.device(self.rig.device)
        if not any(one.rule.id == LINE for one in self.parts):
            strands = f"Line in {line_parts(device).value:g} part"
            yield Told(Where.LINE, "", f"{strands}: rated with its device")

    def _part(self, one: Finding) -> Told:
        mark = Marks((one,), self.way.name).of(one.rule.id)
        name = one.about.partition(", ")[2]
        text = mark.after(self._says(one, name))
        if one is self.weakest:
            text += " \N{BLACK LEFT-POINTING TRIANGLE} WEAKEST"
        reserve = one.outcome.reserve if isinstance(one.outcome, Compared) else 0.0
        return Told(_PLACES.get(one.rule.id, Where.GROUND), name, text, mark.fails, reserve)

    def _says(self, one: Finding, name: str) -> str:
        """The part, what it carries, and what it holds or which factor is required."""
        what = self._named(one, name)
        if isinstance(one.outcome, Stated):
            return f"{what}: as stated"
        if not isinstance(one.outcome, Compared):
            return what
        carries, limit = self.figures(one.outcome)
        pulls = self._pulls(one, one.outcome)
        if one.outcome.result.unit is Unit.RATIO:
            return f"{what}: {pulls}factor {carries}, required {limit}"
        return f"{what}: carries {carries}, holds {limit}"

    def _named(self, one: Finding, name: str) -> str:
        device = self.way.scene.device(self.rig.device)
        match one.rule.id:
            case "haul/link-too-weak":
                return name
            case "haul/line-too-weak":
                return f"Line in {line_parts(device).value:g} part"
            case "haul/redirect-overloaded":
                turn = self.rig.redirect[int(name.rpartition(" ")[2]) - 1].angle.written
                return f"{name}, {turn} between its strands"
            case "haul/device-overloaded":
                return device.name
            case _:
                return one.rule.title + (f", {name}" if name else "")

    def _pulls(self, one: Finding, outcome: Compared) -> str:
        """The tension and the breaking strength behind a design factor."""
        breaks = [each.value for each in outcome.inputs if each.symbol == "F_break"]
        if not breaks or len(self.parts) > MOST_TOLD:
            return ""
        tension_n = self.tension_n()
        if one.rule.id == LINE:
            device = self.way.scene.device(self.rig.device)
            tension_n = LiftingLine.of(self.way, device).tension_n()
        pulled, broken = (self.words(value, Unit.N) for value in (tension_n, breaks[0]))
        return f"pulled by {pulled}, breaks at {broken}, "
