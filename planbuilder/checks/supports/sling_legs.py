"""The legs of a sling as stated: angle between them, hardest pull, shock when one of them fails."""

from __future__ import annotations

import math

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import weight
from planbuilder.checks.scene import Way, derived
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.anchors import (
    FixedLeg,
    leg_direction,
    sliding_drop_m,
    sliding_leg_n,
    swung_legs_n,
    two_legs_n,
    widest_between_rad,
)
from planbuilder.haul.shock import largest_slack_m, series_stiffness_n_per_m, slack_drop_force_n
from planbuilder.site.supports import Joint, SlingLeg, Structure

PAIR = 2


class SlingLegs:
    """The legs of a structure's sling, and what the site file does not say of them."""

    def __init__(self, way: Way, frame: Structure) -> None:
        """Every leg has a direction; what else is asked for depends on the joint."""
        self.way, self.frame, self.needs = way, frame, Needs()
        self.key = f"support.{frame.id}"
        self.legs = tuple(frame.leg)
        self.needs.say(frame.joint, f"{self.key}.joint")
        turned = [one.towards is not None for one in self.legs]
        if any(turned) and not all(turned):
            self.needs.missing.append(f"{self.key}.leg.towards")

    @property
    def between(self) -> Quantity:
        """The widest angle between two legs."""
        value = self.needs.work(lambda: widest_between_rad(self._directions()))
        return derived(
            "alpha", "widest angle between two legs", value, Unit.RAD, "from their directions"
        )

    def pull(self, force: Quantity) -> Quantity:
        """The hardest pull in any leg."""
        if self.frame.joint is Joint.SLIDING:
            return self._sliding(force)
        self.needs.say(self.frame.pull_swings, f"{self.key}.pull_swings")
        return self._pair(force) if len(self.legs) == PAIR else self._many(force)

    def _directions(self) -> list[tuple[float, ...]]:
        return [
            leg_direction(
                lean_rad=one.lean.rad, toward_rad=one.towards.rad if one.towards else None
            )
            for one in self.legs
        ]

    def _leans(self) -> tuple[float, float]:
        """How far the two legs lean from the load line, to its two sides."""
        if len(self.legs) != PAIR:
            raise ValueError(f"a sliding connector has two legs, got {len(self.legs)}")
        if any(leg.towards is not None for leg in self.legs):
            raise ValueError("two legs and the load lie in one plane: leave towards out")
        self._directions()  # refuses a leg that does not come from above
        one, other = (leg.lean.rad for leg in self.legs)
        if one * other > 0:
            raise ValueError("two legs must lean to both sides of the load: give one lean a minus")
        return abs(one), abs(other)

    def _pair(self, force: Quantity) -> Quantity:
        """Two fixed legs: statics tells their pulls; a pull that swings can be all on one leg."""

        def hardest() -> float:
            first, second = self._leans()
            still_n = max(two_legs_n(load_n=force.value, first_rad=first, second_rad=second))
            return max(still_n, force.value) if self.frame.pull_swings else still_n

        note = "two fixed legs, law of sines"
        note += "; the pull swings, so that one leg may take all of it" * bool(
            self.frame.pull_swings
        )
        return derived(
            "T_1", "pull in the hardest leg", self.needs.work(hardest), Unit.N, note, (force,)
        )

    def _measured(self) -> None:
        """Where legs share or stretch, each needs its length and its stiffness."""
        for number, one in enumerate(self.legs, 1):
            for name in ("length", "stiffness"):
                self.needs.say(getattr(one, name), f"{self.key}.leg.{number}.{name}")

    def _many(self, force: Quantity) -> Quantity:
        """Three fixed legs or more share by stiffness; a pull that leans loads one side more."""
        self._measured()
        lean = self.way.scene.defaults.of("planned-lean")
        lean_rad = lean.value if self.frame.pull_swings else 0.0

        def hardest() -> float:
            legs = [
                FixedLeg(stiffness_n_per_m=_stiffness_n_per_m(one), direction=direction)
                for one, direction in zip(self.legs, self._directions(), strict=True)
            ]
            return max(swung_legs_n(legs=legs, load_n=force.value, lean_rad=lean_rad))

        note = "fixed legs by stiffness" + (", the pull leaning as planned" * bool(lean_rad))
        of = (force, lean) if lean_rad else (force,)
        return derived("T_1", "pull in the hardest leg", self.needs.work(hardest), Unit.N, note, of)

    def _sliding(self, force: Quantity) -> Quantity:
        mu = self.needs.number(
            "mu",
            "friction of the sliding connector",
            self.frame.joint_friction,
            Unit.RATIO,
            f"{self.key}.joint_friction",
        )
        value = self.needs.work(
            lambda: sliding_leg_n(
                load_n=force.value, friction=mu.value, between_rad=sum(self._leans())
            )
        )
        note = "sliding connector, the worst sharing that its friction allows"
        return derived("T_1", "pull in the harder leg", value, Unit.N, note, (force, mu))

    def shock(self) -> Quantity:
        """The shock when the worse of the two legs fails; only the sling stretches.

        With the line wound in, near the end of the lift, there is no length of it left to give.
        """
        self._measured()
        load = weight(self.way)

        def worst() -> float:
            self._leans()
            return max(one.value for one in self._shocks(load))

        value = self.needs.work(worst)
        if self.needs.missing or self.needs.refused:
            return derived("F_drop", "shock", value, Unit.N, "not known")
        return max(self._shocks(load), key=lambda one: one.value)

    def _shocks(self, load: Quantity) -> list[Quantity]:
        one, other = self.legs
        return [_shock(load, one, other), _shock(load, other, one)]

    def drop_within(self, limit_n: float) -> str:
        """How far the connector may drop at most, in words."""
        if self.needs.missing or self.needs.refused:
            return "closer to the connector"
        load, stiffness = weight(self.way), max(map(_stiffness_n_per_m, self.legs))
        try:
            most_m = largest_slack_m(
                weight_n=load.value, stiffness_n_per_m=stiffness, force_limit_n=limit_n
            )
        except ValueError:  # twice the weight is too much already: no drop at all
            most_m = 0.0
        return f"so that the connector drops {math.floor(most_m * 100) / 100:.2f} m at most"


