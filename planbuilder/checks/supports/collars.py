"""A ring seated in the opening that carries a mast. Engineer to confirm."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.supports.head_pull import Pulled, pulled
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
from planbuilder.haul.collar import (
    KERN_SHARE,
    Contact,
    contact,
    eccentricity_m,
    neck_couple_n,
    peak_bearing_n_per_m,
)
from planbuilder.haul.load import weight_n
from planbuilder.haul.mast import mast_moment_nm
from planbuilder.site.supports import OpeningCollar

ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
FITS = Rule("haul/collar-does-not-fit", "Opening in the collar's range", Weight.BLOCKS, ENGINEER)
BEARS = Rule("haul/collar-tips", "Collar on its ledge", Weight.BLOCKS, ENGINEER)
NARROW = Rule("haul/ledge-too-narrow", "Ledge under the collar", Weight.BLOCKS, ENGINEER)
LEDGE = Rule("haul/ledge-overloaded", "Pressure on the collar's ledge", Weight.BLOCKS, ENGINEER)
NECK = Rule("haul/collar-neck-overloaded", "Neck of the collar", Weight.BLOCKS, ENGINEER)


def check_collar(scene: Scene) -> Iterator[Finding]:
    """The opening is in the collar's range, the ring bears, the neck takes what lifts."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if not isinstance(support, OpeningCollar):
            continue
        yield from _collar_fits(way, support)
        yield _ledge_wide(way)
        for case, force in load_cases(way):
            ring = _Ring(way, support, case, force)
            yield from _collar_bears(ring)
            yield from _ledge_bears(ring)


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


class _Ring:
    """One load case on the ring: what presses on it, and how far from its middle."""

    def __init__(self, way: Way, support: OpeningCollar, case: str, force: Quantity) -> None:
        self.way, self.support, self.case, self.needs = way, support, case, Needs()
        take, key, rig = self.needs.take, f"support.{support.id}", way.rig
        reach, hook = (rig.reach, rig.hook_height) if rig else (None, None)
        label = "reach from the ring's middle"
        self.reach = take("a", label, reach, Unit.M, way.key("rig.reach"))
        self.hook = take("z_h", "hook height", hook, Unit.M, way.key("rig.hook_height"))
        self.ring = take(
            "R", "mean radius of the ring", support.ring_radius, Unit.M, f"{key}.ring_radius"
        )
        self.mass = take(
            "m_c", "collar and mast", support.collar_mass, Unit.KG, f"{key}.collar_mass"
        )
        self.pull: Pulled = pulled(way, case, force, self.needs)

    @property
    def moment_nm(self) -> float:
        """Moment at the ring of the line's pull at the boom tip, with its lean."""
        pull = self.pull.at(self.hook.value)
        return mast_moment_nm(
            line_force_n=pull.size_n,
            lean_rad=pull.lean_rad,
            reach_m=self.reach.value,
            boom_weight_n=0.0,  # the maker's mass is of collar and mast together, in the middle
            boom_arm_m=0.0,
            head_height_m=self.hook.value,
        )

    @property
    def vertical_n(self) -> float:
        """What presses on the ring."""
        return self.pull.at(self.hook.value).down_n + weight_n(self.mass.value)

    @property
    def offset_m(self) -> float:
        """Where it presses, from the middle."""
        return eccentricity_m(moment_nm=self.moment_nm, vertical_n=self.vertical_n)

    @property
    def contact(self) -> Contact:
        """How much of the ring bears."""
        return contact(eccentricity_m=self.offset_m, radius_m=self.ring.value)

    @property
    def parts(self) -> tuple[Quantity, ...]:
        """What moment and pressing force are worked out from."""
        pull = self.pull.at(self.hook.value)
        return (
            derived("V", "pull down at the boom tip", pull.down_n, Unit.N, "of all strands"),
            derived("H", "side pull at the boom tip", pull.level_n, Unit.N, "of lean and lead"),
            self.reach,
            self.hook,
            *self.pull.inputs,
        )

    @property
    def own(self) -> Quantity:
        """The weight of collar and mast."""
        return derived(
            "W_c", "weight of collar and mast", weight_n(self.mass.value), Unit.N, "m_c*g"
        )


