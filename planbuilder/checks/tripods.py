"""Does a tripod stand: legs that push, feet that press and are held together, their chain."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import edge_load_factor, load_cases
from planbuilder.checks.head_pull import Pulled, is_winch, pulled
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.tripod_legs import AS_STANDS, Legs, tripods
from planbuilder.findings import (
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
from planbuilder.haul.tripod import chain_tension_n, leg_buckling_n, winch_leg_n
from planbuilder.haul.tube import tube_second_moment_m4

STATICS = Source(mark=Mark.DERIVED, document="Statics")
ENGINEER = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
LEGS = Rule("haul/tripod-leg-overloaded", "Legs of the tripod", Weight.BLOCKS, STATICS)
BOWS = Rule("haul/tripod-leg-bows", "Legs of the tripod as tubes", Weight.BLOCKS, ENGINEER)
LIFTS = Rule("haul/tripod-foot-lifts", "Every foot of the tripod presses", Weight.BLOCKS, STATICS)
SLIDES = Rule("haul/tripod-feet-slide", "Feet of the tripod held together", Weight.BLOCKS, STATICS)
CHAIN = Rule("haul/tripod-chain-overloaded", "Chain between the feet", Weight.BLOCKS, STATICS)


class _Case:
    """One load case on a tripod, and what it needs."""

    def __init__(self, legs: Legs, case: str, force: Quantity) -> None:
        self.legs, self.case, self.needs = legs, case, Needs()
        self.needs.also(legs.needs)
        way, rig = legs.way, legs.way.rig
        if rig and is_winch(way):
            self.needs.say(rig.winch_on_leg, way.key("rig.winch_on_leg"))
        self.pull: Pulled = pulled(way, case, force, self.needs)
        self.on_leg = bool(rig and rig.winch_on_leg) and is_winch(way) and case == "LC1"

    def push(self) -> Working:
        """The push in the hardest leg, with the winch's line where it runs down that leg."""
        most_n = max(one.push_n for one in self.legs.hardest(self.pull))
        push = derived("C_leg", "push in the hardest leg from the head", most_n, Unit.N, AS_STANDS)
        line = self._line()
        value = winch_leg_n(leg_force_n=most_n, line_force_n=line.value)
        size = (self.legs.length, self.legs.circle)
        return Working(value, "C_leg + T_leg", (push, line, *size, *self.pull.inputs))

    def _line(self) -> Quantity:
        label = "pull of a winch on the leg"
        if not self.on_leg:
            return derived("T_leg", label, 0.0, Unit.N, "no winch on a leg")
        edges, eta = edge_load_factor(self.legs.way), self._eta
        value = self.pull.force.value * (edges.value if edges else 1.0) / eta.value
        note = "F*k_edge/eta: behind the head sheave the line runs down that leg"
        of = (eta, *((edges,) if edges else ()))
        return derived("T_leg", label, value, Unit.N, note, of)

    @property
    def _eta(self) -> Quantity:
        return self.legs.way.scene.defaults.of("pulley-efficiency")


def _cases(legs: Legs) -> Iterator[_Case]:
    for case, force in load_cases(legs.way):
        yield _Case(legs, case, force)


def check_legs(scene: Scene) -> Iterator[Finding]:
    """The leg that is pushed hardest, with the winch's pull where it hangs on a leg."""
    for way, legs in tripods(scene):
        key = f"support.{legs.support.id}.leg_rating"
        for one in _cases(legs):
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
        for one in _cases(legs):
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


def _bowing(case: _Case, factor: Quantity) -> tuple[Quantity, tuple[str, ...]]:
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


def check_feet_press(scene: Scene) -> Iterator[Finding]:
    """No foot lifts, with the feet at their own heights and the line as it leans or is led off."""
    for way, legs in tripods(scene):
        one = next(_cases(legs))

        def working() -> Working:
            least_n = min(each.vertical_n for each in legs.lightest(one.pull))
            least = derived("R_min", "least push of the ground", least_n, Unit.N, AS_STANDS)
            return Working(least_n, "R_min", (least, legs.length, legs.circle, *one.pull.inputs))

        yield compare(
            LIFTS,
            way,
            one.needs,
            working,
            Relation.MORE_THAN,
            derived("R_0", "a foot that lifts", 0.0, Unit.N, "it can push, not pull"),
            result=("R", "push of the ground on the lightest foot", Unit.N),
            settle_by="Level the feet, spread the legs evenly under the load, keep the line plumb, "
            "or lead it down a leg.",
            keys=(way.key("rig.foot_levels"), way.key("rig.lead_distance")),
        )


