"""Sleeves bolted to a floor or a wall. Engineer to confirm."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.load import weight_n
from planbuilder.haul.sleeves import (
    bolt_shear_n,
    bolt_use,
    bracket_bolt_tension_n,
    breakout_n,
    embedment_needed_m,
    floor_bolt_tension,
    offset_moment_nm,
    swung_bolt_tension_n,
)
from planbuilder.site.supports import FloorSleeve, WallSleeve

BOLTS = Rule(
    "haul/bolts-overused",
    "Bolts of the sleeve",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="ACI 318-19", note="engineer to confirm"),
)
BREAKOUT = Rule(
    "haul/concrete-breakout",
    "Cone of concrete at the hardest bolt",
    Weight.WARNS,
    Source(
        mark=Mark.RECALLED,
        document="ACI 318-19",
        clause="17.6.2",
        note="screening only; engineer to confirm",
    ),
)

FLAT_M2 = 1e-6  # twice the area of a triangle of bolts: less is one line


def _sleeves(scene: Scene) -> Iterator[tuple[Way, FloorSleeve | WallSleeve]]:
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, FloorSleeve | WallSleeve):
            yield way, support


def check_bolts(scene: Scene) -> Iterator[Finding]:
    """The bolts of a floor or wall sleeve in tension and shear together."""
    limit = scene.defaults.of("bolt-use")
    for way, support in _sleeves(scene):
        key = f"support.{support.id}"
        for case, force in load_cases(way):
            bolts = _Bolts(way, support, force)
            yield compare(
                BOLTS,
                way,
                bolts.needs,
                bolts.working,
                Relation.AT_MOST,
                limit,
                result=("u", f"use of the hardest bolt, {case}", Unit.RATIO),
                settle_by="Shorten the reach, use more or stronger bolts; engineer to confirm.",
                keys=(f"{key}.bolt_tension", way.key("rig.reach")),
                about=case,
            )


def check_breakout(scene: Scene) -> Iterator[Finding]:
    """Where embedment and concrete are stated, the cone round a bolt is screened too."""
    for way, support in _sleeves(scene):
        if support.embedment is None and support.concrete_strength is None:
            continue
        for case, force in load_cases(way):
            yield _breakout(_Bolts(way, support, force), case)


def _breakout(bolts: _Bolts, case: str) -> Finding:
    support, key, needs = bolts.support, f"support.{bolts.support.id}", Needs()
    needs.also(bolts.needs)
    deep = needs.take(
        "h_ef", "embedment of the bolts", support.embedment, Unit.M, f"{key}.embedment"
    )
    strength = needs.take(
        "f_c", "concrete strength", support.concrete_strength, Unit.PA, f"{key}.concrete_strength"
    )
    factor = bolts.way.scene.defaults.of("breakout-factor")
    pull_n = needs.work(lambda: bolts.tension().value)
    cone_n = needs.work(
        lambda: breakout_n(concrete_strength_pa=strength.value, embedment_m=deep.value)
    )
    deeper_m = needs.work(
        lambda: embedment_needed_m(
            pull_n=factor.value * pull_n, concrete_strength_pa=strength.value
        )
    )
    deeper = f"{math.ceil(deeper_m * 1000)} mm" if math.isfinite(deeper_m) else "more"
    return compare(
        BREAKOUT,
        bolts.way,
        needs,
        lambda: Working(factor.value * pull_n, "k_b*T_b", (factor, bolts.tension(), deep)),
        Relation.AT_MOST,
        derived("N_b", "cone of concrete", cone_n, Unit.N, "7*sqrt(f_c)*h_ef**1.5, N, MPa, mm"),
        result=("N", f"pull of the hardest bolt with its factor, {case}", Unit.N),
        settle_by=f"Embed the bolts {deeper} or more, or shorten the reach; edges, neighbours and "
        "cracks take more: engineer to confirm.",
        keys=(f"{key}.embedment", f"{key}.concrete_strength"),
        about=case,
    )


class _Bolts:
    """A bolted sleeve with one load at its reach."""

    def __init__(self, way: Way, support: FloorSleeve | WallSleeve, force: Quantity) -> None:
        key, self.support, self.force, self.needs = f"support.{support.id}", support, force, Needs()
        self.way = way
        take, reach = self.needs.take, way.rig.reach if way.rig else None
        self.reach = take("a", "reach", reach, Unit.M, way.key("rig.reach"))
        self.tension_limit = take(
            "T_a", "allowed tension of a bolt", support.bolt_tension, Unit.N, f"{key}.bolt_tension"
        )
        self.shear = take(
            "V_a", "allowed shear of a bolt", support.bolt_shear, Unit.N, f"{key}.bolt_shear"
        )
        if isinstance(support, FloorSleeve):
            self.needs.say(support.bolts if _spread(support) else None, f"{key}.bolts")
            self.toe = take("toe", "middle to compression edge", support.toe, Unit.M, f"{key}.toe")
        else:
            self.spacing = take(
                "s",
                "spacing of the brackets",
                support.bracket_spacing,
                Unit.M,
                f"{key}.bracket_spacing",
            )
            self.needs.say(support.bolts_per_bracket, f"{key}.bolts_per_bracket")
            self.mass = take(
                "m_s", "sleeve and mast", support.sleeve_mass, Unit.KG, f"{key}.sleeve_mass"
            )
            self.offset = take(
                "e_s", "sleeve off the wall", support.sleeve_offset, Unit.M, f"{key}.sleeve_offset"
            )

    def working(self) -> Working:
        """The use of the hardest bolt."""
        pull, across = self.tension(), self._across()
        value = bolt_use(
            tension_n=pull.value,
            allowed_tension_n=self.tension_limit.value,
            shear_n=across.value,
            allowed_shear_n=self.shear.value,
        )
        inputs = (pull, self.tension_limit, across, self.shear, self.force, self.reach)
        return Working(value, "T_b/T_a + V_b/V_a", inputs)

    def tension(self) -> Quantity:
        """The tension of the hardest bolt."""
        if isinstance(self.support, FloorSleeve):
            pull_n = self._floor_pull_n(self.force.value * self.reach.value)
            note = "the hardest of all directions of the arm, centroid and toe model"
        else:
            own = (weight_n(self.mass.value), self.offset.value)
            pull_n = bracket_bolt_tension_n(
                moment_nm=offset_moment_nm([(self.force.value, self.reach.value), own]),
                spacing_m=self.spacing.value,
                bolts_in_top_bracket=self.support.bolts_per_bracket or 1,
            )
            note = "couple of load and own weight over the bolts of the upper bracket"
        return derived("T_b", "tension of the hardest bolt", pull_n, Unit.N, note)

    def _across(self) -> Quantity:
        """The shear of a bolt: a floor plate with its load plumb has none."""
        shear_n = 0.0
        if isinstance(self.support, WallSleeve):
            shear_n = bolt_shear_n(
                shear_n=self.force.value + weight_n(self.mass.value),
                bolts=2 * (self.support.bolts_per_bracket or 1),
            )
        return derived("V_b", "shear of a bolt", shear_n, Unit.N, "shared by all bolts")

    def _floor_pull_n(self, moment_nm: float) -> float:
        """Centroid model with the arm turned all round, toe model along either axis."""
        assert isinstance(self.support, FloorSleeve)  # noqa: S101 - asked by the caller
        bolts, axial_n = _bolts(self.support), self.force.value
        pulls_n = [swung_bolt_tension_n(bolts=bolts, moment_nm=moment_nm, axial_n=axial_n)]
        for axis in (0, 1):
            for way in (1, -1):
                both = floor_bolt_tension(
                    offsets_m=[way * one[axis] for one in bolts],
                    moment_nm=moment_nm,
                    axial_n=axial_n,
                    toe_m=self.toe.value,
                )
                pulls_n.append(both.larger_n)
        return max(pulls_n)


def _bolts(support: FloorSleeve) -> list[tuple[float, float]]:
    return [(x.m, y.m) for x, y in support.bolts or ()]


def _spread(support: FloorSleeve) -> bool:
    """Whether the bolts resist a moment in every direction; in one line they do not."""
    bolts = _bolts(support)
    if not bolts:
        return False
    (x0, y0), *rest = bolts
    return any(
        abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)) > FLAT_M2
        for (x1, y1), (x2, y2) in itertools.combinations(rest, 2)
    )
