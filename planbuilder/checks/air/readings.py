"""Readings of the air: on record before entry, in order, at each level, and within the limits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from planbuilder.checks.air.atmosphere import judged
from planbuilder.checks.air.detectors import wanted_sensors
from planbuilder.checks.air.set_points import flammable_limit
from planbuilder.checks.asking import Needs
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Working, derived, finding, output, stated
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
from planbuilder.profiles.statements import Limit
from planbuilder.site.readings import Reading

GENERAL = "29 CFR 1910.146"
TESTED = Source(mark=Mark.READ, document=GENERAL, clause="(d)(5), (f)(10)")
UNTESTED = Rule("plan/air-not-tested", "Air tested on the day of entry", Weight.BLOCKS, TESTED)
RECORD = Rule("plan/reading-record", "Who read the meter, and when", Weight.BLOCKS, TESTED)
BEYOND = Rule("plan/reading-beyond-limit", "Readings against the limits", Weight.BLOCKS, TESTED)
STALE = Rule("plan/reading-stale", "Age of the last test at entry", Weight.WARNS, TESTED)
ORDER = Rule(
    "plan/readings-out-of-order",
    "Readings in order: oxygen, flammable, toxic",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(5)(iii)"),
)
LEVELS = Rule(
    "plan/level-not-tested",
    "Readings at every level",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document=GENERAL, clause="App B(4)", note="layers of gas"),
)
SETTLE = "Test oxygen, then flammable, then toxic gas, at every level, and state [[space.reading]]."


def moment(one: Reading) -> dt.datetime:
    """When the meter was read."""
    return dt.datetime.combine(one.on, dt.time()) + dt.timedelta(seconds=one.at.s)


def _entry_day(scene: Scene) -> dt.date:
    """The day of the next entry: the first of the work, or today while it goes on."""
    return max(scene.space.task.start, min(scene.on, scene.work_ends))


def check_tested(scene: Scene) -> Iterator[Finding]:
    """From the first day of work on, a plan without readings of the day lets nobody in.

    Before that they are still to come; the go or no-go block of the plan asks for them.
    """
    if not wanted_sensors(scene) or scene.on < scene.space.task.start:
        return
    day = _entry_day(scene)
    ours = [one for one in scene.space.reading if one.on == day]
    outcome: Stated | Missing = Missing(because=f"no reading of {day_text(day)} on record")
    if ours:
        outcome = Stated(holds=True, because=f"{len(ours)} readings of {day_text(day)}")
    yield finding(
        UNTESTED,
        outcome,
        settle_by=SETTLE,
        keys=(scene.key("reading"),),
        space=scene.space,
    )


def check_record(scene: Scene) -> Iterator[Finding]:
    """Each reading has a name, and a day that has come."""
    for one in scene.space.reading:
        when = _when(one)
        outcome: Stated | Missing = Missing(because="nobody is named who read the meter")
        if one.on > scene.on:
            outcome = Stated(holds=False, because="dated on a day that has not come")
        elif one.tester is not None:
            outcome = Stated(holds=True, because=f"read by {scene.person(one.tester).name}")
        yield finding(
            RECORD,
            outcome,
            settle_by="State who read the meter (tester), and the day on which it was read.",
            keys=(scene.key("reading.tester"), scene.key("reading.on")),
            space=scene.space,
            about=when,
        )


def _when(one: Reading) -> str:
    deep = f", {one.depth.written} down" if one.depth else ""
    return f"{day_text(one.on)} {one.at.written}{deep}"


@dataclass(frozen=True, slots=True)
class _Gas:
    """A reading's name, and the limit that it is held against."""

    name: str
    limit: Limit


def _gases(scene: Scene) -> tuple[_Gas, ...]:
    of = scene.limits.of
    return (
        _Gas("oxygen", of("atmosphere.o2_min")),
        _Gas("oxygen", of("atmosphere.o2_max")),
        _Gas("flammable", flammable_limit(scene)),
        _Gas("hydrogen_sulfide", of("atmosphere.h2s_max")),
        _Gas("carbon_monoxide", of("atmosphere.co_max")),
    )


def _last_at_each_level(readings: Iterable[Reading], name: str) -> list[Reading]:
    """The latest reading of a gas at each depth: an earlier one is history."""
    latest: dict[float | None, Reading] = {}
    for one in sorted(readings, key=moment):
        if getattr(one, name) is not None:
            latest[one.depth.m if one.depth else None] = one
    return list(latest.values())


