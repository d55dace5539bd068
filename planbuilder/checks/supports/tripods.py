"""Do the legs of a tripod hold what pushes them: by their marked rating, and as tubes."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import compare
from planbuilder.checks.scene import Scene, derived
from planbuilder.checks.supports.tripod_legs import LegCase, leg_cases, tripods
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.tripod import leg_buckling_n
from planbuilder.haul.tube import tube_second_moment_m4

STATICS = Source(mark=Mark.DERIVED, document="Statics")
ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
LEGS = Rule("haul/tripod-leg-overloaded", "Legs of the tripod", Weight.BLOCKS, STATICS)
BOWS = Rule("haul/tripod-leg-bows", "Legs of the tripod as tubes", Weight.BLOCKS, ENGINEER)


def check_legs(scene: Scene) -> Iterator[Finding]:
    """The leg that is pushed hardest, with the winch's pull where it hangs on a leg."""
    for way, legs in tripods(scene):
        key = f"support.{legs.support.id}.leg_rating"
        for one in leg_cases(legs):
            rating = one.needs.take(
                "C_max", "rating of a leg", legs.support.leg_rating, Unit.N, key
            )
            yield compare(
                LEGS,
                way,
                one.needs,
                one.push,
                Relation.AT_MOST,
                rating,
                result=("C", f"push in the hardest leg, {one.case}", Unit.N),
                settle_by="Use a stronger tripod, level the feet, lead the line nearer to the "
                "middle, or take the winch off the leg.",
                keys=(key,),
                about=one.case,
            )


def check_leg_tube(scene: Scene) -> Iterator[Finding]:
    """Where the tube of a leg is stated, it does not bow; the marked rating is asked besides."""
    factor = scene.defaults.of("buckling-factor")
    for way, legs in tripods(scene):
        support = legs.support
        if not (support.leg_tube or support.leg_wall or support.leg_elasticity):
            continue
        for one in leg_cases(legs):
            holds, keys = _bowing(one, factor)
            yield compare(
                BOWS,
                way,
                one.needs,
                one.push,
                Relation.AT_MOST,
                holds,
                result=("C", f"push in the hardest leg, {one.case}", Unit.N),
                settle_by="Use a tripod with a stouter or shorter leg; have an engineer confirm.",
                keys=keys,
                about=one.case,
            )


def _bowing(case: LegCase, factor: Quantity) -> tuple[Quantity, tuple[str, ...]]:
    """The push at which the leg may be loaded before it bows, and the keys it rests on."""
    support, needs = case.legs.support, case.needs
    key = f"support.{support.id}"
    outer = needs.take("D_t", "tube of the leg", support.leg_tube, Unit.M, f"{key}.leg_tube")
    wall = needs.take("t_w", "wall of the tube", support.leg_wall, Unit.M, f"{key}.leg_wall")
    young = needs.take(
        "E", "elasticity of the leg", support.leg_elasticity, Unit.PA, f"{key}.leg_elasticity"
    )
    length = case.legs.length
    holds_n = needs.work(
        lambda: leg_buckling_n(
            elasticity_pa=young.value,
            second_moment_m4=tube_second_moment_m4(outer_m=outer.value, wall_m=wall.value),
            length_m=length.value,
            safety_factor=factor.value,
        )
    )
    note = "pi^2*E*I/(L^2*SF), pinned ends, thinnest tube over the whole length"
    parts = (outer, wall, young, length, factor)
    holds = derived("C_bow", "push that bows the leg", holds_n, Unit.N, note, parts)
    return holds, (f"{key}.leg_tube", f"{key}.leg_wall", f"{key}.leg_elasticity")
