"""The span of a horizontal lifeline, as lifts and falls on it ask for it: length, weight, sag."""

from __future__ import annotations

from functools import cached_property

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import derived
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.lifeline import (
    elastic_sag_m,
    hanging_sag_m,
    own_weight_at_midspan_n,
    slack_of_hanging_m,
)
from planbuilder.haul.load import weight_n
from planbuilder.site.supports import HorizontalLifeline


class Span:
    """The line between its ends, its length measured or worked out from its sag."""

    def __init__(self, line: HorizontalLifeline) -> None:
        """What is missing is remembered in *needs*."""
        self.line, self.needs, self.key = line, Needs(), f"support.{line.id}"
        take = self.needs.take
        self.span = take("S", "span", line.span, Unit.M, f"{self.key}.span")
        self.stiffness = take(
            "EA", "stiffness of the line", line.stiffness, Unit.N, f"{self.key}.stiffness"
        )
        self.length = self._slack_length()

    def _slack_length(self) -> Quantity:
        label, take = "length of the slack line", self.needs.take
        if self.line.sag is None:
            key = f"{self.key}.slack_length"
            return take("l_0", label, self.line.slack_length, Unit.M, key)
        sag = take("f_0", "sag by itself", self.line.sag, Unit.M, f"{self.key}.sag")
        mass = self.mass
        value = self.needs.work(
            lambda: slack_of_hanging_m(
                span_m=self.span.value,
                sag_m=sag.value,
                weight_n=weight_n(mass.value),
                modulus_n=self.stiffness.value,
            )
        )
        note = "the bow it hangs in, less its stretch by own weight"
        return derived("l_0", label, value, Unit.M, note, (sag, mass))

    @cached_property
    def mass(self) -> Quantity:
        """The mass of the line, asked for once, and only by what turns on it."""
        key = f"{self.key}.line_mass"
        return self.needs.take("m_l", "mass of the line", self.line.line_mass, Unit.KG, key)

    def own_weight(self) -> Quantity:
        """The weight of the line itself, as a load in the middle."""
        mass = self.mass
        own_n = self.needs.work(lambda: own_weight_at_midspan_n(weight_n(mass.value)))
        label = "own weight, as a load at midspan"
        return derived("P_l", label, own_n, Unit.N, "half of it", (mass,))

    def sag(self, load: Quantity) -> Quantity:
        """The sag under a load in the middle."""
        value = self.needs.work(
            lambda: elastic_sag_m(
                load_n=load.value,
                span_m=self.span.value,
                slack_length_m=self.length.value,
                modulus_n=self.stiffness.value,
            )
        )
        note = "elastic line with the load at midspan, solved"
        return derived("sag", "sag under load", value, Unit.M, note)

    def hangs(self) -> Quantity:
        """The sag of the line with nobody on it."""
        mass = self.mass
        value = self.needs.work(
            lambda: hanging_sag_m(
                span_m=self.span.value,
                slack_length_m=self.length.value,
                weight_n=weight_n(mass.value),
                modulus_n=self.stiffness.value,
            )
        )
        return derived("f_0", "sag by itself", value, Unit.M, "bow by own weight, solved", (mass,))