def _collar_bears(ring: _Ring) -> Iterator[Finding]:
    radius = ring.ring

    def offset() -> Working:
        return Working(ring.offset_m, "(V*a + H*z_h)/(V + W_c)", (*ring.parts, ring.own, radius))

    yield compare(
        BEARS,
        ring.way,
        ring.needs,
        offset,
        Relation.LESS_THAN,
        radius,
        result=("e", f"load from the ring's middle, {ring.case}", Unit.M),
        settle_by="Shorten the reach: beyond half the radius part of the ring lifts, at the "
        "radius the collar tips.",
        keys=(ring.way.key("rig.reach"),),
        about=ring.case,
        slack=radius.value * KERN_SHARE if radius.value > 0 else 0.0,
    )
    if not ring.needs.missing and ring.contact is not Contact.FULL:
        yield _neck(ring)


def _neck(ring: _Ring) -> Finding:
    support, key, neck = ring.support, f"support.{ring.support.id}", Needs()
    depth = neck.take("s_n", "depth of the neck", support.neck_depth, Unit.M, f"{key}.neck_depth")
    rating = neck.take(
        "R_n", "rating of the neck", support.neck_rating, Unit.N, f"{key}.neck_rating"
    )

    def couple() -> Working:
        value = neck_couple_n(moment_nm=ring.moment_nm, neck_depth_m=depth.value)
        return Working(value, "(V*a + H*z_h)/s_n", (*ring.parts, depth))

    return compare(
        NECK,
        ring.way,
        neck,
        couple,
        Relation.AT_MOST,
        rating,
        result=("R", f"couple on the neck, {ring.case}", Unit.N),
        settle_by="Shorten the reach, or use a collar with a deeper neck.",
        keys=(f"{key}.neck_rating",),
        about=ring.case,
    )


def _ledge_wide(way: Way) -> Finding:
    needs, key = Needs(), way.key("rig.stand.ledge_width")
    stand = way.rig.stand if way.rig else None
    width = needs.take("b_l", "ledge", stand.ledge_width if stand else None, Unit.M, key)
    return compare(
        NARROW,
        way,
        needs,
        lambda: Working(width.value, "b_l", (width,)),
        Relation.AT_LEAST,
        way.scene.defaults.of("ledge-width"),
        result=("b_l", "width of the ledge under the ring", Unit.M),
        settle_by="Use a collar that reaches a wider ledge, or another support.",
        keys=(key,),
    )


def _ledge_bears(ring: _Ring) -> Iterator[Finding]:
    """Where somebody says what the ledge takes: the ring's hardest pressure on it."""
    stand = ring.way.rig.stand if ring.way.rig else None
    if stand is None or stand.ledge_stress is None:
        return
    needs, key = Needs(), ring.way.key("rig.stand.ledge_stress")
    needs.also(ring.needs)
    takes = needs.take("p_a", "pressure the ledge takes", stand.ledge_stress, Unit.PA, key)
    wide = ring.way.key("rig.stand.ledge_width")
    width = needs.take("b_l", "ledge", stand.ledge_width, Unit.M, wide)

    def pressure() -> Working:
        peak = peak_bearing_n_per_m(
            vertical_n=ring.vertical_n, moment_nm=ring.moment_nm, radius_m=ring.ring.value
        )
        note = f"ring in {ring.contact} contact, N for each metre of ring; no help from the neck"
        each = derived("q_max", "hardest bearing of the ring", peak, Unit.N, note)
        return Working(peak / width.value, "q_max/b_l", (each, width, ring.own, *ring.parts))

    yield compare(
        LEDGE,
        ring.way,
        needs,
        pressure,
        Relation.AT_MOST,
        takes,
        result=("p", f"pressure of the ring on its ledge, {ring.case}", Unit.PA),
        settle_by="Shorten the reach, or seat the ring on a wider or sounder ledge.",
        keys=(key, wide),
        about=ring.case,
    )
