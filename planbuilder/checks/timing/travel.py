"""Getting there and back: outside teams, the way out with a casualty, calling, and being found."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, listed, output
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.checks.timing.routes import off_site_time, route_time
from planbuilder.checks.timing.timeline import Timeline, timeline
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
from planbuilder.site.method import MethodKind, Posture, Step
from planbuilder.site.periods import Period

SUMMONS = Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(9)")
OFF_SITE = Rule(
    "response/off-site-travel-not-known",
    "Outside rescuers are at the opening within the limit",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(1)(i) and note"),
)
EXIT = Rule(
    "response/exit-time-copied",
    "Time out with the casualty worked out or drilled",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a casualty is carried or dragged; the way in says nothing"),
)
SIGNAL = Rule(
    "response/radio-not-tested", "Help can be called from the opening", Weight.WARNS, SUMMONS
)
FOUND = Rule("response/site-hard-to-find", "Outside help finds the opening", Weight.WARNS, SUMMONS)
NO_SIGNAL_NEEDED = ("fixed-line", "runner")


def check_off_site(scene: Scene) -> Iterator[Finding]:
    """A team that waits off site arrives within the limit, before any task of it begins."""
    for way in scene.ways():
        if way.method.posture is not Posture.OFF_SITE:
            continue
        time, outcome = off_site_time(way), _arrives(way)
        yield finding(
            OFF_SITE,
            outcome,
            settle_by="Have rescuers wait on site, or drive the way and state driven and "
            "driven_on (or road_distance), turn_out, and walk_in from gate to opening.",
            keys=time if isinstance(time, tuple) else (f"service.{way.method.service}.driven",),
            space=scene.space,
            about=way.name,
        )


def _arrives(way: Way) -> Compared | Missing:
    time = off_site_time(way)
    if isinstance(time, tuple):
        return Missing(because=f"{listed(time)} not given, or beyond what the formula holds for")
    return time.against(
        Relation.AT_MOST,
        air_limit(way.scene),
        result=output("T_off", "call until the team is at the opening", Unit.S),
    )


def check_exit_time(scene: Scene) -> Iterator[Finding]:
    """After going in, the time out was drilled, or covers the way with a casualty."""
    for way in scene.ways():
        times = timeline(way)
        if way.method.method is not MethodKind.ENTRY or times.missing or not times.steps:
            continue
        outcome, keys = _exit(way, times)
        yield finding(
            EXIT,
            outcome,
            settle_by='Mark the step that ends outside with reaches = "out"; drill it, or state '
            "the route with coming_out for each stretch, and a time that covers it.",
            keys=keys,
            space=scene.space,
            about=way.name,
        )


def _exit(way: Way, times: Timeline) -> tuple[Compared | Stated | Missing, tuple[str, ...]]:
    air, out = times.clock("air"), times.clock("out")
    if air is None or out is None:
        return Missing(because="no step is marked as reaching air, or out"), (way.key("step"),)
    after = [one for one in out.path if one not in air.path]
    if not after:
        return Stated(holds=False, because="no time between air and out"), (way.key("step"),)
    guessed = [one for one in after if not _is_shown(way.scene, times.step(one).step)]
    keys = tuple(way.key(f"step.{one}.usual") for one in guessed)
    if not guessed:
        words = f"drilled or computed: {', '.join(after)}"
        return Stated(holds=True, because=words), (way.key("step"),)
    route = route_time(way.scene, "out")
    if isinstance(route, tuple):
        words = f"{', '.join(guessed)} not drilled, and {listed(route)} not given"
        return Missing(because=words), (*keys, *route)
    return _covers(times, after, route), keys


def _is_shown(scene: Scene, step: Step) -> bool:
    drilled = step.source == "drill" and step.drilled_on is not None
    worked_out = step.computed is not None and step.computed != "route-in"  # no casualty then
    return worked_out or (drilled and step.drilled_on is not None and step.drilled_on <= scene.on)


def _covers(times: Timeline, after: list[str], route: Working) -> Compared:
    """The times planned from air to outside, against the way out as worked out."""
    planned = [times.step(one).usual for one in after]
    total = sum(one.value for one in planned)
    limit = derived(
        "t_way", "way out with a casualty", route.value, Unit.S, route.formula, route.inputs
    )
    return Working(total, " + ".join(one.symbol for one in planned), tuple(planned)).against(
        Relation.AT_LEAST, limit, result=output("t", "planned from air to outside", Unit.S)
    )


def check_signal(scene: Scene) -> Iterator[Finding]:
    """The call for help was tried from this opening not long ago, or somebody runs."""
    contact, age = scene.space.contact, scene.defaults.of("signal-test-age")
    outcome: Stated | Missing = Missing(because="not stated how help is called from the opening")
    tested = contact.signal_tested_on
    if contact.call_by in NO_SIGNAL_NEEDED:
        outcome = Stated(holds=True, because=f"by {contact.call_by.replace('-', ' ')}")
    elif contact.call_by and tested is None:
        outcome = Missing(because=f"{contact.call_by}: never tested at the opening")
    elif contact.call_by and tested is not None:
        last = Period(int(age.value), "day", "").after(tested)
        words = (
            f"{contact.call_by}: tested {day_text(tested)}, counts to {day_text(last)}, needed to "
            f"{day_text(scene.last_day)}"
        )
        outcome = Stated(holds=tested <= scene.on and scene.last_day <= last, because=words)
    yield finding(
        SIGNAL,
        outcome,
        settle_by="Try radio or telephone at the opening and inside, and state call_by and "
        'signal_tested_on; where there is no signal, plan call_by = "runner" or a fixed line.',
        keys=(scene.key("contact.call_by"), scene.key("contact.signal_tested_on")),
        space=scene.space,
    )


def check_found(scene: Scene) -> Iterator[Finding]:
    """Whoever comes from outside has a map reference, and somebody who meets them at the gate."""
    facts = {"position": scene.site.site.position, "escort": scene.site.site.escort}
    lacking = [name for name, value in facts.items() if value is None]
    outcome: Stated | Missing = Stated(holds=True, because="map reference and escort are stated")
    if lacking:
        outcome = Missing(because=f"not stated: {' and '.join(lacking)}")
    yield finding(
        FOUND,
        outcome,
        settle_by="State position (a map reference) and escort (who meets them and opens the "
        "gate).",
        keys=tuple(f"site.{one}" for one in lacking) or ("site.position",),
        space=scene.space,
    )