def _measures(leg: SlingLeg) -> tuple[float, float]:
    """Length in m and modulus in N of a leg, which were asked for before."""
    if leg.length is None or leg.stiffness is None:
        raise ValueError("a leg needs its length and its stiffness")
    return leg.length.m, leg.stiffness.n


def _stiffness_n_per_m(leg: SlingLeg) -> float:
    length_m, modulus_n = _measures(leg)
    return series_stiffness_n_per_m([(length_m, modulus_n)])


def _shock(load: Quantity, held: SlingLeg, failed: SlingLeg) -> Quantity:
    """The stiffer of the two legs stands for the whole sling: that strikes harder."""
    (held_m, one_n), (failed_m, other_n) = _measures(held), _measures(failed)
    slid_m = min(failed.stopped_at.m, failed_m) if failed.stopped_at else failed_m
    lean_rad = abs(held.lean.rad)
    drop_m = sliding_drop_m(held_leg_m=held_m, failed_leg_m=slid_m, held_lean_rad=lean_rad)
    modulus_n, length_m = max(one_n, other_n), held_m + slid_m
    value = slack_drop_force_n(
        weight_n=load.value,
        stiffness_n_per_m=series_stiffness_n_per_m([(length_m, modulus_n)]),
        slack_m=drop_m,
    )
    parts = (
        load,
        derived("EA", "stiffness of the sling", modulus_n, Unit.N, "the stiffer leg's"),
        derived("h", "drop of the connector", drop_m, Unit.M, "to the end of the sling or knot"),
        derived("L", "sling that is left", length_m, Unit.M, "leg that holds and what slid"),
    )
    return derived("F_drop", "shock", value, Unit.N, "undamped, line wound in", parts)
