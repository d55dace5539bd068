"""Do shifts and watches last as long as somebody may be inside, and until a rescue is over."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.people.openings import Daily, daily, same_days
from planbuilder.checks.people.places import is_crewed
from planbuilder.checks.scene import Scene, Working, counted, derived, finding, output
from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import (
    Compared,
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
from planbuilder.response.teams import DAY_S, first_gap_s, later_by_s
from planbuilder.site.method import MethodKind, Posture
from planbuilder.site.people import Person

BEYOND = Rule(
    "response/work-beyond-shift",
    "Shifts last until a rescue at the last minute is over",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a crew that has gone home rescues nobody"),
)
RELIEF = Rule(
    "response/no-relief",
    "Relief for attendants on a long watch",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="attention to a still opening tires"),
)


@dataclass(frozen=True, slots=True)
class Shift:
    """One person's shift against the hours of work: from its start to the first entry, and on."""

    person: Person
    before_s: float
    length_s: float

    def left_s(self, needed_s: float) -> float:
        """What is left of the shift *needed_s* after the first entry; below 0 it is over."""
        return self.length_s - self.before_s - needed_s

    @property
    def span_s(self) -> tuple[float, float]:
        """Start and end from the first entry on; a shift begun later starts after it."""
        start_s = -self.before_s if self.before_s < self.length_s else DAY_S - self.before_s
        return start_s, start_s + self.length_s


def shift(person: Person, hours: Daily) -> Shift | None:
    """The shift of *person*, if both ends are stated."""
    starts, ends = person.shift_starts, person.shift_ends
    if starts is None or ends is None:
        return None
    length_s = later_by_s(ends.s, than_s=starts.s) or DAY_S
    return Shift(person, later_by_s(hours.start_s, than_s=starts.s), length_s)


def misses_shift(scene: Scene, person: Person) -> str:
    """What is wrong, where *person* is not on shift for all hours of work; else nothing."""
    hours = daily(scene.space)
    own = shift(person, hours) if hours else None
    if hours is None or own is None or own.left_s(hours.stay_s) >= 0:
        return ""
    return f"{person.name}: not on shift for all hours of work"


def check_beyond_shift(scene: Scene) -> Iterator[Finding]:
    """Everybody counted on is there from the first entry until a late rescue is over."""
    hours, crew, watch = daily(scene.space), _crew(scene), _watch(scene)
    if not _matters(scene, [*crew, *watch]):
        return
    late = _out_time(scene)
    relieved = scene.space.relief_attendant is not None
    groups = (
        [("crew", crew), ("attendants", watch)] if relieved else [("", _each_once([*watch, *crew]))]
    )
    for about, people in groups:
        missing = _missing(scene, people) + (late if isinstance(late, tuple) else ())
        outcome: Compared | Stated | Missing
        if missing or hours is None or isinstance(late, tuple):
            outcome = Missing(because=_in_words(people, missing))
        elif about == "attendants":
            outcome = _watched(people, hours, late)
        else:
            outcome = _within(people, hours, late)
        yield finding(
            BEYOND,
            outcome,
            settle_by="Have everybody out earlier (out_by), or name people whose shift lasts "
            "longer; state enter_from, out_by, shift_starts and shift_ends.",
            keys=missing or (scene.key("task.out_by"),),
            space=scene.space,
            about=about,
        )


def _matters(scene: Scene, people: list[Person]) -> bool:
    """Asked for entry rescue, a team from off site, several openings; or where hours are told."""
    if not people:
        return False
    first, task = scene.space.rescue.primary, scene.space.task
    said = task.enter_from or task.out_by
    told = any(one.shift_starts or one.shift_ends for one in people)
    enters = first.method is MethodKind.ENTRY or first.posture is Posture.OFF_SITE
    return bool(enters or said or told or same_days(scene))


def _crew(scene: Scene) -> list[Person]:
    ids = dict.fromkeys(
        one.person for way in scene.ways() if is_crewed(way) for one in way.method.crew
    )
    return [scene.person(one) for one in ids]


def _watch(scene: Scene) -> list[Person]:
    relief = [scene.space.relief_attendant] if scene.space.relief_attendant else []
    return [scene.person(one) for one in dict.fromkeys([*scene.space.attendant, *relief])]


