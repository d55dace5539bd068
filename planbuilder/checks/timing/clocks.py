"""Response time: three clocks from the hazard acting, against the planning class of the hazard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planbuilder.checks.arrangement.records import is_current
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Way, Working, counted, finding, output
from planbuilder.checks.timing.drilled import drills_of
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.checks.timing.moments import in_time
from planbuilder.checks.timing.timeline import (
    CLOCKS,
    Clock,
    Recognition,
    Timeline,
    recognition,
    timeline,
)
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
from planbuilder.site.method import CrewRole, MethodKind, Step
from planbuilder.site.people import CertificateKind, Person
from planbuilder.site.periods import Period

TIMELY = Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(1)(i) and note")
AIR = Rule("response/air-too-late", "Air to the casualty", Weight.BLOCKS, TIMELY)
FALLBACK_AIR = Rule(
    "response/fallback-too-late", "Air to the casualty by the fallback", Weight.WARNS, TIMELY
)
THREE_CLOCKS = Rule(
    "response/clock-missing",
    "Three moments: air, out, handed over",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="arrival of a vehicle is none of the three"),
)
DETECTION = Rule(
    "response/detection-uses-limit",
    "Recognition alone, nine times in ten",
    Weight.BLOCKS,
    Source(mark=Mark.DERIVED, note="uniform delay between checks"),
)
CLOCK_START = Rule(
    "response/clock-starts-late",
    "The clock starts when the hazard acts",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="limits run from the hazard, not from the alarm"),
)
HAUL_IN_TIME = Rule(
    "response/haul-not-computed",
    "The raise in the timeline is computed from the device",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a catalogue speed or a guess is no haul time"),
)
ACCEPTED = Rule(
    "response/limit-not-accepted",
    "A named person accepted the planning limit",
    Weight.WARNS,
    TIMELY,
)
DRILLED = Rule(
    "response/times-not-drilled",
    "Times on the path to air proven by a recent drill",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(2)(iv)"),
)
FIRST_AID = Rule(
    "response/no-first-aider",
    "Care until the ambulance crew takes over",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(2)(iii)"),
)
AIR_TIME = output("T_air", "air to the casualty, 9 times in 10", Unit.S)


def check_air(scene: Scene) -> Iterator[Finding]:
    """Air reaches the casualty within the limit nine times in ten; on an ordinary day: marginal."""
    for way in scene.ways():
        times = timeline(way)
        clock = times.clock("air")
        keys = times.missing or (way.key("step"),)
        outcome = (
            in_time(way, clock, air_limit(scene), AIR_TIME)
            if clock
            else Missing(because=_no_clock(times))
        )
        yield finding(
            AIR if way.name == "primary" or clock is None else FALLBACK_AIR,
            outcome,
            settle_by=_where_minutes_are(times, clock)
            if clock
            else "Time each step in a drill and state usual and one_in_ten; mark the step that "
            'brings air with reaches. steps_from = "usual" puts in the usual steps, with times '
            "that are estimates of the tool.",
            keys=keys,
            space=scene.space,
            about=way.name,
        )


def _no_clock(times: Timeline) -> str:
    if times.missing:
        names = ", ".join(key.rpartition("step.")[2] for key in times.missing)
        return f"no time for: {names}"
    return 'no step is marked reaches = "air"'


def _where_minutes_are(times: Timeline, clock: Clock) -> str:
    names = "; ".join(one.step.what for one in times.where_minutes_are(clock))
    return f"Minutes can be bought here first: {names}."


def check_clocks(scene: Scene) -> Iterator[Finding]:
    """Air, out and handed over are three moments; none stands for another."""
    for way in scene.ways():
        wanted = CLOCKS if way.name == "primary" else CLOCKS[:2]
        reached = {one.reaches for one in way.method.step}
        blank = [one.replace("-", " ") for one in wanted if one not in reached]
        yield finding(
            THREE_CLOCKS,
            Missing(because=f"no step reaches: {', '.join(blank)}")
            if blank
            else Stated(holds=True, because="every moment has a step that reaches it"),
            settle_by="Carry the steps on until the casualty is out and the ambulance crew has "
            "taken over; mark those steps with reaches.",
            keys=(way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def check_detection(scene: Scene) -> Iterator[Finding]:
    """Finding out that something is wrong must not use up the limit by itself."""
    limit, recognised = air_limit(scene), recognition(scene)
    key = scene.key("contact.check_interval")
    outcome: Compared | Missing = Missing(because="neither continuous contact nor check interval")
    if isinstance(recognised, Recognition):
        slow = recognised.slow
        working = recognised.working or Working(slow.value, slow.symbol, (slow,))
        outcome = working.against(
            Relation.AT_MOST, limit, result=output("t_90", "delay of recognition", Unit.S)
        )
    yield finding(
        DETECTION,
        outcome,
        settle_by="Keep continuous contact (voice, line tension, motion alarm), or check more "
        "often, and state it.",
        keys=(key,),
        space=scene.space,
    )


def check_clock_start(scene: Scene) -> Iterator[Finding]:
    """Every timeline begins with recognition, computed from how contact is kept."""
    for way in scene.ways():
        firsts = [one for one in way.method.step if not one.after]
        starts = bool(firsts) and all(one.computed == "detection" for one in firsts)
        names = ", ".join(one.id for one in firsts) or "no step"
        yield finding(
            CLOCK_START,
            Stated(holds=starts, because=f"the timeline begins with: {names}"),
            settle_by='Begin with one step that has computed = "detection"; hang the others '
            "behind it with after.",
            keys=(way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def check_haul_in_timeline(scene: Scene) -> Iterator[Finding]:
    """A method that lifts has the computed raise among its steps, before air and before out.

    Whoever goes in may give air where the casualty lies: then the raise comes after it.
    """
    for way in scene.ways():
        if way.rig is None:
            continue
        holds, words = _raise_in_place(way)
        yield finding(
            HAUL_IN_TIME,
            Stated(holds=holds, because=words),
            settle_by='Give the raising step computed = "haul" instead of a time, and hang the '
            "steps that bring air and that end outside behind it with after. Air may come first "
            "only from those who went in: say so in the steps to the casualty (by, on_air or "
            'role = "entry-rescuer").',
            keys=(way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def _raise_in_place(way: Way) -> tuple[bool, str]:
    steps = {one.id: one for one in way.method.step}
    hauls = {one.id for one in steps.values() if one.computed == "haul"}
    if not hauls:
        return False, "no step has the computed raise"
    for one in steps.values():
        before = _waits_for(one.id, steps)
        if one.reaches == "out" and not hauls & before:
            return False, f"{one.id} is out without waiting for the raise"
        inside = {each for each in before if _is_inside(way, steps[each])}
        goes_in = one.id in inside and (one.on_air is not None or len(inside) > 1)
        if one.reaches == "air" and not hauls & before and not goes_in:
            return False, f"{one.id} brings air without waiting for the raise"
    return True, "the raise is computed"


def _is_inside(way: Way, step: Step) -> bool:
    """Whether somebody of an entry rescue does this step inside the space."""
    if way.method.method is not MethodKind.ENTRY:
        return False
    goers = {one.id for one in way.crew(CrewRole.ENTRY)}
    own_part = step.role in (None, CrewRole.ENTRY)
    named = step.role is CrewRole.ENTRY or (own_part and bool(goers & set(step.by)))
    return named or step.on_air in ("in", "work")


def _waits_for(step_id: str, steps: Mapping[str, Step]) -> set[str]:
    """The step itself and every one that must be done before it."""
    found: set[str] = set()
    rest = [step_id]
    while rest:
        one = rest.pop()
        if one not in found:
            found.add(one)
            rest += steps[one].after
    return found


def check_limit_accepted(scene: Scene) -> Iterator[Finding]:
    """Whether rescue is quick enough is a decision; somebody has to own it."""
    rescue, limit = scene.space.rescue, air_limit(scene)
    outcome: Stated | Missing = Missing(because=f"nobody accepted {limit.label}")
    if rescue.limit_accepted_by and rescue.limit_accepted_on:
        words = f"accepted by {rescue.limit_accepted_by} on {day_text(rescue.limit_accepted_on)}"
        is_past = rescue.limit_accepted_on <= scene.on  # a decision yet to come is none
        outcome = Stated(holds=is_past, because=words)
    yield finding(
        ACCEPTED,
        outcome,
        settle_by="Have a competent person accept or tighten the planning limit; state "
        "limit_accepted_by and limit_accepted_on.",
        keys=(scene.key("rescue.limit_accepted_by"),),
        space=scene.space,
    )


def check_drilled(scene: Scene) -> Iterator[Finding]:
    """Steps that often decide the time to air, and whose times no recent drill has shown."""
    age = scene.defaults.of("drill-age")
    for way in scene.ways():
        times = timeline(way)
        clock = times.clock("air")
        if clock is None:
            continue
        guessed = [one for one in clock.deciding if not _is_proven(times, one, age.value)]
        names = ", ".join(guessed)
        words = f"on paper, not proven: {names}" if guessed else "every step drilled or computed"
        yield finding(
            DRILLED,
            Stated(holds=not guessed, because=words),
            settle_by="Drill these steps in this kind of space, time them, and state source = "
            '"drill" with drilled_on.',
            keys=tuple(way.key(f"step.{one}.source") for one in guessed) or (way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def _is_proven(times: Timeline, step_id: str, months: float) -> bool:
    step, scene = times.step(step_id).step, times.way.scene
    if step.computed is not None:  # from measured data, or else from speeds out of a table
        return step.computed in ("detection", "haul")
    held = {one.on for one in drills_of(times.way)}
    if step.source != "drill" or step.drilled_on not in held or step.drilled_on is None:
        return False  # a drill that no record shows proves nothing
    return Period(int(months), "month", "").after(step.drilled_on) >= scene.last_day


def check_first_aid(scene: Scene) -> Iterator[Finding]:
    """Somebody in the crew holds current first-aid and CPR certificates on the last day."""
    limit = scene.limits.of("people.first_aid_cert_min")
    way = next(scene.ways())
    if way.method.method is MethodKind.SELF:
        return
    people = {one.person for one in way.method.crew}
    trained = [one for one in people if gives_first_aid(scene, scene.person(one))]
    yield finding(
        FIRST_AID,
        Working(
            len(trained),
            "n_aid",
            (
                counted(
                    "n_aid", "crew with current first aid and CPR", len(trained), way.key("crew")
                ),
            ),
        ).against(
            limit.relation,
            limit.quantity,
            result=output("n", "first-aiders in the crew", Unit.COUNT),
        ),
        settle_by="Name somebody in the crew whose first-aid and CPR certificates run beyond "
        f"{day_text(scene.last_day)}.",
        keys=(way.key("crew"),),
        space=scene.space,
    )


def gives_first_aid(scene: Scene, person: Person) -> bool:
    """Whether *person* holds first aid and CPR to the last day."""
    current = {one.kind for one in person.certificate if is_current(one, scene)}
    return {CertificateKind.FIRST_AID, CertificateKind.CPR} <= current
