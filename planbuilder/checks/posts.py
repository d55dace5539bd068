"""Posts on a platform, arms on posts, horizontal lifelines, slings on structures."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, counted, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.anchors import two_equal_legs_n
from planbuilder.haul.lifeline import elastic_sag_m, midspan_tension_n, sag_angle_rad
from planbuilder.haul.post import allowed_force_n
from planbuilder.site.supports import HorizontalLifeline, PlatformPost, PostDavitArm, Structure

STATICS = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
POST = Rule("haul/post-too-high", "Post loaded at its height", Weight.BLOCKS, STATICS)
CROWD = Rule("haul/post-too-many-people", "People tied to one post", Weight.BLOCKS, STATICS)
SLOPE = Rule("haul/post-slope", "Slope under the post's plate", Weight.BLOCKS, STATICS)
ARM = Rule("haul/arm-out-of-limits", "Reach and height of the davit arm", Weight.BLOCKS, STATICS)
SAG = Rule("haul/lifeline-too-flat", "Angle of the loaded lifeline", Weight.BLOCKS, STATICS)
ENDS = Rule("haul/lifeline-ends-overloaded", "Ends of the lifeline", Weight.BLOCKS, STATICS)
USERS = Rule("haul/lifeline-users", "People on the lifeline", Weight.BLOCKS, STATICS)
ANGLE = Rule("haul/sling-too-wide", "Angle of the sling on the structure", Weight.BLOCKS, STATICS)
SLING = Rule("haul/sling-leg-overloaded", "Legs of the sling", Weight.BLOCKS, STATICS)
WIDEST_RAD = math.radians(120)
PREFERRED_RAD = math.radians(90)


def _post_of(way: Way) -> PlatformPost | None:
    support = way.scene.support(way.rig.support) if way.rig else None
    if isinstance(support, PostDavitArm):
        support = way.scene.support(support.post)
    return support if isinstance(support, PlatformPost) else None


def check_post(scene: Scene) -> Iterator[Finding]:
    """A post's allowable load falls as its attachment gets higher; a plate has its slope."""
    for way in scene.ways():
        post = _post_of(way)
        if post is None or way.rig is None:
            continue
        key, stand = f"support.{post.id}", way.rig.stand
        for case, force in load_cases(way):
            yield _height(way, post, case, force)
        crowd = Needs()
        most = crowd.number(
            "n_max", "people the post is for", post.people_limit, Unit.COUNT, f"{key}.people_limit"
        )
        people = crowd.number(
            "n",
            "people tied to it",
            stand.people_on_post,
            Unit.COUNT,
            way.key("rig.stand.people_on_post"),
        )
        yield compare(
            CROWD,
            way,
            crowd,
            lambda: Working(people.value, "n", (people,)),
            Relation.AT_MOST,
            most,
            result=("n", "people tied to the post", Unit.COUNT),
            settle_by="Tie fewer people to this post.",
            keys=(f"{key}.people_limit",),
        )
        tilt = Needs()
        limit = tilt.take(
            "s_max", "slope the plate levels", post.slope_limit, Unit.RAD, f"{key}.slope_limit"
        )
        slope = tilt.take("s", "slope", stand.slope, Unit.RAD, way.key("rig.stand.slope"))
        yield compare(
            SLOPE,
            way,
            tilt,
            lambda: Working(slope.value, "s", (slope,)),
            Relation.AT_MOST,
            limit,
            result=("s", "slope under the plate", Unit.RAD),
            settle_by="Set the post on flatter ground, or on a plate that levels this slope.",
            keys=(f"{key}.slope_limit", way.key("rig.stand.slope")),
        )


def _height(way: Way, post: PlatformPost, case: str, force: Quantity) -> Finding:
    needs, key = Needs(), f"support.{post.id}"
    own = way.rig.stand.height if way.rig else None
    rated = needs.take("F_1", "rated load", post.rated_load, Unit.N, f"{key}.rated_load")
    at = needs.take("h_1", "height of the rating", post.rated_height, Unit.M, f"{key}.rated_height")
    height = needs.take("h_2", "height of the attachment", own, Unit.M, way.key("rig.stand.height"))
    extra = post.extension.m if post.extension else 0.0
    extension = derived("h_x", "extension", extra, Unit.M, "as the post has it")
    allowed_n = needs.work(
        lambda: allowed_force_n(
            rated_force_n=rated.value,
            rated_height_m=at.value,
            height_m=height.value + extension.value,
        )
    )
    note = "same moment at the base: F_1*h_1/(h_2 + h_x), never above F_1"
    return compare(
        POST,
        way,
        needs,
        lambda: Working(force.value, "F", (force, rated, at, height, extension)),
        Relation.AT_MOST,
        derived("F_2", "load the post takes at this height", allowed_n, Unit.N, note),
        result=("F", f"force on the post, {case}", Unit.N),
        settle_by="Attach lower on the post, take the extension off, or use a stronger post.",
        keys=(f"{key}.rated_height", way.key("rig.stand.height")),
        about=case,
    )


def check_arm(scene: Scene) -> Iterator[Finding]:
    """An arm on a post keeps to its own reach and height."""
    for way in scene.ways():
        arm = scene.support(way.rig.support) if way.rig else None
        if not isinstance(arm, PostDavitArm) or way.rig is None:
            continue
        for amount, limit, name, key in (
            (way.rig.reach, arm.reach_limit, "reach", "rig.reach"),
            (way.rig.stand.height, arm.height_limit, "height", "rig.stand.height"),
        ):
            needs = Needs()
            own = needs.take("x", name, amount, Unit.M, way.key(key))
            most = needs.take(
                "x_max", f"{name} limit of the arm", limit, Unit.M, f"support.{arm.id}.{name}_limit"
            )
            yield compare(
                ARM,
                way,
                needs,
                lambda: Working(own.value, "x", (own,)),
                Relation.AT_MOST,
                most,
                result=("x", f"{name} of the arm", Unit.M),
                settle_by=f"Set the arm to a smaller {name}.",
                keys=(way.key(key), f"support.{arm.id}.{name}_limit"),
                about=name,
            )


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
