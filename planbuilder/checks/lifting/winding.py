"""The lift on its line: time against the limit, stuck casualty, landing."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.lifting.raise_time import haul_time
from planbuilder.checks.scene import (
    Scene,
    finding,
)
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.hazard import HazardKind

STATICS = Source(mark=Mark.DERIVED, document="Statics")
OWN = Source(mark=Mark.CHOICE)
STUCK = Rule(
    "haul/casualty-may-be-stuck",
    "A stuck casualty is freed before any pull",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="pulling a wedged or engulfed person injures"),
)
LONG = Rule("haul/raise-longer-than-limit", "Raise alone against the limit", Weight.BLOCKS, OWN)
LANDING = Rule(
    "haul/landing-not-planned", "Way from over the opening to the ground", Weight.WARNS, OWN
)


def check_raise_in_limit(scene: Scene) -> Iterator[Finding]:
    """The raise alone does not use up the planning limit."""
    limit = air_limit(scene)
    for way in scene.ways():
        time = haul_time(way)
        if way.rig is None or isinstance(time, tuple):
            continue  # the clock to air says what is missing
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
