"""The lift on its line: slack, time against the limit, stuck casualty, landing."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import weight
from planbuilder.checks.hazards import air_limit
from planbuilder.checks.raise_time import haul_time
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Working,
    derived,
    finding,
    stated,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.shock import largest_slack_m, wire_modulus_n
from planbuilder.site.space import HazardKind

STATICS = Source(mark=Mark.DERIVED, document="Statics")
OWN = Source(mark=Mark.CHOICE)
STUCK = Rule(
    "haul/casualty-may-be-stuck",
    "A stuck casualty is freed before any pull",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="pulling a wedged or engulfed person injures"),
)
SLACK = Rule("haul/slack-line", "Slack before the line comes taut", Weight.BLOCKS, STATICS)
LONG = Rule("haul/raise-longer-than-limit", "Raise alone against the limit", Weight.BLOCKS, OWN)
LANDING = Rule(
    "haul/landing-not-planned", "Way from over the opening to the ground", Weight.WARNS, OWN
)


def check_slack(scene: Scene) -> Iterator[Finding]:
    """Wire hardly stretches: a hand's breadth of slack already strikes hard."""
    limit = scene.limits.of("fall.arrest_force")
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if device is None or way.rig is None or way.rig.slack is None:
            continue
        key, needs, load = f"device.{device.id}", Needs(), weight(way)
        own = needs.take("h", "slack", way.rig.slack, Unit.M, way.key("rig.slack"))
        below, tail = scene.down
        depth = needs.take("z", "depth or height below", below, Unit.M, scene.key(tail))
        stiff = needs.keep(_modulus(device), f"{key}.line_stiffness")
        most_m = needs.work(
            lambda: largest_slack_m(
                weight_n=load.value,
                stiffness_n_per_m=stiff.value / depth.value,
                force_limit_n=limit.quantity.value,
            )
        )
        note = f"slack that keeps the shock at {limit.quantity.written}, undamped"
        yield compare(
            SLACK,
            way,
            needs,
            lambda: Working(own.value, "h", (own, load, depth, stiff)),
            Relation.AT_MOST,
            derived("h_max", "largest slack", most_m, Unit.M, note),
            result=("h", "slack in the line", Unit.M),
            settle_by="Keep the line taut, and an energy absorber on the body's side.",
            keys=(way.key("rig.slack"),),
        )


def _modulus(device: AnyDevice) -> Quantity | None:
    key = f"device.{device.id}.line_stiffness"
    if device.line_stiffness is not None:
        return stated("EA", "stiffness of the line", device.line_stiffness, Unit.N, key)
    if device.line_is == "wire" and device.line_diameter is not None:
        value = wire_modulus_n(line_diameter_m=device.line_diameter.m)
        return derived(
            "EA", "stiffness of the wire", value, Unit.N, "0.40*d**2 of metal, 90 GPa, recalled"
        )
    return None


def check_raise_in_limit(scene: Scene) -> Iterator[Finding]:
    """The raise alone does not use up the planning limit."""
    limit = air_limit(scene)
    way = next(scene.ways())
    time = haul_time(way)
    if way.rig is None or isinstance(time, tuple):
        return  # the clock to air says what is missing
    yield compare(
        LONG,
        way,
        Needs(),
        lambda: time,
        Relation.AT_MOST,
        limit,
        result=("t_raise", "time of the raise", Unit.S),
        settle_by="Use a quicker device, or fewer parts of line.",
        keys=(f"device.{way.rig.device}.line_speed",),
    )


def check_landing(scene: Scene) -> Iterator[Finding]:
    """After the lift the casualty hangs over the hole: a swing or a tag line brings them down."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or not scene.space.is_confined:
            continue
        swings = rig.swing_from is not None and rig.swing_to is not None
        turned = swings and rig.swing_from != rig.swing_to
        said = "the mast swings" if turned else ("a tag line" if rig.tag_line else "")
        outcome = (
            Stated(holds=True, because=said)
            if said
            else Missing(because="neither swing nor tag line is planned")
        )
        yield finding(
            LANDING,
            outcome,
            settle_by="Plan how the casualty gets from over the opening to the ground: swing_from "
            "and swing_to, or tag_line = true.",
            keys=(way.key("rig.tag_line"),),
            space=scene.space,
            about=way.name,
        )


def check_stuck(scene: Scene) -> Iterator[Finding]:
    """Lift sums do not hold for a person stuck in grain, sludge or a narrow place."""
    kinds = {one.kind for one in scene.space.hazard}
    if not kinds & {HazardKind.ENGULFMENT, HazardKind.WEDGED}:
        return
    for way in scene.ways():
        if way.rig is None:
            continue
        plan = way.method.free_first
        words = (
            plan
            or "no word on how a stuck casualty is freed; the force can be several times the weight"
        )
        yield finding(
            STUCK,
            Stated(holds=plan is not None, because=words),
            settle_by="Say in free_first how the casualty is freed before the line is pulled.",
            keys=(way.key("free_first"),),
            space=scene.space,
            about=way.name,
        )
