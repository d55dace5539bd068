"""A horizontal lifeline with a fallen person on it: how far it gives way, how hard it pulls.

The load hangs in the middle, the worst place; ends do not yield. The peak force counts, since the
line is at its lowest and pulls hardest when the absorber does.
"""

from __future__ import annotations

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.falling import peak_force
from planbuilder.checks.scene import Scene, Working, counted, derived
from planbuilder.checks.supports.lifeline_span import Span
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.lifeline import (
    angle_for_tension_rad,
    hanging_sag_m,
    length_for_angle_m,
    midspan_tension_n,
)
from planbuilder.haul.load import weight_n
from planbuilder.site.fall import Fall
from planbuilder.site.supports import HorizontalLifeline


class CaughtOn(Span):
    """The line with everybody who is on it caught at once: one at the peak of the arrest."""

    def __init__(self, scene: Scene, fall: Fall, line: HorizontalLifeline) -> None:
        """What is missing is remembered in *needs*."""
        super().__init__(line)
        self.scene = scene
        self.peak = peak_force(scene, fall, self.needs)
        self.people = people(scene)
        self.other = self._other(fall)
        self.own = self.own_weight()
        value = self.peak.value + (self.people.value - 1) * self.other.value + self.own.value
        of = (self.peak, self.people, self.other, self.own)
        note = "F_peak + (n - 1)*F_avg + P_l"
        self.load = derived("P", "load at midspan", value, Unit.N, note, of)
        self.low = self.sag(self.load)

    def _other(self, fall: Fall) -> Quantity:
        """What everybody but the first puts on the line: the average force, else the peak."""
        if fall.arrest == "self-retracting-line" or self.people.value == 1:
            value, note = self.peak.value, "the peak, no average is marked"
            return derived("F_avg", "force of each other user", value, Unit.N, note)
        key, force = self.scene.key("fall.absorber.force"), fall.absorber.force
        return self.needs.take("F_avg", "average force of the absorber", force, Unit.N, key)

    def tension(self) -> Working:
        """The tension along the line, which its ends take."""
        value = self.needs.work(
            lambda: midspan_tension_n(
                load_n=self.load.value, span_m=self.span.value, sag_m=self.low.value
            )
        )
        formula = "P*sqrt((S/2)**2 + sag**2)/(2*sag)"
        return Working(value, formula, (self.load, self.span, self.low))

    def drop(self) -> Quantity:
        """How far the middle goes down from where it hangs with nobody on it."""
        by_itself = self.hangs()
        value, of = self.low.value - by_itself.value, (self.low, by_itself)
        return derived("d_l", "lifeline goes down", value, Unit.M, "sag - f_0", of)

    def sag_for(self, tension_n: float) -> float:
        """The sag by itself, in m, of a line that pulls with *tension_n* in this fall."""
        length_m = length_for_angle_m(
            load_n=self.load.value,
            span_m=self.span.value,
            angle_rad=angle_for_tension_rad(load_n=self.load.value, tension_n=tension_n),
            modulus_n=self.stiffness.value,
        )
        return hanging_sag_m(
            span_m=self.span.value,
            slack_length_m=length_m,
            weight_n=weight_n(self.mass.value),
            modulus_n=self.stiffness.value,
        )


def people(scene: Scene) -> Quantity:
    """How many may fall into the line together: everybody who is inside or up there at once."""
    return counted("n", "people at once", scene.inside_at_once, scene.key("task.inside_at_once"))


def lifeline(scene: Scene, fall: Fall, needs: Needs) -> HorizontalLifeline | None:
    """The line that the fall is caught on, if it is one; another support is refused."""
    if fall.lifeline is None:
        return None
    line = scene.support(fall.lifeline)
    if isinstance(line, HorizontalLifeline):
        return line
    needs.refused = f"{line.name} is a {line.kind}, and no horizontal lifeline"
    return None


def line_drop(scene: Scene, fall: Fall, needs: Needs) -> Quantity | None:
    """How far the lifeline goes down in the fall; None where the anchor does not give way."""
    line = lifeline(scene, fall, needs)
    if line is None:
        return None
    caught = CaughtOn(scene, fall, line)
    drop = caught.drop()
    needs.also(caught.needs)
    return drop