def check_feet_held(scene: Scene) -> Iterator[Finding]:
    """A chain or strap holds the feet together, or the ground's friction alone would have to.

    A side pull at the head slides the tripod with its chain: friction holds that in any case.
    """
    for way, legs in tripods(scene):
        key, support, one = f"support.{legs.support.id}", legs.support, next(_cases(legs))
        if support.chain and not one.needs.missing and one.pull.plumb:
            yield answer(
                SLIDES,
                way,
                Needs(),
                lambda: Stated(holds=True, because="a chain holds the feet"),
                settle_by="Nothing; fit the chain before the tripod is loaded.",
                keys=(f"{key}.chain",),
            )
        else:
            yield _held_by_friction(legs, one)
        if support.chain:
            yield from _chain(way, legs)


def _held_by_friction(legs: Legs, case: _Case) -> Finding:
    support, key, needs = legs.support, f"support.{legs.support.id}", case.needs
    needs.say(support.chain, f"{key}.chain")
    grip = needs.number(
        "mu", "friction under the feet", support.foot_friction, Unit.RATIO, f"{key}.foot_friction"
    )
    settle_by = "Fit the chain between the feet."
    if support.chain:
        settle_by = "Lead the line nearer to the middle or down a leg, or guy the head."
    return compare(
        SLIDES,
        legs.way,
        needs,
        lambda: _side_grip(case) if support.chain else _friction(case),
        Relation.AT_MOST,
        grip,
        result=("mu_need", "friction needed under the feet", Unit.RATIO),
        settle_by=settle_by,
        keys=(f"{key}.chain", f"{key}.foot_friction"),
    )


def _friction(case: _Case) -> Working:
    """Outward push over the push on the ground, at the foot where that is the most."""
    legs = case.legs
    if min(one.vertical_n for one in legs.lightest(case.pull)) <= 0:
        raise ValueError("a foot lifts, and friction holds nothing there")
    worst = max(legs.hardest(case.pull), key=lambda one: one.thrust_n / one.vertical_n)
    note = "foot that needs most, feet where they stand"
    out = derived("H_f", "outward push of the foot", worst.thrust_n, Unit.N, note)
    down = derived("V_f", "push of the foot on the ground", worst.vertical_n, Unit.N, note)
    inputs = (out, down, legs.length, legs.circle, *case.pull.inputs)
    return Working(worst.thrust_n / worst.vertical_n, "H_f/V_f", inputs)


def _side_grip(case: _Case) -> Working:
    """Side pull over the push of all feet, which a chain does not help."""
    pull = case.pull.at(case.legs.head[2])
    side = derived("H", "side pull at the head", pull.level_n, Unit.N, "of lean and lead")
    down = derived("V", "pull down at the head", pull.down_n, Unit.N, "weight of legs left out")
    inputs = (side, down, case.legs.length, case.legs.circle, *case.pull.inputs)
    return Working(pull.level_n / pull.down_n, "H/V", inputs)


def _chain(way: Way, legs: Legs) -> Iterator[Finding]:
    key = f"support.{legs.support.id}.chain_rating"
    if legs.support.chain_rating is None:
        return  # part of a marked tripod: its rating covers the chain it came with
    for one in _cases(legs):
        rating = one.needs.take(
            "T_max", "rating of the chain", legs.support.chain_rating, Unit.N, key
        )

        def working() -> Working:
            most_n = max(each.thrust_n for each in legs.hardest(one.pull))
            note = "foot that pushes most, feet where they stand"
            thrust = derived("H_f", "outward push of the foot", most_n, Unit.N, note)
            value = chain_tension_n(thrust_n=most_n)
            return Working(
                value, "H_f/sqrt(3)", (thrust, legs.circle, legs.length, *one.pull.inputs)
            )

        yield compare(
            CHAIN,
            way,
            one.needs,
            working,
            Relation.AT_MOST,
            rating,
            result=("T_ch", f"tension of the chain, {one.case}", Unit.N),
            settle_by="Fit a stronger chain.",
            keys=(key,),
            about=one.case,
        )
