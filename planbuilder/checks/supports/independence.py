"""An anchor that catches a fall, or that rescue hangs on, holds up nothing else."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.supports import Support

INDEPENDENT = Rule(
    "plan/anchor-also-suspends",
    "Anchor independent of what suspends people or platforms",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(12)"),
)


def _catches(way: Way) -> tuple[str, ...]:
    """The support that the fall-arrest device of the space hangs on in this way."""
    fall, rig = way.scene.space.fall, way.rig
    if fall is None or fall.device is None or rig is None:
        return ()
    if fall.device == rig.backup:
        return (rig.backup_support or rig.support,)
    return (rig.support,) if fall.device == rig.device else ()


def check_independence(scene: Scene) -> Iterator[Finding]:
    """Asked of an anchor that catches a fall; of any other, where it is stated."""
    asked: dict[str, tuple[Support, bool]] = {}
    for way in scene.ways():
        caught = _catches(way)
        for support in scene.supports_of(way):
            must = support.id in caught or asked.get(support.id, (support, False))[1]
            asked[support.id] = (support, must)
    for support, must in asked.values():
        also = support.also_suspends
        if also is None and not must:
            continue
        outcome: Stated | Missing = Missing(
            because=f"{support.name}: not stated whether it holds up anything else"
        )
        if also is not None:
            words = f"{support.name}: also suspends {also}"
            outcome = Stated(holds=also == "nothing", because=words)
        yield finding(
            INDEPENDENT,
            outcome,
            settle_by="Hang fall arrest and rescue on an anchor of their own, apart from any that "
            'holds up people or a platform, and state also_suspends = "nothing".',
            keys=(f"support.{support.id}.also_suspends",),
            space=scene.space,
            about=support.name,
            duty=scene.limits.duty("anchor.independence"),
        )
