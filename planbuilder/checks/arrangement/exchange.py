"""Employers on one site: what each told the other, who rescues, and the talk after the work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, absent, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.exchange import Debrief, Exchange
from planbuilder.site.people import Employer, EmployerRole

TOGETHER = 2  # employers in the file: only then is there anything to tell
TOLD = Rule(
    "plan/exchange-not-recorded",
    "Employers have told each other what they know, on record",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="each thinks that the other has said it"),
)
DEBRIEF = Rule(
    "plan/debrief-not-planned",
    "Talk between the employers after the work",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="what was met is lost when everybody has left"),
)
RESCUER = Rule(
    "plan/rescuer-not-agreed",
    "Every employer names the same rescuers, and they have a part in this plan",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="each thinks that the other has the rescue"),
)


@dataclass(frozen=True, slots=True)
class Telling:
    """One employer has to tell another, in the rows of the rule sets, by a duty of theirs."""

    giver: Employer
    taker: Employer
    rows: tuple[str, ...]
    duty: str

    @property
    def words(self) -> str:
        """Who tells whom."""
        return f"{self.giver.name} to {self.taker.name}"


def tellings(scene: Scene) -> tuple[Telling, ...]:
    """Who has to tell whom: host and contractors each way, or all by way of the hub.

    The hub is the controlling contractor where a rule set says so. Where none is named, the host
    has the site in its own hands, and is the hub itself.
    """
    employers = scene.site.employer
    host = _first(employers, EmployerRole.HOST)
    if host is None or len(employers) < TOGETHER:
        return ()
    hub = host
    if scene.limits.duty("exchange.through_controlling"):
        hub = _first(employers, EmployerRole.CONTROLLING) or host
    layers = scene.limits.layers
    gives = tuple(dict.fromkeys(row for one in layers for row in one.host_gives))
    answers = tuple(dict.fromkeys(row for one in layers for row in one.contractor_gives))
    down = [(host, hub)] if hub is not host else []
    down += [(hub, one) for one in employers if one not in (host, hub)]
    return tuple(
        telling
        for above, below in down
        for telling in (
            Telling(above, below, gives, "exchange.host_informs"),
            Telling(below, above, answers, "exchange.contractor_informs"),
        )
    )


def _first(employers: list[Employer], role: EmployerRole) -> Employer | None:
    return next((one for one in employers if one.role is role), None)


def check_told(scene: Scene) -> Iterator[Finding]:
    """Each employer has told the other what the rule sets ask for, signed on both sides."""
    employers = scene.site.employer
    if len(employers) >= TOGETHER and _first(employers, EmployerRole.HOST) is None:
        yield finding(
            TOLD,
            Missing(because="no employer is named as host: not known who tells whom"),
            settle_by='Give one employer role = "host".',
            keys=tuple(f"employer.{one.id}.role" for one in employers),
            space=scene.space,
            duty=scene.limits.duty("exchange.host_informs"),
        )
    for telling in tellings(scene):
        rows = "; ".join(f'"{row}"' for row in telling.rows) or "what it knows"
        yield finding(
            TOLD,
            _told(scene, telling),
            settle_by=f"Have {telling.giver.name} tell {telling.taker.name}, and state an "
            f"[[exchange]] with giver, receiver, on, by, received_by and what: {rows}.",
            keys=("exchange",),
            space=scene.space,
            about=telling.words,
            duty=scene.limits.duty(telling.duty),
        )


def _told(scene: Scene, telling: Telling) -> Stated | Missing:
    records = _records(scene, telling)
    later = [one.on for one in records if one.on and one.on > scene.on]
    if later:
        words = f"{telling.words}: {day_text(max(later))} is still to come"
        return Stated(holds=False, because=words)
    full = [one for one in records if None not in (one.on, one.by, one.received_by)]
    if not full:
        blank = "no record" if not records else "day, giver or receiver not stated"
        return Missing(because=f"{telling.words}: {blank}")
    last = max(one.on for one in full if one.on)
    changed = scene.space.changed_on
    if changed is not None and changed > last:
        words = f"{telling.words}: told {day_text(last)}, space changed {day_text(changed)}"
        return Stated(holds=False, because=words)
    given = {_plain(row) for one in full for row in one.what}
    lacking = [row for row in telling.rows if _plain(row) not in given]
    if lacking or not given:
        words = ", ".join(lacking) or "what was told"
        return Missing(because=f"{telling.words}: not stated: {words}")
    return Stated(holds=True, because=f"{telling.words}: told {day_text(last)}")


def _records(scene: Scene, telling: Telling) -> list[Exchange]:
    pair = (telling.giver.id, telling.taker.id)
    return [
        one
        for one in scene.site.exchange
        if (one.giver, one.receiver) == pair and (not one.space or scene.space.id in one.space)
    ]


def _plain(row: str) -> str:
    return " ".join(row.casefold().split())


def check_debrief(scene: Scene) -> Iterator[Finding]:
    """Where a rule set asks for it, the talk after the work has a day and two names."""
    duty = scene.limits.duty("exchange.debrief")
    if duty is None or len(scene.site.employer) < TOGETHER:
        return
    talk = scene.site.debrief or Debrief()
    blank = absent(on=talk.on, by=talk.by, heard_by=talk.heard_by)
    outcome: Stated | Missing
    if talk.on is None or blank:
        names = ", ".join(one.replace("_", " ") for one in blank)
        outcome = Missing(because=f"talk after the work, not stated: {names}")
    else:
        words = f"{day_text(talk.on)}; work ends {day_text(scene.work_ends)}"
        outcome = Stated(holds=talk.on >= scene.work_ends, because=words)
    yield finding(
        DEBRIEF,
        outcome,
        settle_by="State who tells whom after the work what was met or made: debrief.on, by and "
        "heard_by.",
        keys=tuple(f"debrief.{one}" for one in blank) or ("debrief.on",),
        space=scene.space,
        duty=duty,
    )


def check_rescuer(scene: Scene) -> Iterator[Finding]:
    """All employers name the same rescuers, and these have a part in this plan."""
    employers = scene.site.employer
    if len(employers) < TOGETHER:
        return
    blank = [one for one in employers if one.rescues is None]
    named = {one.name: one.rescues for one in employers if one.rescues is not None}
    have_part = _rescuers(scene)
    outcome: Stated | Missing
    if len(set(named.values())) > 1:
        words = ", ".join(f"{who} names {whom}" for who, whom in named.items())
        outcome = Stated(holds=False, because=words)
    elif None not in have_part and any(one not in have_part for one in named.values()):
        words = f"{next(iter(named.values()))} is named, and has no part in a rescue here"
        outcome = Stated(holds=False, because=words)
    elif blank:
        names = ", ".join(one.name for one in blank)
        outcome = Missing(because=f"who rescues is not named by {names}")
    else:
        outcome = Stated(holds=True, because=f"all name {next(iter(named.values()))}")
    yield finding(
        RESCUER,
        outcome,
        settle_by="Settle between the employers who rescues, and state that employer or service "
        "as rescues with each of them.",
        keys=tuple(f"employer.{one.id}.rescues" for one in blank or employers),
        space=scene.space,
    )


def _rescuers(scene: Scene) -> set[str | None]:
    """Employers of the crews and services relied on, in any space of the site.

    None is in it where the employer of somebody is not known.
    """
    found: set[str | None] = set()
    for space in scene.site.space:
        for method in filter(None, (space.rescue.primary, space.rescue.fallback)):
            found |= {scene.person(one.person).employer for one in method.crew}
            found |= {method.service} if method.service else set()
    return found
