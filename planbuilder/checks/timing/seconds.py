"""Hazards that harm in seconds: for these no entry that still has to get ready is in time."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.breathing import ATMOSPHERIC
from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.checks.timing.hazards import air_limit, classify
from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Verdict, Weight
from planbuilder.response.classes import PlanningClass
from planbuilder.site.air import EscapeAir, LineAir
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import CrewRole, MethodKind, Posture

SECONDS = Rule(
    "response/entry-for-seconds",
    "Harm in seconds: air or line on the entrant, or a crew masked at the opening",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="no entry that has yet to get ready is in time"),
)
Answer = Stated | Missing


def check_seconds(scene: Scene) -> Iterator[Finding]:
    """One of three: line on and manned, supplied air on the entrant, or a masked crew here.

    Any one does; where none does, the first way that is only not stated leaves it unknown.
    """
    quick = _quick(scene)
    if not quick:
        return
    way = next(scene.ways())
    answers = [_supplied(scene, quick), _manned_line(way), _masked_crew(way, quick)]
    best = next(
        (
            one
            for verdict in (Verdict.MEETS, Verdict.UNKNOWN)
            for one in answers
            if one.verdict is verdict
        ),
        None,
    )
    kinds = ", ".join(one.replace("-", " ") for one in quick)
    words = best.because if best else "; ".join(one.because for one in answers)
    because = f"{kinds}: {words}"
    outcome = Missing(because=because) if isinstance(best, Missing) else None
    yield finding(
        SECONDS,
        outcome or Stated(holds=best is not None, because=because),
        settle_by="Take the hazard away before entry and state the level that is left. Or let "
        "entrants breathe from an air line with an escape set (task.air_line, task.escape_set). Or "
        "retrieve from outside by a line that is worn throughout, with somebody at it "
        '(posture = "standby", crew role haul, line_worn). Or have the crew wait at the opening '
        "in sets with face pieces on while anybody is inside (masked_at_opening = true), and "
        "bring air within the limit; not against engulfment.",
        keys=(
            way.key("masked_at_opening"),
            way.key("rig.line_worn"),
            scene.key("task.air_line"),
            way.key("method"),
        ),
        space=scene.space,
        about=way.name,
    )


def _quick(scene: Scene) -> list[HazardKind]:
    """The hazards of the space that harm within seconds."""
    altitude = scene.site.site.altitude
    above_sea_m = altitude.m if altitude is not None else 0.0
    classes = ((one.kind, classify(one, above_sea_m)) for one in scene.space.hazard)
    return list(dict.fromkeys(kind for kind, own in classes if own is PlanningClass.SECONDS))


def _supplied(scene: Scene, quick: list[HazardKind]) -> Answer:
    """Every entrant breathes from an air line, and can get out without it."""
    task = scene.space.task
    if any(kind not in ATMOSPHERIC for kind in quick):
        return Stated(holds=False, because="air on the entrant is no help against all of these")
    if task.air_line is None:
        return Stated(holds=False, because="entrants wear no air line")
    line = scene.equipment(task.air_line)
    escape = scene.equipment(task.escape_set) if task.escape_set else None
    if not isinstance(line.air, LineAir):
        return Stated(holds=False, because=f"{line.name} is no air line")
    if escape is None or not isinstance(escape.air, EscapeAir):
        return Missing(because=f"{line.name} on the entrants: no escape set with it is stated")
    users = line.air.users
    if users is None:
        return Missing(because=f"{line.name} on the entrants: users not stated")
    enough = min(users, escape.quantity) >= scene.inside_at_once
    words = f"{line.name} for {users}, {escape.quantity} of {escape.name}"
    return Stated(holds=enough, because=f"{words}, {scene.inside_at_once} inside")


def _manned_line(way: Way) -> Answer:
    """The line is on before anything happens, and somebody stands at it."""
    if way.method.method is not MethodKind.NON_ENTRY or way.rig is None:
        return Stated(holds=False, because=f"{way.method.method.replace('-', ' ')}, not by a line")
    if way.method.posture is not Posture.STANDBY or not way.crew(CrewRole.HAUL):
        return Stated(holds=False, because="nobody stands by at the line")
    if way.rig.line_worn is None:
        return Missing(because="not stated whether the line is worn throughout")
    words = "worn throughout" if way.rig.line_worn else "not worn"
    return Stated(holds=way.rig.line_worn, because=f"line manned, {words}")


def _masked_crew(way: Way, quick: list[HazardKind]) -> Answer:
    """Entry rescuers and back-up stand at the opening, face pieces on, and are in time."""
    method = way.method
    against = [
        (method.method is not MethodKind.ENTRY, "nobody goes in"),
        (HazardKind.ENGULFMENT in quick, "nobody can go in after engulfment in time"),
        (method.posture is not Posture.STANDBY, f"crew {method.posture.replace('-', ' ')}"),
        (method.masked_at_opening is False, "the crew puts face pieces on after the alarm"),
    ]
    wrong = [words for is_wrong, words in against if is_wrong]
    if wrong:
        return Stated(holds=False, because=", ".join(wrong))
    lacking = [one for one in (CrewRole.ENTRY, CrewRole.BACK_UP) if not way.crew(one)]
    if method.breathing_set is None or lacking:
        return Missing(because="no breathing set, entry rescuer or back-up is named")
    if method.masked_at_opening is None:
        return Missing(
            because="not stated whether the crew waits at the opening with face pieces on"
        )
    return _in_limit(way)


def _in_limit(way: Way) -> Answer:
    clock, limit = timeline(way).clock("air"), air_limit(way.scene)
    if clock is None:
        return Missing(because="crew masked at the opening, but the time to air is not known")
    words = f"crew masked at the opening, air after {clock.slow_s:.0f} s, 9 times in 10"
    return Stated(holds=clock.slow_s <= limit.value, because=words)
