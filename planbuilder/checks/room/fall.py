"""Clear height below a fall: a fallen person comes to rest above whatever would be hit first."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.fall_height import height_needed
from planbuilder.checks.room.falling import answered
from planbuilder.checks.room.obstacles import nearest
from planbuilder.checks.scene import Scene, finding, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.fall import CountedBy, Fall
from planbuilder.site.hazard import HazardKind
from planbuilder.site.scenario import ScenarioKind

CLEARANCE = Rule(
    "clearance/fall-hits-something",
    "Clearance below for fall arrest",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(d)(2)(ii)"),
)
_MEASURE = "Measure anchor height, D-ring height, offset and the distance to whatever is hit first."
_COUNTED = {CountedBy.DRING: "by the D-ring", CountedBy.WHOLE_BODY: "by the whole body"}


def check_clearance(scene: Scene) -> Iterator[Finding]:
    """The height that the fall needs is there, down to the nearest thing below."""
    hangs = any(one.kind is HazardKind.SUSPENSION for one in scene.space.hazard)
    hangs |= any(one.what is ScenarioKind.SUSPENDED for one in scene.space.scenario)
    if scene.space.fall is not None:
        yield _clearance(scene, scene.space.fall)
    elif hangs:
        yield finding(
            CLEARANCE,
            Missing(because="fall arrest is planned on without its measures"),
            settle_by=_MEASURE,
            keys=(scene.key("fall"), scene.key("fall.below")),
            space=scene.space,
        )


def _clearance(scene: Scene, fall: Fall) -> Finding:
    needs = Needs()
    height, level = height_needed(scene, fall, needs), nearest(scene, fall, needs)
    slack_m = scene.defaults.of("clearance-warning").value
    label = f"clearance needed below the walking surface, counted {_COUNTED[fall.counted_by]}"

    def outcome() -> Compared:
        return height.needed.against(
            Relation.AT_MOST,
            level,
            result=output("C_W", label, Unit.M),
            slack=slack_m,
        )

    return answered(
        CLEARANCE,
        scene,
        needs,
        outcome,
        settle_by=lambda: height.remedy(level.value - slack_m),
        keys=(level.source.key or scene.key("fall.below"), scene.key("fall.anchor_height")),
    )
