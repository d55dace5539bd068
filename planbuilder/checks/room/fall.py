"""Fall arrest: free fall, clearance below, anchor above the D-ring, mass of the user."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.casualty import GRAVITY, body_mass, largest
from planbuilder.checks.scene import Scene, Working, absent, derived, finding, output, stated
from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    lanyard_clearance_below_anchor_m,
    lanyard_free_fall_m,
    retractor_clearance_m,
    retractor_distance_m,
)
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.equipment import SelfRetractingLine
from planbuilder.site.space import Fall, HazardKind

LAW = "29 CFR 1910.140"
CLEARANCE = Rule(
    "clearance/fall-hits-something",
    "Clearance below for fall arrest",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(2)(ii)"),
)
FREE_FALL = Rule(
    "clearance/free-fall-too-long",
    "Free fall on the lanyard",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=LAW, clause="(d)(2)(ii)"),
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
_MEASURE = "Measure anchor height, D-ring height, offset and the distance to whatever is hit first."


def _is_asked(scene: Scene) -> bool:
    hazards = {one.kind for one in scene.space.hazard}
    return scene.space.fall is not None or HazardKind.SUSPENSION in hazards


def check_clearance(scene: Scene) -> Iterator[Finding]:
    """A fallen person comes to rest above whatever would be hit first."""
    if not _is_asked(scene):
        return
    fall, below_key = scene.space.fall, scene.key("fall.below")
    needed = _clearance_needed(scene, fall) if fall else (scene.key("fall"),)
    keys = needed if isinstance(needed, tuple) else ()
    keys += () if fall and fall.below else (below_key,)
    outcome: Compared | Missing
    if isinstance(needed, tuple) or fall is None or fall.below is None:
        outcome = Missing(because="fall arrest is planned on without its measures")
    else:
        what = fall.hits_first or "the lower level"
        outcome = needed.against(
            Relation.AT_MOST,
            stated("h_below", f"free height down to {what}", fall.below, Unit.M, below_key),
            result=output("C_W", "clearance needed below the walking surface", Unit.M),
            slack=scene.defaults.of("clearance-warning").value,
        )
    yield finding(
        CLEARANCE,
        outcome,
        settle_by=f"{_MEASURE} A higher anchor or a shorter connector needs less.",
        keys=keys or (below_key, scene.key("fall.anchor_height")),
        space=scene.space,
    )


def _clearance_needed(scene: Scene, fall: Fall) -> Working | tuple[str, ...]:
    if fall.arrest == "lanyard":
        return _lanyard(scene, fall)
    return _retractor(scene, fall)


def _body(scene: Scene) -> tuple[Quantity, ...]:
    defaults = scene.defaults
    return (
        largest(scene, "stature"),
        defaults.of("dring-ratio"),
        defaults.of("fall-stretch"),
        defaults.of("fall-margin"),
    )


def _lanyard(scene: Scene, fall: Fall) -> Working | tuple[str, ...]:
    missing = absent(connector=fall.connector, anchor_height=fall.anchor_height)
    if fall.connector is None or fall.anchor_height is None:
        return tuple(scene.key(f"fall.{one}") for one in missing)
    connector = scene.given("l", "connector", fall.connector, Unit.M, "fall.connector")
    anchor = scene.given("h_A", "anchor height", fall.anchor_height, Unit.M, "fall.anchor_height")
    deceleration = scene.limits.of("fall.deceleration").quantity
    decelerating = derived(
        "DD", deceleration.label, deceleration.value, Unit.M, f"limit of {deceleration.written}"
    )
    stature, ratio, stretch, margin = _body(scene)
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=connector.value,
        deceleration_m=decelerating.value,
        harness_stretch_m=stretch.value,
        hanging_dring_m=ratio.value * stature.value,
        margin_m=margin.value,
    )
    value = clearance_below_surface_m(below_anchor_m=below_anchor_m, anchor_height_m=anchor.value)
    formula = "l + DD + h_sf + k_D*H + SM - h_A"
    return Working(
        value, formula, (connector, decelerating, stretch, ratio, stature, margin, anchor)
    )


def _retractor(scene: Scene, fall: Fall) -> Working | tuple[str, ...]:
    device = scene.device(fall.device) if fall.device else None
    arrest = device.arrest_distance if isinstance(device, SelfRetractingLine) else None
    missing = absent(
        anchor_height=fall.anchor_height, dring_height=fall.dring_height, offset=fall.offset
    )
    keys = tuple(scene.key(f"fall.{one}") for one in missing)
    if arrest is None:
        keys += (f"device.{device.id}.arrest_distance" if device else scene.key("fall.device"),)
    if keys or not (fall.anchor_height and fall.dring_height and fall.offset and arrest and device):
        return keys
    anchor = scene.given("h_A", "anchor height", fall.anchor_height, Unit.M, "fall.anchor_height")
    dring = scene.given("h_D0", "D-ring height", fall.dring_height, Unit.M, "fall.dring_height")
    offset = scene.given("x", "offset from plumb", fall.offset, Unit.M, "fall.offset")
    locking = stated("a", "arrest distance", arrest, Unit.M, f"device.{device.id}.arrest_distance")
    stature, ratio, stretch, margin = _body(scene)
    line_out_m = retractor_distance_m(
        anchor_height_m=anchor.value, dring_height_m=dring.value, offset_m=offset.value
    )
    value = retractor_clearance_m(
        line_out_m=line_out_m,
        arrest_m=locking.value,
        harness_stretch_m=stretch.value,
        hanging_dring_m=ratio.value * stature.value,
        margin_m=margin.value,
        anchor_height_m=anchor.value,
    )
    formula = "sqrt(x**2 + (h_A - h_D0)**2) + a + h_sf + k_D*H + SM - h_A"
    return Working(
        value, formula, (anchor, dring, offset, locking, stretch, ratio, stature, margin)
    )


def check_free_fall(scene: Scene) -> Iterator[Finding]:
    """The free fall before a lanyard comes taut is within the limit."""
    fall = scene.space.fall
    if fall is None or fall.arrest != "lanyard":
        return
    limit = scene.limits.of("fall.free_fall")
    working = _free_fall(scene, fall)
    outcome: Compared | Missing = Missing(because="lanyard or anchor not measured")
    if isinstance(working, Working):
        result = output("FF", "free fall", Unit.M)
        outcome = working.against(limit.relation, limit.quantity, result=result)
    elif isinstance(working, str):
        outcome = Missing(because=working)
    yield finding(
        FREE_FALL,
        outcome,
        settle_by="Anchor at or above the D-ring, or use a shorter connector.",
        keys=working
        if isinstance(working, tuple)
        else (scene.key("fall.anchor_height"), scene.key("fall.connector")),
        space=scene.space,
    )


def _free_fall(scene: Scene, fall: Fall) -> Working | tuple[str, ...] | str:
    """The free fall; the keys that are missing; or why the lanyard cannot be connected so."""
    line, anchor, dring = fall.connector, fall.anchor_height, fall.dring_height
    if line is None or anchor is None or dring is None or fall.offset is None:
        missing = absent(
            connector=line, anchor_height=anchor, dring_height=dring, offset=fall.offset
        )
        return tuple(scene.key(f"fall.{one}") for one in missing)
    inputs = (
        scene.given("l", "connector", line, Unit.M, "fall.connector"),
        scene.given("x", "offset from plumb", fall.offset, Unit.M, "fall.offset"),
        scene.given("h_A", "anchor height", anchor, Unit.M, "fall.anchor_height"),
        scene.given("h_D0", "D-ring height", dring, Unit.M, "fall.dring_height"),
    )
    try:
        value = lanyard_free_fall_m(
            connector_m=line.m,
            offset_m=fall.offset.m,
            anchor_height_m=anchor.m,
            dring_height_m=dring.m,
        )
    except ValueError as error:
        return str(error)
    return Working(value, "sqrt(l**2 - x**2) - (h_A - h_D0)", inputs)


def check_retractor_anchor(scene: Scene) -> Iterator[Finding]:
    """A self-retracting line hangs from above the D-ring; below it, it is another device."""
    fall = scene.space.fall
    if fall is None or fall.arrest != "self-retracting-line":
        return
    anchor_key, dring_key = scene.key("fall.anchor_height"), scene.key("fall.dring_height")
    outcome: Compared | Missing = Missing(because="anchor or D-ring height not measured")
    if fall.anchor_height is not None and fall.dring_height is not None:
        anchor = scene.given(
            "h_A", "anchor height", fall.anchor_height, Unit.M, "fall.anchor_height"
        )
        dring = scene.given("h_D0", "D-ring height", fall.dring_height, Unit.M, "fall.dring_height")
        outcome = Working(anchor.value, "h_A", (anchor,)).against(
            Relation.MORE_THAN, dring, result=output("h", "anchor height", Unit.M)
        )
    yield finding(
        ANCHOR,
        outcome,
        settle_by="Hang the device above the user's D-ring, or use one rated for lower anchors "
        "and have its clearance worked out by a qualified person.",
        keys=(anchor_key, dring_key),
        space=scene.space,
    )


def check_user_mass(scene: Scene) -> Iterator[Finding]:
    """The heaviest user with tools stays below the mass for which the arrest criteria hold."""
    if scene.space.fall is None:
        return
    limit = scene.limits.of("fall.user_mass")
    mass, tools = body_mass(scene), scene.defaults.of("tools-mass")
    clothing, gear = scene.defaults.of("clothing-mass"), scene.defaults.of("protective-mass")
    inputs = (mass, clothing, gear, tools)
    value = sum(one.value for one in inputs)
    working = Working(value, "m_body + m_cloth + m_ppe + m_tools", inputs)
    result = output("m", "user with tools", Unit.KG)
    keys = tuple(f"person.{one.id}.mass" for one in scene.entrants)
    yield finding(
        USER,
        working.against(limit.relation, limit.quantity, result=result),
        settle_by="Use equipment whose maker states it for this mass, and have a qualified "
        "person modify the criteria.",
        keys=keys,
        space=scene.space,
    )
    if scene.space.fall.device is not None:
        yield _device_takes_user(scene, scene.space.fall.device, working, keys)


def _device_takes_user(
    scene: Scene, device_id: str, user: Working, keys: tuple[str, ...]
) -> Finding:
    device, key = scene.device(device_id), f"device.{device_id}.rated_load"
    outcome: Compared | Missing = Missing(because=f"{device.name}: rated load not given")
    if device.rated_load is not None:
        weight = Working(user.value * GRAVITY.value, f"({user.formula})*g", (*user.inputs, GRAVITY))
        outcome = weight.against(
            Relation.AT_MOST,
            stated("F_rated", f"rated load of {device.name}", device.rated_load, Unit.N, key),
            result=output("W_user", "weight of user with tools", Unit.N),
        )
    return finding(
        USER,
        outcome,
        settle_by=f"Use a device rated for this user instead of {device.name}.",
        keys=(key, *keys),
        space=scene.space,
        about=device.name,
    )
