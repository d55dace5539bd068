"""A ring seated in the opening that carries a mast. Engineer to confirm."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.haul.collar import eccentricity_m, neck_couple_n
from planbuilder.haul.load import weight_n
from planbuilder.site.supports import OpeningCollar

ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
FITS = Rule("haul/collar-does-not-fit", "Opening in the collar's range", Weight.BLOCKS, ENGINEER)
BEARS = Rule("haul/collar-tips", "Collar on its ledge", Weight.BLOCKS, ENGINEER)
NECK = Rule("haul/collar-neck-overloaded", "Neck of the collar", Weight.BLOCKS, ENGINEER)


def check_collar(scene: Scene) -> Iterator[Finding]:
    """The opening is in the collar's range, the ring bears, the neck takes what lifts."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if not isinstance(support, OpeningCollar):
            continue
        yield from _collar_fits(way, support)
        for case, force in load_cases(way):
            yield from _collar_bears(way, support, case, force)


def _collar_fits(way: Way, support: OpeningCollar) -> Iterator[Finding]:
    opening, key = way.scene.space.opening.diameter, f"support.{support.id}"
    for amount, name, relation in (
        (support.fits_least, "fits_least", Relation.AT_LEAST),
        (support.fits_most, "fits_most", Relation.AT_MOST),
    ):
        needs = Needs()
        clear = needs.take(
            "D", "clear diameter", opening, Unit.M, way.scene.key("opening.diameter")
        )
        limit = needs.take("D_fit", name.replace("_", " "), amount, Unit.M, f"{key}.{name}")
        yield compare(
            FITS,
            way,
            needs,
            lambda: Working(clear.value, "D", (clear,)),
            relation,
            limit,
            result=("D", "clear diameter", Unit.M),
            settle_by="Use a collar made for this opening.",
            keys=(f"{key}.{name}", way.scene.key("opening.diameter")),
            about=name.replace("_", " "),
        )


def _collar_bears(
    way: Way, support: OpeningCollar, case: str, force: Quantity
) -> Iterator[Finding]:
    needs, key = Needs(), f"support.{support.id}"
    reach = needs.take(
        "a",
        "reach from the ring's middle",
        way.rig.reach if way.rig else None,
        Unit.M,
        way.key("rig.reach"),
    )
    ring = needs.take(
        "R", "mean radius of the ring", support.ring_radius, Unit.M, f"{key}.ring_radius"
    )
    mass = needs.take("m_c", "collar and mast", support.collar_mass, Unit.KG, f"{key}.collar_mass")

    def eccentric() -> Working:
        own = derived("W_c", "weight of collar and mast", weight_n(mass.value), Unit.N, "m_c*g")
        value = eccentricity_m(
            moment_nm=force.value * reach.value, vertical_n=force.value + own.value
        )
        return Working(value, "F*a/(F + W_c)", (force, reach, own, ring))

    yield compare(
        BEARS,
        way,
        needs,
        eccentric,
        Relation.LESS_THAN,
        ring,
        result=("e", f"load from the ring's middle, {case}", Unit.M),
        settle_by="Shorten the reach: beyond half the radius part of the ring lifts, at the "
        "radius the collar tips.",
        keys=(way.key("rig.reach"),),
        about=case,
        slack=ring.value / 2 if ring.value > 0 else 0.0,
    )
    if needs.missing or eccentric().value <= ring.value / 2:
        return
    neck = Needs()
    depth = neck.take("s_n", "depth of the neck", support.neck_depth, Unit.M, f"{key}.neck_depth")
    rating = neck.take(
        "R_n", "rating of the neck", support.neck_rating, Unit.N, f"{key}.neck_rating"
    )

    def couple() -> Working:
        value = neck_couple_n(moment_nm=force.value * reach.value, neck_depth_m=depth.value)
        return Working(value, "F*a/s_n", (force, reach, depth))

    yield compare(
        NECK,
        way,
        neck,
        couple,
        Relation.AT_MOST,
        rating,
        result=("R", f"couple on the neck, {case}", Unit.N),
        settle_by="Shorten the reach, or use a collar with a deeper neck.",
        keys=(f"{key}.neck_rating",),
        about=case,
    )
