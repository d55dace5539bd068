"""The arrest itself: free fall, absorber, force on the body, height of the device, mass."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.falling import (
    answered,
    free_fall,
    measure,
    opening,
    peak_force,
    user_mass,
    user_weight,
)
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.scene import Scene, Working, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)

LAW = "29 CFR 1910.140"
FREE_FALL = Rule(
    "clearance/free-fall-too-long",
    "Free fall on the lanyard",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(2)(ii)"),
)
BOTTOM = Rule(
    "clearance/absorber-bottoms-out",
    "Absorber opens no farther than it can",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, document="Statics", note="energy of the fall"),
)
SLOWING = Rule(
    "clearance/deceleration-too-long",
    "Deceleration on the absorber",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(1)(ii)"),
)
FORCE = Rule(
    "clearance/arrest-force-too-high",
    "Force of the arrest on the body",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(1)(i)"),
)
ANCHOR = Rule(
    "clearance/retractor-below-dring",
    "Self-retracting line anchored above the D-ring",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="ANSI/ASSP Z359.14"),
)
USER = Rule(
    "clearance/user-too-heavy",
    "Mass of user and tools for fall arrest",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(1)(v)"),
)
RETRACTOR = "self-retracting-line"


def check_free_fall(scene: Scene) -> Iterator[Finding]:
    """The free fall before a lanyard, or a grab, holds is within the limit."""
    fall = scene.space.fall
    if fall is None or fall.arrest == RETRACTOR:
        return
    needs, limit = Needs(), scene.limits.of("fall.free_fall")
    falling = free_fall(scene, fall, needs)
    hangs = ("grab", "grab_height") if fall.arrest == "rope-grab" else ("anchor", "anchor_height")

    def settle() -> str:
        height = getattr(fall, hangs[1])
        lowest_m = height.m + falling.value - limit.quantity.value
        return (
            f"Put the {hangs[0]} at least {up(lowest_m)} m above the surface, "
            "or use a shorter connector."
        )

    yield answered(
        FREE_FALL,
        scene,
        needs,
        lambda: falling.against(
            limit.relation, limit.quantity, result=output("FF", "free fall", Unit.M)
        ),
        settle_by=settle,
        keys=(scene.key(f"fall.{hangs[1]}"), scene.key("fall.connector")),
    )


def check_absorber(scene: Scene) -> Iterator[Finding]:
    """The absorber stops the heaviest user before it is all out, and within the rule's distance."""
    fall = scene.space.fall
    if fall is None or fall.arrest == RETRACTOR:
        return
    key, limit = scene.key("fall.absorber.travel"), scene.limits.of("fall.deceleration")
    for rule in (BOTTOM, SLOWING):
        needs = Needs()
        opens, most = opening(scene, fall, needs), limit.quantity
        if rule is BOTTOM:
            most = needs.take("X_max", "longest opening", fall.absorber.travel, Unit.M, key)
        yield answered(
            rule,
            scene,
            needs,
            _held(opens, most),
            settle_by=_absorbs(rule, opens, most),
            keys=(key, scene.key("fall.absorber.force"), scene.key("fall.anchor_height")),
        )


def _held(opens: Working, most: Quantity) -> Callable[[], Compared]:
    result = output("X", "opening of the absorber", Unit.M)
    return lambda: opens.against(Relation.AT_MOST, most, result=result)


def _absorbs(rule: Rule, opens: Working, most: Quantity) -> Callable[[], str]:
    """The free fall that the absorber could take: the opening grows as the free fall does."""

    def settle() -> str:
        falling = next(one for one in opens.inputs if one.symbol == "FF")
        share = most.value / opens.value if opens.value > 0 else 1.0
        longer = f", or use an absorber that opens {up(opens.value)} m" if rule is BOTTOM else ""
        return (
            f"Shorten the free fall to {down(falling.value * min(1.0, share))} m by a higher "
            f"anchor or a shorter connector{longer}."
        )

    return settle


def check_force(scene: Scene) -> Iterator[Finding]:
    """What the device or the absorber may put on the body at its peak is within the limit."""
    fall = scene.space.fall
    if fall is None:
        return
    needs, limit = Needs(), scene.limits.of("fall.arrest_force")
    peak = peak_force(scene, fall, needs)
    yield answered(
        FORCE,
        scene,
        needs,
        lambda: Working(peak.value, peak.symbol, (peak,)).against(
            limit.relation, limit.quantity, result=output("F", "force of the arrest", Unit.N)
        ),
        settle_by=lambda: f"Use equipment marked for at most {limit.quantity.written} on the body.",
        keys=(peak.source.key,),
    )


def check_retractor_anchor(scene: Scene) -> Iterator[Finding]:
    """A self-retracting line hangs from above the D-ring; below it, it is another device."""
    fall = scene.space.fall
    if fall is None or fall.arrest != RETRACTOR:
        return
    needs = Needs()
    anchor = measure(scene, needs, "h_A", "anchor height", fall.anchor_height, "anchor_height")
    dring = measure(scene, needs, "h_D0", "D-ring height", fall.dring_height, "dring_height")
    yield answered(
        ANCHOR,
        scene,
        needs,
        lambda: Working(anchor.value, "h_A", (anchor,)).against(
            Relation.MORE_THAN, dring, result=output("h", "anchor height", Unit.M)
        ),
        settle_by=lambda: (
            f"Hang the device above the user's D-ring, which is {dring.value:.2f} m up, or use one "
            "rated for lower anchors and have its clearance worked out by a qualified person."
        ),
        keys=(scene.key("fall.anchor_height"), scene.key("fall.dring_height")),
    )


def check_user_mass(scene: Scene) -> Iterator[Finding]:
    """The heaviest user with tools stays below the mass for which the arrest criteria hold."""
    fall = scene.space.fall
    if fall is None:
        return
    limit, result = scene.limits.of("fall.user_mass"), output("m", "user with tools", Unit.KG)
    keys = tuple(f"person.{one.id}.mass" for one in scene.entrants)
    yield answered(
        USER,
        scene,
        Needs(),
        lambda: user_mass(scene).against(limit.relation, limit.quantity, result=result),
        settle_by=lambda: (
            f"Use equipment whose maker states it for {math.ceil(user_mass(scene).value)} kg, and "
            "have a qualified person modify the criteria."
        ),
        keys=keys,
    )
    if fall.device is not None:
        yield _device_takes_user(scene, fall.device, keys)


def _device_takes_user(scene: Scene, device_id: str, keys: tuple[str, ...]) -> Finding:
    device, needs, key = scene.device(device_id), Needs(), f"device.{device_id}.rated_load"
    rated = needs.take("F_rated", f"rated load of {device.name}", device.rated_load, Unit.N, key)
    result = output("W_user", "weight of user with tools", Unit.N)
    return answered(
        USER,
        scene,
        needs,
        lambda: user_weight(scene).against(Relation.AT_MOST, rated, result=result),
        settle_by=lambda: (
            f"Use a device rated for {math.ceil(user_weight(scene).value / 10) / 100:.2f} kN or "
            f"more instead of {device.name}."
        ),
        keys=(key, *keys),
        about=device.name,
    )