def check_beyond(scene: Scene) -> Iterator[Finding]:
    """The worst of the latest readings of each gas is within its limit."""
    for gas in _gases(scene):
        rows = _last_at_each_level(scene.space.reading, gas.name)
        if not rows:
            continue
        pick = max if gas.limit.relation.wants_small else min
        worst = pick(rows, key=lambda one: getattr(one, gas.name).ratio)
        key, amount = scene.key(f"reading.{gas.name}"), getattr(worst, gas.name)
        given = stated("p", "worst reading", amount, Unit.FRACTION, key)
        label = gas.limit.quantity.label
        yield finding(
            BEYOND,
            Working(given.value, "p", (given,)).against(
                gas.limit.relation, gas.limit.quantity, result=output("p", label, Unit.FRACTION)
            ),
            settle_by="Nobody goes in: find the source, ventilate, and test again.",
            keys=(key,),
            space=scene.space,
            about=f"{label}, {_when(worst)}",
        )


def check_stale(scene: Scene) -> Iterator[Finding]:
    """On a day of work, the last test before the hour of entry is recent enough."""
    day, opens = _entry_day(scene), scene.space.task.enter_from
    if not scene.space.reading or scene.on < scene.space.task.start:
        return
    limit, needs = scene.limits.limit("atmosphere.reading_age"), Needs()
    needs.say(opens, scene.key("task.enter_from"))
    starts = dt.datetime.combine(day, dt.time()) + dt.timedelta(seconds=opens.s if opens else 0)
    before = [moment(one) for one in scene.space.reading if moment(one) <= starts]

    def outcome() -> Compared | Stated:
        if not before:
            return Stated(holds=False, because="no reading before the hour of entry")
        last = max(before)
        words = f"last reading before entry {day_text(last.date())} {last:%H:%M}"
        if limit is None:
            return Stated(holds=last.date() == day, because=words)
        age = derived("a", words, (starts - last).total_seconds(), Unit.S, "entry less reading")
        return Working(age.value, "a", (age,)).against(
            limit.relation, limit.quantity, result=output("a", "age of the test", Unit.S)
        )

    yield judged(
        scene,
        STALE,
        needs,
        outcome,
        settle_by="Test again shortly before anybody goes in.",
        keys=(scene.key("reading.at"), scene.key("task.enter_from")),
    )


def check_reading_order(scene: Scene) -> Iterator[Finding]:
    """On no day, at no level, was flammable gas read before oxygen, or toxic before flammable."""
    places: dict[tuple[dt.date, float | None], list[Reading]] = {}
    for one in sorted(scene.space.reading, key=moment):
        places.setdefault((one.on, one.depth.m if one.depth else None), []).append(one)
    for rows in places.values():
        early = _early(rows)
        words = f"{early} first" if early else "oxygen, flammable, toxic"
        yield finding(
            ORDER,
            Stated(holds=early is None, because=words),
            settle_by=SETTLE,
            keys=(scene.key("reading.at"),),
            space=scene.space,
            about=_when(rows[0]),
        )


def _early(rows: list[Reading]) -> str | None:
    """What was read at one level before the gas that it has to wait for; None if in order."""
    kinds = (
        ("oxygen", ("oxygen",)),
        ("flammable", ("flammable",)),
        ("toxic", ("hydrogen_sulfide", "carbon_monoxide")),
    )
    firsts = [(kind, _first(rows, names)) for kind, names in kinds]
    for (_, sooner), (kind, later) in pairwise(firsts):
        if later is not None and (sooner is None or later < sooner):
            return kind
    return None


def _first(rows: list[Reading], names: tuple[str, ...]) -> dt.datetime | None:
    times = (moment(one) for one in rows if any(getattr(one, name) is not None for name in names))
    return min(times, default=None)


def check_levels(scene: Scene) -> Iterator[Finding]:
    """On the last day of testing, no layer thicker than about 4 ft went without a reading."""
    readings, needs = scene.space.reading, Needs()
    if not readings or scene.space.opening.from_side:
        return
    key = scene.key("shape.depth")
    deep = needs.take("z", "depth", scene.space.shape.depth, Unit.M, key)
    day = max(one.on for one in readings)
    levels = [one.depth for one in readings if one.on == day]
    needs.say(None if None in levels else levels, scene.key("reading.depth"))
    met = sorted({0.0, *(one.m for one in levels if one is not None)})
    gap_m = max(one - other for other, one in pairwise((*met, max(deep.value, met[-1]))))
    gap = derived("h", "thickest layer without a reading", gap_m, Unit.M, "levels read", (deep,))
    yield judged(
        scene,
        LEVELS,
        needs,
        lambda: Working(gap.value, "h", (gap,)).against(
            Relation.AT_MOST,
            scene.defaults.of("reading-spacing"),
            result=output("h", gap.label, Unit.M),
        ),
        settle_by="Lower the meter or the line to the floor, and stop about every 4 ft (1.2 m).",
        keys=(scene.key("reading.depth"),),
    )
