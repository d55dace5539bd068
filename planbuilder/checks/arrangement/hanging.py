"""Somebody hangs in a harness: how they are got at, what holds their legs, is the kit there."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.hazard import HazardKind
from planbuilder.site.scenario import Scenario, ScenarioKind

HANGING = Rule(
    "plan/no-suspended-rescue",
    "Rescue of somebody who hangs in a harness",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(21)"),
)


def can_hang(scene: Scene) -> bool:
    """Whether somebody can come to hang here: by fall arrest, or as a hazard of its own."""
    hazards = {one.kind for one in scene.space.hazard}
    return scene.space.fall is not None or HazardKind.SUSPENSION in hazards


def check_hanging(scene: Scene) -> Iterator[Finding]:
    """Where a fall can be arrested there is a case of it, with the means to reach and relieve."""
    if not can_hang(scene):
        return
    key = scene.key(f"scenario.{ScenarioKind.SUSPENDED}")
    hanging = [one for one in scene.space.scenario if one.what is ScenarioKind.SUSPENDED]
    cases: list[Scenario | None] = [*hanging] or [None]
    for one in cases:
        yield finding(
            HANGING,
            _means(one),
            settle_by='Add a scenario with what = "suspended", and state how the casualty is '
            "reached (reach), what takes the load off the legs meanwhile (legs), and that this "
            "hangs ready at the position (kit_here).",
            keys=(key, f"{key}.reach", f"{key}.legs", f"{key}.kit_here"),
            space=scene.space,
            duty=scene.limits.duty("fall.rescue_clause"),
        )


def _means(one: Scenario | None) -> Stated | Missing:
    if one is None:
        return Missing(because="no case of somebody who hangs in a harness")
    if one.kit_here is False:
        return Stated(holds=False, because="the kit is not at the position")
    facts = {"reach": one.reach, "legs": one.legs, "kit here": one.kit_here}
    lacking = [name for name, value in facts.items() if value is None]
    if lacking:
        return Missing(because=f"not stated: {', '.join(lacking)}")
    return Stated(holds=True, because=f"reached by: {one.reach}; legs: {one.legs}")
