"""A sling on a structure: how wide, what each leg pulls, what happens when one leg fails."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.checks.supports.sling_legs import SlingLegs
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
from planbuilder.haul.anchors import two_equal_legs_n
from planbuilder.site.supports import Joint, Structure

STATICS = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
ANGLE = Rule("haul/sling-too-wide", "Angle of the sling on the structure", Weight.BLOCKS, STATICS)
EQUAL = Rule("haul/sling-legs-assumed-equal", "Legs of the sling stated", Weight.WARNS, STATICS)
LEG = Rule("haul/sling-leg-overloaded", "Legs of the sling", Weight.BLOCKS, STATICS)
DROP = Rule(
    "haul/sling-drop-too-hard", "Drop when one leg of the sling fails", Weight.BLOCKS, STATICS
)
WIDEST_RAD = math.radians(120)
PREFERRED_RAD = math.radians(90)
WIDEST = Quantity(
    symbol="alpha_max",
    label="widest sling",
    value=WIDEST_RAD,
    unit=Unit.RAD,
    source=Source(mark=Mark.DERIVED, document="Statics", note="each leg then carries the load"),
)


def check_sling(scene: Scene) -> Iterator[Finding]:
    """The wider a sling, the harder its legs pull: at 120 degrees each carries the whole load."""
    for way in scene.ways():
        frame = scene.support(way.rig.support) if way.rig else None
        if not isinstance(frame, Structure):
            continue
        if frame.sling_angle is None and frame.leg_rating is None and not frame.leg:
            continue  # an eye or a beam without a sling of two legs
        yield _angle(way, frame)
        yield _equal(way, frame)
        for case, force in load_cases(way):
            yield _leg(way, frame, case, force)
        if frame.leg and frame.joint is Joint.SLIDING:
            yield from _drop(way, frame)


def _between(way: Way, frame: Structure) -> tuple[Quantity, Needs]:
    """The widest angle between two legs, stated or from the directions of the legs."""
    key = f"support.{frame.id}"
    if frame.leg:
        legs = SlingLegs(way, frame)
        return legs.between, legs.needs
    needs = Needs()
    angle = needs.take(
        "alpha", "angle between the legs", frame.sling_angle, Unit.RAD, f"{key}.sling_angle"
    )
    return angle, needs


def _angle(way: Way, frame: Structure) -> Finding:
    angle, needs = _between(way, frame)
    key = f"support.{frame.id}.{'leg' if frame.leg else 'sling_angle'}"
    return compare(
        ANGLE,
        way,
        needs,
        lambda: Working(angle.value, "alpha", (angle,)),
        Relation.AT_MOST,
        WIDEST,
        result=("alpha", "angle of the sling", Unit.RAD),
        settle_by="Use a longer sling: 90 degrees or less.",
        keys=(key,),
        slack=WIDEST_RAD - PREFERRED_RAD,
    )


def _equal(way: Way, frame: Structure) -> Finding:
    words = "only an angle is stated: both legs are taken as alike, and the pull as between them"
    if frame.leg:
        words = f"{len(frame.leg)} legs, each stated"
    return answer(
        EQUAL,
        way,
        Needs(),
        lambda: Stated(holds=bool(frame.leg), because=words),
        settle_by="State each leg (lean, length, stiffness) and the joint: a short stiff leg takes "
        "the most, and a pull off the middle can slacken a leg.",
        keys=(f"support.{frame.id}.leg",),
    )


def _leg(way: Way, frame: Structure, case: str, force: Quantity) -> Finding:
    needs, key = Needs(), f"support.{frame.id}"
    if frame.leg:
        legs = SlingLegs(way, frame)
        pull = legs.pull(force)
        needs.also(legs.needs)
    else:
        angle, wide = _between(way, frame)
        needs.also(wide)
        value = needs.work(lambda: two_equal_legs_n(load_n=force.value, between_rad=angle.value))
        pull = derived(
            "T_1", "pull in each leg", value, Unit.N, "F/(2*cos(alpha/2))", (force, angle)
        )
    rating = needs.take("T_leg", "rating of a leg", frame.leg_rating, Unit.N, f"{key}.leg_rating")
    return compare(
        LEG,
        way,
        needs,
        lambda: Working(pull.value, "T_1", (pull, *pull.of)),
        Relation.AT_MOST,
        rating,
        result=("T", f"pull in the hardest leg of the sling, {case}", Unit.N),
        settle_by=f"Use a longer sling, or legs rated for {_kilonewtons(pull.value)} kN each.",
        keys=(f"{key}.leg_rating",),
        about=case,
    )


def _drop(way: Way, frame: Structure) -> Iterator[Finding]:
    """The connector slides to the end of the sling: body and leg that is left take the shock."""
    key, legs = f"support.{frame.id}", SlingLegs(way, frame)
    shock = legs.shock()
    body, limit = Needs(), way.scene.limits.of("fall.arrest_force")
    body.also(legs.needs)
    leg = Needs()
    leg.also(legs.needs)
    rating = leg.take("T_leg", "rating of a leg", frame.leg_rating, Unit.N, f"{key}.leg_rating")
    for needs, relation, most, about in (
        (body, limit.relation, limit.quantity, "on the body"),
        (leg, Relation.AT_MOST, rating, "on the leg left"),
    ):
        yield compare(
            DROP,
            way,
            needs,
            lambda: Working(shock.value, "W + sqrt(W*(W + 2*EA*h/L))", shock.of),
            relation,
            most,
            result=("F_drop", f"shock {about}", Unit.N),
            settle_by=f"Tie stopper knots (stopped_at) {legs.drop_within(most.value)}, or use "
            "fixed legs.",
            keys=(f"{key}.leg", f"{key}.joint"),
            about=about,
        )


def _kilonewtons(force_n: float) -> str:
    return f"{math.ceil(force_n / 100) / 10:.1f}" if math.isfinite(force_n) else "?"
