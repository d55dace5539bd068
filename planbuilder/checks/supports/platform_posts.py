"""Posts on a platform and the arms on them. Engineer to confirm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.post import allowed_force_n, base_moment_nm, highest_attachment_m
from planbuilder.site.standing import Stand
from planbuilder.site.supports import PlatformPost, PostDavitArm

STATICS = Source(mark=Mark.DERIVED, document="Statics", note="engineer to confirm")
POST = Rule("haul/post-too-high", "Post loaded at its height", Weight.BLOCKS, STATICS)
CROWD = Rule("haul/post-too-many-people", "People tied to one post", Weight.BLOCKS, STATICS)
SLOPE = Rule("haul/post-slope", "Slope under the post's plate", Weight.BLOCKS, STATICS)
ARM = Rule("haul/arm-out-of-limits", "Reach and height of the davit arm", Weight.BLOCKS, STATICS)


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
        for case, force in load_cases(way):
            yield _height(way, post, case, force)
        yield _crowd(way, post, way.rig.stand)
        yield _tilt(way, post, way.rig.stand)


def _crowd(way: Way, post: PlatformPost, stand: Stand) -> Finding:
    key, crowd = f"support.{post.id}", Needs()
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
    return compare(
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


def _tilt(way: Way, post: PlatformPost, stand: Stand) -> Finding:
    key, tilt = f"support.{post.id}", Needs()
    limit = tilt.take(
        "s_max", "slope the plate levels", post.slope_limit, Unit.RAD, f"{key}.slope_limit"
    )
    slope = tilt.take("s", "slope", stand.slope, Unit.RAD, way.key("rig.stand.slope"))
    return compare(
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

    def working() -> Working:
        # Lower than its rating a post holds no more than that: bolts or welds may govern there.
        arm_m = max(height.value + extension.value, at.value)
        value = base_moment_nm(force_n=force.value, height_m=arm_m) / at.value
        return Working(value, "F*max(h_2 + h_x, h_1)/h_1", (force, at, height, extension))

    lowest = (force, rated, at, height, extension)
    return compare(
        POST,
        way,
        needs,
        working,
        Relation.AT_MOST,
        rated,
        result=("F_eq", f"force at the rated height, same moment at the base, {case}", Unit.N),
        settle_by=_attach_lower(needs, *lowest),
        keys=(f"{key}.rated_height", way.key("rig.stand.height")),
        about=case,
    )


def _attach_lower(
    needs: Needs,
    force: Quantity,
    rated: Quantity,
    at: Quantity,
    height: Quantity,
    extension: Quantity,
) -> str:
    """How low the line has to be attached, and what the post takes as it is."""
    stronger = "use a post with a higher rating"
    if needs.missing or force.value > rated.value or not force.value > 0:
        return f"{stronger[0].upper()}{stronger[1:]}: no height is low enough for this force."
    rating = {"rated_force_n": rated.value, "rated_height_m": at.value}
    now_m = height.value + extension.value
    highest_m = highest_attachment_m(**rating, force_n=force.value) - extension.value
    takes_n = allowed_force_n(**rating, height_m=now_m)
    without = " with the extension on" if extension.value else ""
    lower = f"attach at most at {math.floor(highest_m * 100) / 100:.2f} m{without}"
    if highest_m <= 0:
        lower = "take the extension off"
    return (
        f"{lower[0].upper()}{lower[1:]}, or {stronger}. At {now_m:.2f} m it takes "
        f"{math.floor(takes_n)} N."
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
