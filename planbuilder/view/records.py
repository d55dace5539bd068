"""Two pages of each space for afterwards: what a drill took against the plan, and the debrief."""

from __future__ import annotations

from planbuilder.checks.scene import Way
from planbuilder.checks.timing.timeline import TimedStep
from planbuilder.plan import Plan, SpacePlan
from planbuilder.view.form import DebriefSheet, DrilledWay, DrillRecord, Form, form
from planbuilder.view.numbers import half_minutes, stopwatch
from planbuilder.view.timelines import CLOCK_NAMES, doers

_SIGNED = ("For", "Name", "Signature", "Date")
_ABOUT = ("About this drill", "Entry")
_ASKED = ("Asked", "Answer")
_QUESTIONS = (
    ("as-planned", "What went as planned"),
    ("otherwise", "What went otherwise, and why"),
    ("met", "Hazards met in the space, or made by the work"),
    ("close", "What came close to an injury"),
    ("kit", "What was loaded, damaged or missing, and where it is locked away"),
    ("spoken", "Who could not be heard or reached"),
    ("plan", "What in the plan has to change before the next entry"),
)
_ACTIONS = 4


def drill_record(space: SpacePlan) -> DrillRecord:
    """The steps and clocks of every way of *space*, with room for what was taken."""
    name = f"drill/{space.scene.space.id}"
    about = (
        ("on", ("Date, start and end",)),
        ("held", ("Held at, if not here; what was easier there",)),
        ("casualty", ("Casualty: a person or a dummy, its mass, how it was attached",)),
        ("conditions", ("Breathing sets worn, light, weather, noise",)),
        ("people", ("Who took part",)),
        ("timed", ("Timed by",)),
    )
    learned = [("learned", ("What was learned, and what changes in the plan",))]
    signed = [("leader", ("Rescue leader",)), ("observer", ("Whoever judged the drill",))]
    return DrillRecord(
        about=form(f"{name}/about", _ABOUT, about),
        ways=tuple(_drilled(name, way, space) for way in space.scene.ways() if way.method.step),
        outcome=_outcome(name, space),
        learned=form(name, _ASKED, learned, answers=("Answer",)),
        signed=form(f"{name}/signed", _SIGNED, signed),
    )


def _outcome(name: str, space: SpacePlan) -> Form:
    ticks = ("Drilled", "Passed", "Not passed", "Broken off")
    rows = [(way.name, (way.name.capitalize(),)) for way in space.scene.ways()]
    return form(f"{name}/outcome", ("Way", *ticks), rows, ticks=ticks)


def _drilled(name: str, way: Way, space: SpacePlan) -> DrilledWay:
    times = next((one for one in space.timelines if one.way.name == way.name), None)
    planned = {one.step.id: one for one in times.steps} if times else {}
    steps = [
        (one.id, (one.what, doers(way, one), *_planned(planned.get(one.id))))
        for one in way.method.step
    ]
    clocks = times.clocks if times else ()
    return DrilledWay(
        title=f"Steps of the {way.name} way",
        steps=form(
            f"{name}/{way.name}/step",
            ("Step", "Who, as planned", "Usually", "1 in 10", "Took (min:s)", "Done by"),
            steps,
        ),
        clocks=form(
            f"{name}/{way.name}/clock",
            ("Moment", "Allow (9 in 10)", "Took, from the alarm"),
            [(one.name, (CLOCK_NAMES[one.name], half_minutes(one.slow_s))) for one in clocks],
        ),
        noticed=_noticed(times.detection if times else None),
    )


def _planned(timed: TimedStep | None) -> tuple[str, str]:
    if timed is None:
        return "no time", "no time"
    return stopwatch(timed.usual.value), stopwatch(timed.slow.value)


def _noticed(detection: TimedStep | None) -> str:
    if detection is None:
        return ""
    usual = stopwatch(detection.usual.value)
    return f"To be noticed usually takes {usual}; nobody waits for it in a drill."


def debrief_sheet(plan: Plan, space: SpacePlan) -> DebriefSheet:
    """What is asked when people, line and casualty are back, and who does what about it."""
    name = f"debrief/{space.scene.space.id}"
    talk = plan.site.debrief
    about = (
        ("work", ("Work",)),
        ("drill", ("Drill",)),
        ("rescue", ("Rescue",)),
    )
    actions = [(f"{number}", (f"{number}",)) for number in range(1, _ACTIONS + 1)]
    signed = (
        ("tells", ("Whoever tells it", (talk.by if talk else None) or "")),
        ("hears", ("Whoever hears it", (talk.heard_by if talk else None) or "")),
        ("attendant", ("Attendant",)),
        ("leader", ("Rescue leader",)),
    )
    return DebriefSheet(
        about=form(f"{name}/about", ("After", "Yes", "Date, time", "Place"), about, ticks=("Yes",)),
        asked=form(
            f"{name}/asked", _ASKED, [(k, (q,)) for k, q in _QUESTIONS], answers=("Answer",)
        ),
        actions=form(
            f"{name}/action", ("No.", "What", "Who", "By when", "Done"), actions, ticks=("Done",)
        ),
        signed=form(f"{name}/signed", _SIGNED, signed),
    )
