"""Who speaks with whom: the means, what is left when they fail, and whether they were tried."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.communication import Between, Communication, Means
from planbuilder.site.method import MethodKind, Posture
from planbuilder.site.periods import Period

GENERAL = "29 CFR 1910.146"
NONE = Rule(
    "plan/no-communication",
    "Means of speaking for everybody who has to",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(4)(iii)"),
)
BACKUP = Rule(
    "plan/communication-without-backup",
    "Another way to speak when the first one fails",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="radio fails in steel, voice fails in noise"),
)
TESTED = Rule(
    "plan/communication-not-tested",
    "Radio and telephone tried in the place itself, on a channel stated",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="radio waves do not go through steel or ground"),
)
BY_WAVES = (Means.RADIO, Means.PHONE)


@dataclass(frozen=True, slots=True)
class Spoken:
    """One pair that has to speak: what the plan says of it, if anything."""

    between: Between
    entries: tuple[Communication, ...]
    elsewhere: str  # the means, as the contact of the space has them
    tried_on: date | None  # when that was tried

    @property
    def entry(self) -> Communication | None:
        """What is said of it under communication."""
        return self.entries[0] if self.entries else None

    @property
    def means(self) -> str:
        """By what they speak; empty where nothing is said."""
        own = self.entry.means if self.entry else None
        return str(own) if own else self.elsewhere

    @property
    def tested_on(self) -> date | None:
        """When it was last tried in the place."""
        return (self.entry.tested_on if self.entry else None) or self.tried_on

    @property
    def words(self) -> str:
        """The two ends and the means."""
        return f"{named(self.between)} by {self.means.replace('-', ' ')}"

    @property
    def clash(self) -> str:
        """Where the file says two things of this pair; empty where it does not."""
        if len(self.entries) > 1:
            return f"{named(self.between)}: stated {len(self.entries)} times"
        own = self.entry.means if self.entry else None
        called = self.between is Between.SERVICE and self.elsewhere
        if own and called and own != self.elsewhere:
            return f"{named(self.between)}: {own} here, call_by is {self.elsewhere}"
        return ""

    @property
    def backup_fault(self) -> str:
        """Why what is named as backup is none; empty where it is one, or none is named."""
        one = self.entry
        if one is None or one.backup is None:
            return ""
        if one.backup == self.means and not one.backup_channel:
            return f"{named(self.between)}: {one.backup} is the first means as well"
        if one.is_dead_somewhere and self.means in BY_WAVES and one.backup in BY_WAVES:
            where = f"dead zones: {one.dead_zones}"
            return f"{named(self.between)}: {one.backup} goes by radio waves too; {where}"
        return ""


def named(between: Between) -> str:
    """The two ends, in words."""
    return between.replace("-", " to ")


def spoken(scene: Scene) -> tuple[Spoken, ...]:
    """Everybody who has to speak here, and whoever else the plan names."""
    contact, stated = scene.space.contact, scene.space.communication
    elsewhere = {Between.ENTRANT: contact.means, Between.SERVICE: contact.call_by or ""}
    asked = _asked(scene) | {one.between for one in stated}
    return tuple(
        Spoken(
            between,
            tuple(one for one in stated if one.between is between),
            elsewhere.get(between, ""),
            contact.signal_tested_on if between is Between.SERVICE else None,
        )
        for between in Between
        if between in asked
    )


def _asked(scene: Scene) -> set[Between]:
    """Entrants and the service always; rescuers where they are called, or go in themselves."""
    ways = [way for way in scene.ways() if way.method.crew]
    called = any(way.method.posture is not Posture.STANDBY for way in ways)
    goes_in = any(way.method.method is MethodKind.ENTRY for way in ways)
    return {
        Between.ENTRANT,
        Between.SERVICE,
        *((Between.RESCUERS,) if called else ()),
        *((Between.INSIDE,) if goes_in else ()),
    }


def check_means(scene: Scene) -> Iterator[Finding]:
    """Every pair that has to speak has something to speak by, and only one thing is said of it.

    How help is called is asked where it is tested: response/radio-not-tested.
    """
    pairs = spoken(scene)
    clashes = [one.clash for one in pairs if one.clash]
    silent = [one for one in pairs if not one.means and one.between is not Between.SERVICE]
    outcome: Stated | Missing = Stated(
        holds=True, because="; ".join(one.words for one in pairs if one.means)
    )
    if clashes:
        outcome = Stated(holds=False, because="; ".join(clashes))
    elif silent:
        names = ", ".join(named(one.between) for one in silent)
        outcome = Missing(because=f"by what: {names}")
    yield finding(
        NONE,
        outcome,
        settle_by="State a communication for the pair, once: between, means, channel and backup.",
        keys=(scene.key("communication"),),
        space=scene.space,
    )


def check_backup(scene: Scene) -> Iterator[Finding]:
    """Every pair has a second means, which does not fail by what the first one fails by."""
    pairs = spoken(scene)
    faults = [one.backup_fault for one in pairs if one.backup_fault]
    alone = [one for one in pairs if one.entry is None or one.entry.backup is None]
    outcome: Stated | Missing = Stated(holds=True, because="a backup for each")
    if faults:
        outcome = Stated(holds=False, because="; ".join(faults))
    elif alone:
        names = ", ".join(named(one.between) for one in alone)
        outcome = Missing(because=f"no backup: {names}")
    yield finding(
        BACKUP,
        outcome,
        settle_by="Name a backup that does not fail by what the first means fails by, such as "
        "line signals, a horn or a runner behind a radio.",
        keys=(scene.key("communication"),),
        space=scene.space,
    )


def check_tested(scene: Scene) -> Iterator[Finding]:
    """What goes by radio waves was tried from inside not long ago, and where it fails is known.

    The test on the day of entry is a box to tick: a plan is written before that day.
    """
    wireless = [
        one.entry
        for one in spoken(scene)
        if one.entry and {one.entry.means, one.entry.backup} & {*BY_WAVES}
    ]
    outcomes = [_tested(scene, one) for one in wireless]
    wrong = [one.because for one in outcomes if isinstance(one, Stated) and not one.holds]
    blank = [one.because for one in outcomes if isinstance(one, Missing)]
    words = "; ".join(one.because for one in outcomes) or "nothing here is left to radio waves"
    outcome: Stated | Missing = Stated(holds=True, because=words)
    if wrong:
        outcome = Stated(holds=False, because="; ".join(wrong))
    elif blank:
        outcome = Missing(because="; ".join(blank))
    yield finding(
        TESTED,
        outcome,
        settle_by="Try it from every part of the space; state channel, tested_on and dead_zones "
        '("none" where there is none); try it again before each entry.',
        keys=(scene.key("communication"),),
        space=scene.space,
    )


def _tested(scene: Scene, one: Communication) -> Stated | Missing:
    pair = named(one.between)
    if one.tested_on is None:
        return Missing(because=f"{pair}: not tested")
    last = Period(int(scene.defaults.of("signal-test-age").value), "day", "").after(one.tested_on)
    words = f"{pair}: tested {day_text(one.tested_on)}, counts to {day_text(last)}"
    if not one.tested_on <= scene.on or last < scene.last_day:
        return Stated(holds=False, because=f"{words}, needed to {day_text(scene.last_day)}")
    unsaid = [
        *(("channel or number",) if one.means in BY_WAVES and one.channel is None else ()),
        *(("dead zones",) if one.dead_zones is None else ()),
    ]
    if unsaid:
        return Missing(because=f"{pair}: {' and '.join(unsaid)} not stated")
    return Stated(holds=True, because=f"{words}; dead zones: {one.dead_zones}")
