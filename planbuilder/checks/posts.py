"""Horizontal lifelines, slings on structures."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Working, counted, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.anchors import two_equal_legs_n
from planbuilder.haul.lifeline import elastic_sag_m, midspan_tension_n, sag_angle_rad
from planbuilder.site.supports import HorizontalLifeline, Structure

STATICS = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
SAG = Rule("haul/lifeline-too-flat", "Angle of the loaded lifeline", Weight.BLOCKS, STATICS)
ENDS = Rule("haul/lifeline-ends-overloaded", "Ends of the lifeline", Weight.BLOCKS, STATICS)
USERS = Rule("haul/lifeline-users", "People on the lifeline", Weight.BLOCKS, STATICS)
ANGLE = Rule("haul/sling-too-wide", "Angle of the sling on the structure", Weight.BLOCKS, STATICS)
SLING = Rule("haul/sling-leg-overloaded", "Legs of the sling", Weight.BLOCKS, STATICS)
WIDEST_RAD = math.radians(120)
PREFERRED_RAD = math.radians(90)


def check_lifeline(scene: Scene) -> Iterator[Finding]:
    """A flat line multiplies the load on its ends; engineer to confirm each horizontal lifeline."""
    for way in scene.ways():
        line = scene.support(way.rig.support) if way.rig else None
        if not isinstance(line, HorizontalLifeline):
            continue
        key = f"support.{line.id}"
        for case, force in load_cases(way):
            needs = Needs()
            span = needs.take("S", "span", line.span, Unit.M, f"{key}.span")
            slack = needs.take(
                "l_0", "length of the slack line", line.slack_length, Unit.M, f"{key}.slack_length"
            )
            stiff = needs.take(
                "EA", "stiffness of the line", line.stiffness, Unit.N, f"{key}.stiffness"
            )
            sag = _sag(needs, force, span, slack, stiff)
            yield compare(
                SAG,
                way,
                needs,
                lambda: Working(
                    sag_angle_rad(span_m=span.value, sag_m=sag.value),
                    "theta",
                    (
                        derived(
                            "theta",
                            "angle of the loaded line",
                            sag_angle_rad(span_m=span.value, sag_m=sag.value),
                            Unit.RAD,
                            "atan(2*sag/S)",
                        ),
                        sag,
                        span,
                    ),
                ),
                Relation.AT_LEAST,
                scene.defaults.of("least-sag-angle"),
                result=("theta", f"angle of the loaded line, {case}", Unit.RAD),
                settle_by="Give the line more sag.",
                keys=(f"{key}.slack_length",),
                about=case,
            )
            ends = Needs()
            ends.also(needs)
            rating = ends.take(
                "T_end", "rating of each end", line.end_rating, Unit.N, f"{key}.end_rating"
            )
            yield compare(
                ENDS,
                way,
                ends,
                lambda: Working(
                    midspan_tension_n(load_n=force.value, span_m=span.value, sag_m=sag.value),
                    "F*sqrt((S/2)**2 + sag**2)/(2*sag)",
                    (force, span, sag),
                ),
                Relation.AT_MOST,
                rating,
                result=("T", f"tension at the ends, {case}", Unit.N),
                settle_by="Give the line more sag, or use stronger ends: they take the tension, "
                "not the load.",
                keys=(f"{key}.end_rating",),
                about=case,
            )
        users = Needs()
        most = users.number(
            "n_max", "users the line was designed for", line.users, Unit.COUNT, f"{key}.users"
        )
        inside = counted(
            "n", "people at once", scene.inside_at_once, scene.key("task.inside_at_once")
        )
        yield compare(
            USERS,
            way,
            users,
            lambda: Working(inside.value, "n", (inside,)),
            Relation.AT_MOST,
            most,
            result=("n", "people on the lifeline", Unit.COUNT),
            settle_by="One person at a time, or a line designed for more by a qualified person.",
            keys=(f"{key}.users",),
        )


def _sag(
    needs: Needs, force: Quantity, span: Quantity, slack: Quantity, stiff: Quantity
) -> Quantity:
    value = needs.work(
        lambda: elastic_sag_m(
            load_n=force.value,
            span_m=span.value,
            slack_length_m=slack.value,
            modulus_n=stiff.value,
        )
    )
    note = "elastic line with the load at midspan, solved"
    return derived("sag", "sag under load", value, Unit.M, note)


def check_sling(scene: Scene) -> Iterator[Finding]:
    """The wider a sling, the harder its legs pull: at 120 degrees each carries the whole load."""
    for way in scene.ways():
        frame = scene.support(way.rig.support) if way.rig else None
        if not isinstance(frame, Structure):
            continue
        if frame.sling_angle is None and frame.leg_rating is None:
            continue  # an eye or a beam without a sling of two legs
        key, wide = f"support.{frame.id}", Needs()
        angle = wide.take(
            "alpha", "angle between the legs", frame.sling_angle, Unit.RAD, f"{key}.sling_angle"
        )
        widest = Quantity(
            symbol="alpha_max",
            label="widest sling",
            value=WIDEST_RAD,
            unit=Unit.RAD,
            source=Source(
                mark=Mark.DERIVED, document="Statics", note="each leg then carries the load"
            ),
        )
        yield compare(
            ANGLE,
            way,
            wide,
            lambda: Working(angle.value, "alpha", (angle,)),
            Relation.AT_MOST,
            widest,
            result=("alpha", "angle of the sling", Unit.RAD),
            settle_by="Use a longer sling: 90 degrees or less.",
            keys=(f"{key}.sling_angle",),
            slack=WIDEST_RAD - PREFERRED_RAD,
        )
        for case, force in load_cases(way):
            needs = Needs()
            needs.also(wide)
            rating = needs.take(
                "T_leg", "rating of a leg", frame.leg_rating, Unit.N, f"{key}.leg_rating"
            )

            def working() -> Working:
                value = two_equal_legs_n(load_n=force.value, between_rad=angle.value)
                pull = derived("T_1", "pull in each leg", value, Unit.N, "F/(2*cos(alpha/2))")
                return Working(value, "T_1", (pull, force, angle))

            yield compare(
                SLING,
                way,
                needs,
                working,
                Relation.AT_MOST,
                rating,
                result=("T", f"pull in each leg of the sling, {case}", Unit.N),
                settle_by="Use a longer or stronger sling.",
                keys=(f"{key}.leg_rating",),
                about=case,
            )