def _each_once(people: list[Person]) -> list[Person]:
    return list({one.id: one for one in people}.values())


def _missing(scene: Scene, people: list[Person]) -> tuple[str, ...]:
    task = scene.space.task
    keys = [] if task.enter_from else [scene.key("task.enter_from")]
    keys += [] if task.out_by else [scene.key("task.out_by")]
    for one in people:
        keys += [] if one.shift_starts else [f"person.{one.id}.shift_starts"]
        keys += [] if one.shift_ends else [f"person.{one.id}.shift_ends"]
    return tuple(keys)


def _in_words(people: list[Person], missing: tuple[str, ...]) -> str:
    hours = [one.rpartition(".")[2].replace("_", " ") for one in missing if ".task." in one]
    blank = [one.name for one in people if not (one.shift_starts and one.shift_ends)]
    shifts = [f"shift of {', '.join(blank)}"] if blank else []
    rest = ["time until the casualty is out"] if any(".rescue." in one for one in missing) else []
    return f"{'; '.join([*hours, *shifts, *rest])} not given"


def _out_time(scene: Scene) -> Quantity | tuple[str, ...]:
    """The slowest way to have the casualty out, nine times in ten.

    Whoever is pulled out is out when air comes, where no later moment is marked.
    """
    found: list[Quantity] = []
    for way in scene.ways():
        clock = timeline(way).clock("out")
        if clock is None and way.method.method is not MethodKind.ENTRY:
            clock = timeline(way).clock("air")
        if clock is None:
            return (way.key("step"),)
        note = f"{way.name}, nine times in ten"
        found.append(derived("T_out", "casualty out", clock.slow_s, Unit.S, note))
    return max(found, key=lambda one: one.value)


def _within(people: list[Person], hours: Daily, late: Quantity) -> Compared:
    """The person whose shift ends first after the work, held against its length."""
    needed_s = hours.stay_s + late.value
    shifts = [one for one in (shift(who, hours) for who in people) if one]
    worst = min(shifts, key=lambda one: one.left_s(needed_s))
    before = derived("t_before", "shift before the first entry", worst.before_s, Unit.S, "clock")
    stay = derived("t_stay", "hours of work", hours.stay_s, Unit.S, "clock")
    return Working(
        worst.before_s + needed_s, "t_before + t_stay + T_out", (before, stay, late)
    ).against(
        Relation.AT_MOST,
        derived("t_shift", f"shift of {worst.person.name}", worst.length_s, Unit.S, "clock"),
        result=output("t", "start of shift until a late rescue is over", Unit.S),
    )


def _watched(people: list[Person], hours: Daily, late: Quantity) -> Stated:
    """Attendants relieve each other: somebody of them is there at every moment."""
    shifts = [one for one in (shift(who, hours) for who in people) if one]
    gap_s = first_gap_s((one.span_s for one in shifts), until_s=hours.stay_s + late.value)
    names = ", ".join(one.name for one in people)
    if gap_s is None:
        return Stated(holds=True, because=f"{names}: somebody is on shift at every moment")
    words = f"{names}: nobody on shift {gap_s / 3600:.1f} h after the first entry"
    return Stated(holds=False, because=words)


def check_relief(scene: Scene) -> Iterator[Finding]:
    """A watch is short enough for those who share it."""
    hours, watch = daily(scene.space), _watch(scene)
    if hours is None or not watch:
        return
    stay = derived("t_stay", "hours of work", hours.stay_s, Unit.S, "clock")
    number = counted("n_att", "attendants and relief", len(watch), scene.key("attendant"))
    longest = scene.defaults.of("attendant-watch")
    least = math.ceil(hours.stay_s / longest.value)
    yield finding(
        RELIEF,
        Working(hours.stay_s / len(watch), "t_stay/n_att", (stay, number)).against(
            Relation.AT_MOST, longest, result=output("t", "watch of each attendant", Unit.S)
        ),
        settle_by=f"Name a relief_attendant: {least} people share this watch.",
        keys=(scene.key("relief_attendant"), scene.key("task.out_by")),
        space=scene.space,
    )
