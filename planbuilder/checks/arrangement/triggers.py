"""What comes from outside and stops the work: is it named, at which value, and who watches."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Working, finding, output, stated
from planbuilder.findings import (
    Compared,
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
from planbuilder.site.outside import Trigger, TriggerKind
from planbuilder.site.supports import Support

UNNAMED = Rule(
    "plan/trigger-not-stated",
    "What outside the space stops the work",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(3)(v), (i)(6)(iii)"),
)
UNWATCHED = Rule(
    "plan/trigger-not-watched",
    "Stop value, and somebody who watches for it",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a limit that nobody watches stops nothing"),
)
WIND = Rule(
    "plan/wind-above-support",
    "Work stops below the wind that the support is good for",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a mast that goes over takes the line with it"),
)
Question = tuple[str, frozenset[TriggerKind]]  # why it is asked, and what answers it


def _questions(scene: Scene) -> Iterator[Question]:
    """What the data of the space itself make one ask."""
    space, kinds = scene.space, {one.kind for one in scene.space.hazard}
    water, process = TriggerKind.FLOOD, TriggerKind.PROCESS
    if HazardKind.DROWNING in kinds:
        yield "water can come in", frozenset((water, TriggerKind.WEATHER, process))
    if HazardKind.ENGULFMENT in kinds:
        yield "something can flow in", frozenset((process, TriggerKind.ADJACENT_WORK, water))
    if space.traffic is not None and space.traffic.lane != "road-closed":
        yield "traffic passes", frozenset((TriggerKind.TRAFFIC,))
    if not space.is_confined or any(one.wind_limit for one in _supports(scene)):
        yield "wind blows on people or masts", frozenset((TriggerKind.WIND, TriggerKind.WEATHER))
    if space.other_work or space.nearby:
        yield "others work nearby", frozenset((TriggerKind.ADJACENT_WORK,))


def _supports(scene: Scene) -> tuple[Support, ...]:
    found = {one.id: one for way in scene.ways() for one in scene.supports_of(way)}
    return tuple(found.values())


def check_named(scene: Scene) -> Iterator[Finding]:
    """Each thing outside that the plan itself speaks of has its stop rule."""
    asked, have = list(_questions(scene)), {one.kind for one in scene.space.trigger}
    if not asked:
        return
    open_ = [f"{why} ({' or '.join(sorted(any_of))})" for why, any_of in asked if not any_of & have]
    yield finding(
        UNNAMED,
        Missing(because=f"no stop rule although {'; '.join(open_)}")
        if open_
        else Stated(holds=True, because=f"stated: {', '.join(sorted(have))}"),
        settle_by="State a trigger for each: kind, the value or sight at which all come out, and "
        "who watches.",
        keys=(scene.key("trigger"),),
        space=scene.space,
    )


def check_watched(scene: Scene) -> Iterator[Finding]:
    """Each trigger has a value, and somebody outside the space who looks out for it."""
    for one in scene.space.trigger:
        words = f"at {one.stop_at or (one.wind.written if one.wind else '')}"
        lacking = [] if one.stop_at or one.wind else ["the value or sight that stops the work"]
        lacking += [] if one.watched_by else ["who watches"]
        outcome: Stated | Missing = Missing(because=f"not stated: {', '.join(lacking)}")
        if one.watched_by in scene.space.entrants:
            name = scene.person(one.watched_by).name
            outcome = Stated(holds=False, because=f"{name} watches, and goes in")
        elif one.watched_by and not lacking:
            outcome = Stated(holds=True, because=f"{words}, {_watcher(scene, one)} watches")
        yield finding(
            UNWATCHED,
            outcome,
            settle_by="State stop_at, and as watched_by somebody who stays outside.",
            keys=(scene.key("trigger.stop_at"), scene.key("trigger.watched_by")),
            space=scene.space,
            about=one.kind.replace("-", " "),
        )


def _watcher(scene: Scene, one: Trigger) -> str:
    return scene.person(one.watched_by).name if one.watched_by else "nobody"


def check_wind(scene: Scene) -> Iterator[Finding]:
    """The wind at which the work stops is no stronger than each support in use is marked for."""
    winds = [one.wind for one in scene.space.trigger if one.wind]
    for support in _supports(scene):
        if support.wind_limit is None:
            continue
        key = f"support.{support.id}.wind_limit"
        limit = stated("v_max", "wind that it is good for", support.wind_limit, Unit.M_PER_S, key)
        outcome: Compared | Missing = Missing(because="no wind speed that stops the work is stated")
        if winds:
            stop = max(winds, key=lambda one: one.value)
            given = scene.given(
                "v_stop", "wind that stops work", stop, Unit.M_PER_S, "trigger.wind"
            )
            result = output("v", "wind that stops the work", Unit.M_PER_S)
            outcome = Working(stop.value, "v_stop", (given,)).against(
                Relation.AT_MOST, limit, result=result
            )
        yield finding(
            WIND,
            outcome,
            settle_by=f"State a wind trigger of {support.wind_limit.written} or less.",
            keys=(scene.key("trigger.wind"), key),
            space=scene.space,
            about=support.name,
        )
