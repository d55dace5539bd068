"""Feet of a davit's base on the ground: what each presses with."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from planbuilder.checks.asking import answer
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived, output
from planbuilder.checks.supports.davit_base import Base, davits, sloped
from planbuilder.checks.supports.head_pull import Pulled, pulled
from planbuilder.findings import (
    Compared,
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
from planbuilder.haul.feet import FootReactions, foot_reactions
from planbuilder.haul.legs import GROUNDS, TipsError, pad_area_m2, pad_pressure_pa
from planbuilder.site.standing import Ground
from planbuilder.site.supports import LeggedBaseDavit

STATICS = Source(mark=Mark.DERIVED, document="Statics")
PADS = Rule(
    "haul/pad-pressure",
    "Feet of the base on the ground",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="IBC 2012", clause="Table 1806.2"),
)
_GROUNDS = {
    Ground.ROCK: "crystalline-rock",
    Ground.SEDIMENTARY_ROCK: "sedimentary-rock",
    Ground.GRAVEL: "gravel",
    Ground.SAND: "sand",
    Ground.CLAY: "clay-or-silt",
    Ground.SOFT: "very-soft-clay-or-loose-fill",
    Ground.CONCRETE: "sand",  # a slab is judged as if it lay on sand and spread nothing
}


_swept = lru_cache(maxsize=32)(foot_reactions)  # asked for the pressure, and for the pad it needs


def check_pads(scene: Scene) -> Iterator[Finding]:
    """The foot that carries most, on uneven ground, does not press through the ground."""
    for way, support in davits(scene):
        yield _pressure(way, support)


def _pressure(way: Way, support: LeggedBaseDavit) -> Finding:
    base, key, (case, force) = sloped(way, support), f"support.{support.id}", next(load_cases(way))
    needs = base.needs
    pull = pulled(way, case, force, needs)
    width = needs.take("b", "pad width", support.pad_width, Unit.M, f"{key}.pad_width")
    length = needs.take("l", "pad length", support.pad_length, Unit.M, f"{key}.pad_length")
    ground = way.rig.stand.ground if way.rig else None
    needs.say(ground, way.key("rig.stand.ground"))
    allowed = _bearing(ground)

    def working() -> Working:
        feet = _reactions(base, pull)
        note = "any sharing of uneven feet, over the permitted swing, level or on the slope"
        most = derived("R_max", "greatest foot reaction", feet.greatest_n, Unit.N, note)
        note = "rigid base on springs alike: an understatement, for comparison"
        alike = derived("R_el", "greatest foot reaction, elastic", feet.elastic_n, Unit.N, note)
        value = pad_pressure_pa(reaction_n=feet.greatest_n, area_m2=width.value * length.value)
        inputs = (most, alike, width, length, base.slope, *pull.inputs)
        return Working(value, "R_max/(b*l)", inputs)

    def outcome() -> Compared | Stated:
        label = "pressure under the foot that carries most"
        try:
            return working().against(Relation.AT_MOST, allowed, result=output("q", label, Unit.PA))
        except TipsError as error:
            return Stated(holds=False, because=str(error))

    return answer(
        PADS,
        way,
        needs,
        outcome,
        settle_by=_larger_pads(base, pull, allowed),
        keys=(f"{key}.pad_width", way.key("rig.stand.ground")),
    )


def _bearing(ground: Ground | None) -> Quantity:
    bearing = GROUNDS[_GROUNDS[ground]] if ground else GROUNDS["sand"]
    return Quantity(
        symbol="q_a",
        label=f"bearing pressure of {ground or 'the ground'}",
        value=bearing.bearing_pa,
        unit=Unit.PA,
        source=Source(mark=Mark.READ, document="IBC 2012", clause="Table 1806.2"),
    )


def _reactions(base: Base, pull: Pulled) -> FootReactions:
    """On the slope or level, whichever presses a foot harder: a slope must not ease a pad."""
    head = pull.at(base.hook.value)
    both = (base.tilt(head.lean_rad, level=level) for level in (True, False))
    found = [_swept(base.davit(), tilt=one, line_force_n=head.size_n) for one in both]
    return max(found, key=lambda one: one.greatest_n)


def _larger_pads(base: Base, pull: Pulled, allowed: Quantity) -> str:
    """The pad that this ground asks for."""
    words = "Put larger pads or boards under the feet, or find firmer ground."
    if base.needs.missing:
        return words
    try:
        greatest_n = _reactions(base, pull).greatest_n
    except TipsError:
        return "Keep the base from tipping first: a lifted foot presses nothing."
    except ValueError:
        return words
    area_m2 = pad_area_m2(reaction_n=greatest_n, bearing_pa=allowed.value)
    side_mm = math.ceil(math.sqrt(area_m2) * 1000)
    return (
        f"Put pads of at least {side_mm} mm x {side_mm} mm under the feet, stiff enough to spread "
        "the load, or find firmer ground."
    )
