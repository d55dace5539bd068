"""Does a tripod stand on its feet: every foot presses, friction or a chain holds them together."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.supports.tripod_legs import AS_STANDS, LegCase, Legs, leg_cases, tripods
from planbuilder.findings import Finding, Mark, Relation, Rule, Source, Stated, Unit, Weight
from planbuilder.haul.tripod import chain_tension_n

STATICS = Source(mark=Mark.DERIVED, document="Statics")
LIFTS = Rule("haul/tripod-foot-lifts", "Every foot of the tripod presses", Weight.BLOCKS, STATICS)
SLIDES = Rule("haul/tripod-feet-slide", "Feet of the tripod held together", Weight.BLOCKS, STATICS)
CHAIN = Rule("haul/tripod-chain-overloaded", "Chain between the feet", Weight.BLOCKS, STATICS)


def check_feet_press(scene: Scene) -> Iterator[Finding]:
    """No foot lifts, with the feet at their own heights and the line as it leans or is led off."""
    for way, legs in tripods(scene):
        one = next(leg_cases(legs))

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
        key, support, one = f"support.{legs.support.id}", legs.support, next(leg_cases(legs))
        if support.chain and one.pull.plumb:
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


def _held_by_friction(legs: Legs, case: LegCase) -> Finding:
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


def _friction(case: LegCase) -> Working:
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


def _side_grip(case: LegCase) -> Working:
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
    for one in leg_cases(legs):
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
