"""Where rescuers must wait at the least, and why: by hazard, onset, arrest of falls, rule set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.air.gas_release import onset_s
from planbuilder.checks.arrangement.hanging import can_hang
from planbuilder.checks.people.places import is_bad_air
from planbuilder.checks.scene import Scene, Way, Working, counted, finding, once_a_scene, output
from planbuilder.checks.timing.hazards import classify, slowest_posture
from planbuilder.checks.timing.moments import in_time
from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.profiles.statements import Duty
from planbuilder.response.classes import PlanningClass
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import CrewRole, MethodKind, Posture

POSTURE = Rule(
    "response/posture-too-slow",
    "Rescuers wait where the hazard asks for",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="A.II.1"),
)
READY = Rule(
    "response/ready-too-late",
    "Time to ready, where only mechanical harm is possible",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="A.II.1"),
)
STANDING_BY = Rule(
    "response/too-few-standing-by",
    "People outside in sets, ready to follow those who go in",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(g)(3)"),
)
_READINESS = tuple(Posture)
_COVERING = (
    HazardKind.ENGULFMENT,
    HazardKind.DROWNING,
    HazardKind.COLD_WATER,
    HazardKind.INERT_GAS,
)


@dataclass(frozen=True, slots=True)
class Least:
    """The least ready posture that one reason allows, and the duty that states it, if any."""

    posture: Posture
    because: str
    duty: Duty | None = None


@once_a_scene
def least_posture(scene: Scene) -> Least:
    """The readiest posture that anything here asks for; of equals the first reason."""
    return min(_reasons(scene), key=lambda one: _READINESS.index(one.posture))


def _reasons(scene: Scene) -> Iterator[Least]:
    altitude, idlh = scene.site.site.altitude, scene.limits.duty("rescue.idlh_posture")
    above_sea_m = altitude.m if altitude is not None else 0.0
    for one in scene.space.hazard:
        kind, own = one.kind.replace("-", " "), classify(one, above_sea_m)
        quick = own <= PlanningClass.MINUTES
        covering = one.kind in _COVERING
        yield Least(
            Posture.STANDBY if covering else slowest_posture(own),
            f"{kind}, harm in {_HARM[own]}",
            idlh if quick and is_bad_air(scene) else None,
        )
    yield from _releases(scene, idlh)
    if can_hang(scene):
        yield Least(Posture.ON_SITE, "somebody can come to hang in a harness")
    on_site = scene.limits.duty("rescue.on_site_required")
    if on_site is not None and on_site.binds:
        yield Least(Posture.ON_SITE, on_site.text, on_site)


_HARM = {
    PlanningClass.SECONDS: "seconds",
    PlanningClass.MINUTES: "minutes",
    PlanningClass.SUSPENSION: "minutes, hanging",
    PlanningClass.TENS_OF_MINUTES: "tens of minutes",
    PlanningClass.MECHANICAL: "time, by injury",
}


def _releases(scene: Scene, idlh: Duty | None) -> Iterator[Least]:
    """A gas let out makes the air dangerous before rescuers are ready: then they stand by."""
    clock = timeline(next(scene.ways())).clock("air")
    for one in scene.space.release:
        onset, gas = onset_s(scene, one), one.kind.replace("-", " ")
        if onset is None or clock is None:
            yield Least(Posture.STANDBY, f"{gas} let out, how soon it is dangerous not known", idlh)
        elif onset < clock.slow_s:
            words = (
                f"{gas} let out is dangerous after {onset:.0f} s, help takes {clock.slow_s:.0f} s"
            )
            yield Least(Posture.STANDBY, words, idlh)


def posture_words(scene: Scene) -> str:
    """The posture of the primary rescuers, the least that is asked for, and why."""
    least, posture = least_posture(scene), next(scene.ways()).method.posture
    asked = f"at least {least.posture}".replace("-", " ")
    return f"{posture.replace('-', ' ')}; {asked}: {least.because}"


def check_posture(scene: Scene) -> Iterator[Finding]:
    """The primary rescuers wait where hazards, onset and rule set ask for."""
    least, way = least_posture(scene), next(scene.ways())
    ready = _READINESS.index(way.method.posture) <= _READINESS.index(least.posture)
    yield finding(
        POSTURE,
        Stated(holds=ready, because=posture_words(scene)),
        settle_by=f"Arrange rescue with posture {least.posture}: rigged, dressed and with no other "
        "duty, or take the hazard away before entry.",
        keys=(way.key("posture"),),
        space=scene.space,
        duty=least.duty,
    )


def check_ready(scene: Scene) -> Iterator[Finding]:
    """Where rescuers may wait elsewhere, they are ready within the limit of the rule set.

    Ready for entry is no step of its own: the time to air, which comes after it, stands for it.
    """
    limit, way = scene.limits.limit("rescue.mech_only_minutes"), next(scene.ways())
    waits = way.method.posture in (Posture.ON_SITE, Posture.OFF_SITE)
    if limit is None or not waits or least_posture(scene).posture is not Posture.OFF_SITE:
        return
    clock = timeline(way).clock("air")
    outcome: Compared | Missing = Missing(because="the time to air is not known")
    if clock is not None:
        label = "ready for entry, at the latest, 9 times in 10"
        outcome = in_time(way, clock, limit.quantity, output("T_ready", label, Unit.S))
    yield finding(
        READY,
        outcome,
        settle_by=f"Have rescuers wait nearer: ready for entry within {limit.quantity.written}, "
        "counted from the hazard acting.",
        keys=(way.key("posture"), way.key("step")),
        space=scene.space,
        duty=limit,
    )


def check_standing_by(scene: Scene) -> Iterator[Finding]:
    """While rescuers are in air that can kill, enough people stand outside in sets, by name."""
    limit = scene.limits.limit("people.idlh_standby_min")
    if limit is None or not scene.space.is_confined or not is_bad_air(scene):
        return
    for way in scene.ways():
        if way.method.method is not MethodKind.ENTRY:
            continue
        count = _named(way)
        number = counted("n_by", "named, standing by in sets", count, way.key("crew"))
        yield finding(
            STANDING_BY,
            Working(count, "n_by", (number,)).against(
                limit.relation, limit.quantity, result=output("n", "people outside", Unit.COUNT)
            ),
            settle_by=f"Name {limit.quantity.value:.0f} in the role back-up, with sets, and no "
            "other part; have them wait here (posture standby).",
            keys=(way.key("crew"), way.key("posture"), way.key("breathing_set")),
            space=scene.space,
            about=way.name,
            duty=limit,
        )


def _named(way: Way) -> int:
    """Those who follow in sets: nobody, where no set is named or they wait elsewhere."""
    entering = {one.id for one in way.crew(CrewRole.ENTRY)}
    ready = way.method.posture is Posture.STANDBY and way.method.breathing_set is not None
    return len({one.id for one in way.crew(CrewRole.BACK_UP)} - entering) if ready else 0
