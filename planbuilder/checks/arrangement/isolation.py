"""Isolation: a point for each hazard and pipe, a lock for each point, keys outside, trials."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Working, counted, finding, output
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
from planbuilder.site.hazard import Hazard, HazardKind
from planbuilder.site.isolation import Energy, Isolation, IsolationMethod

GENERAL = "29 CFR 1910.146"
ISOLATED = Rule(
    "plan/not-isolated",
    "Isolation of what a hazard or a pipe brings in",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(3)(iii), (f)(8)"),
)
LOCKS = Rule(
    "plan/lock-missing",
    "A lock for each point that is locked",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(b), isolation", note="one lock, one point"),
)
KEY = Rule(
    "plan/key-not-outside",
    "Keys with a person of the plan who stays outside",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="whoever leads the rescue must be able to show that it is off"),
)
TRIED = Rule(
    "plan/isolation-not-tried",
    "Isolation tried at each point",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="rescuers need proof, not belief"),
)
BAN = Rule(
    "plan/energy-may-come-back",
    "Nothing is put back on until the rescue is over",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="told to whoever could put it back on"),
)
_ANSWERED_BY = {
    HazardKind.MECHANICAL: (Energy.MECHANICAL, Energy.ELECTRICAL, Energy.GRAVITY, Energy.FLUID),
    HazardKind.DROWNING: (Energy.FLUID,),
    HazardKind.ENGULFMENT: (Energy.ENGULFMENT, Energy.FLUID, Energy.GRAVITY),
    HazardKind.INERT_GAS: (Energy.GAS,),
}
_LOCKED = (IsolationMethod.LOCK, IsolationMethod.DOUBLE_BLOCK, IsolationMethod.GROUND)


def check_isolated(scene: Scene) -> Iterator[Finding]:
    """Every hazard that comes in from outside, and every pipe, is kept out at a point."""
    points = scene.space.isolation
    for hazard in scene.space.hazard:
        if hazard.kind in _ANSWERED_BY:
            yield _isolated(scene, _against(hazard, points), hazard.kind.replace("-", " "))
    for pipe in scene.space.pipes_in:
        closed = [one.point for one in points if pipe in one.pipes]
        outcome = Stated(holds=True, because=", ".join(closed)) if closed else None
        yield _isolated(scene, outcome or Missing(because=f"no point closes {pipe}"), pipe)


def _against(hazard: Hazard, points: list[Isolation]) -> Stated | Missing:
    found = [one.point for one in points if one.energy in _ANSWERED_BY[hazard.kind]]
    if found:
        return Stated(holds=True, because=", ".join(found))
    if hazard.not_isolated_because is not None:
        return Stated(holds=True, because=f"nothing to isolate: {hazard.not_isolated_because}")
    wanted = " or ".join(one.replace("-", " ") for one in _ANSWERED_BY[hazard.kind])
    return Missing(because=f"no isolation point for {wanted}")


def _isolated(scene: Scene, outcome: Stated | Missing, about: str) -> Finding:
    return finding(
        ISOLATED,
        outcome,
        settle_by="State each point as [[space.isolation]] with energy, method, lock, key and "
        "trial, and the pipes that it closes; or say on the hazard why there is nothing to "
        "isolate (not_isolated_because).",
        keys=(scene.key("isolation"),),
        space=scene.space,
        about=about,
    )


def check_locks(scene: Scene) -> Iterator[Finding]:
    """As many different locks as points that hold by a lock."""
    points = [one for one in scene.space.isolation if one.method in _LOCKED]
    if not points:
        return
    key = scene.key("isolation.lock")
    bare = [one.point for one in points if one.lock is None]
    locks = len({one.lock.strip().casefold() for one in points if one.lock is not None})
    wanted = Quantity(
        symbol="n_points",
        label="points that hold by a lock",
        value=len(points),
        unit=Unit.COUNT,
        source=Source.site(scene.key("isolation")),
    )
    without = f" Without: {', '.join(bare)}." if bare else ""
    yield finding(
        LOCKS,
        Working(locks, "n_lock", (counted("n_lock", "locks named", locks, key),)).against(
            Relation.AT_LEAST, wanted, result=output("n", "different locks", Unit.COUNT)
        ),
        settle_by="Put a lock of its own on each point and state its number; a box for keys does "
        f"not replace it.{without}",
        keys=(key,),
        space=scene.space,
    )


def check_keys(scene: Scene) -> Iterator[Finding]:
    """The key of each lock is with somebody named, and not inside."""
    for one in scene.space.isolation:
        if one.method not in _LOCKED:
            continue
        outcome: Stated | Missing = Missing(because=f"{one.point}: nobody is named for the key")
        if one.key_held_by is not None:
            inside = one.key_held_by in scene.space.entrants
            name = scene.person(one.key_held_by).name
            words = f"key of {one.lock or one.point}: {name}{', who goes in' if inside else ''}"
            outcome = Stated(holds=not inside, because=words)
        yield finding(
            KEY,
            outcome,
            settle_by="Name somebody who stays outside for the key, such as the leader.",
            keys=(scene.key("isolation.key_held_by"),),
            space=scene.space,
            about=one.point,
        )


def check_tried(scene: Scene) -> Iterator[Finding]:
    """Somebody tries each point; from the first day of work on, the day is on record."""
    for one in scene.space.isolation:
        yield finding(
            TRIED,
            _tried(scene, one),
            settle_by="Name who tries the point, have it tried before anybody goes in, and state "
            "the day.",
            keys=(scene.key("isolation.tried_by"), scene.key("isolation.tried_on")),
            space=scene.space,
            about=one.point,
        )


def _tried(scene: Scene, one: Isolation) -> Stated | Missing:
    if one.tried_by is None:
        return Missing(because=f"{one.point}: nobody is named to try it")
    name, start = scene.person(one.tried_by).name, scene.space.task.start
    if one.tried_on is None:
        if scene.on < start:
            return Stated(holds=True, because=f"{name} tries it before anybody goes in")
        return Missing(because=f"{one.point}: no trial on record since {day_text(start)}")
    words = f"{name} tried it on {day_text(one.tried_on)}"
    if one.tried_on > scene.on:
        return Stated(holds=False, because=f"{words}, a day that has not come")
    stale = scene.on >= start > one.tried_on
    return Stated(holds=not stale, because=f"{words}, before the work began" if stale else words)


def check_energy_ban(scene: Scene) -> Iterator[Finding]:
    """Whoever could put energy back knows that it stays off while a rescue goes on."""
    if not scene.space.isolation:
        return
    ban = scene.space.energy_ban
    outcome: Stated | Missing = Missing(because="not said who was told, and when")
    if ban.told_to is not None and ban.told_on is not None:
        words = f"told on {day_text(ban.told_on)}: {ban.told_to}"
        outcome = Stated(holds=ban.told_on <= scene.on, because=words)
    yield finding(
        BAN,
        outcome,
        settle_by="Tell whoever could put it back on that it stays off until the leader says that "
        "the rescue is over; state energy_ban.told_to and told_on.",
        keys=(scene.key("energy_ban.told_to"), scene.key("energy_ban.told_on")),
        space=scene.space,
    )
