"""The rescue as a network of steps: how long to air, out and handed over, and which steps decide.

The usual times give the ordinary day. The slow day takes every step at its one-in-ten time at
once: it errs long and is no percentile, and the plan says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from planbuilder.checks.raise_time import haul_time
from planbuilder.checks.scene import Scene, Way, Working, stated
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.detection import slow_delay_s, usual_delay_s
from planbuilder.response.network import Activity, Timing, critical_path, finish_s, schedule
from planbuilder.response.spread import slow_duration_s
from planbuilder.site.space import Step

CLOCKS = ("air", "out", "handed-over")

# Several checks ask for the same timeline.
_schedule, _critical = lru_cache(maxsize=64)(schedule), lru_cache(maxsize=64)(critical_path)


@dataclass(frozen=True, slots=True)
class TimedStep:
    """One step with the two times it is planned with, and how it was computed if it was."""

    step: Step
    usual: Quantity
    slow: Quantity
    working: Working | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """One of the three moments: when it comes, on an ordinary and a slow day, by which steps."""

    name: str
    usual_s: float
    slow_s: float
    path: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Timeline:
    """A rescue method worked out in time, from the hazard acting."""

    way: Way
    steps: tuple[TimedStep, ...]
    timings: tuple[Timing, ...]
    clocks: tuple[Clock, ...]
    missing: tuple[str, ...]

    def clock(self, name: str) -> Clock | None:
        """The clock of that name, if a step reaches it and every time is known."""
        return next((one for one in self.clocks if one.name == name), None)

    def step(self, step_id: str) -> TimedStep:
        """The step of that id."""
        return next(one for one in self.steps if one.step.id == step_id)

    @property
    def detection(self) -> TimedStep | None:
        """The computed detection step, if the timeline has one."""
        return next((one for one in self.steps if one.step.computed == "detection"), None)


def timeline(way: Way) -> Timeline:
    """The timeline of *way*. Steps without a time leave it without clocks, and are named."""
    steps: list[TimedStep] = []
    missing: list[str] = []
    for step in way.method.step:
        timed = _timed(way, step)
        if isinstance(timed, TimedStep):
            steps.append(timed)
        else:
            missing += timed
    if missing or not steps:
        return Timeline(way, tuple(steps), (), (), tuple(missing))
    usual = tuple(_activity(one, one.usual) for one in steps)
    slow = _schedule(tuple(_activity(one, one.slow) for one in steps))
    timings = _schedule(usual)
    clocks = []
    for name in CLOCKS:
        ends = [one.step.id for one in steps if one.step.reaches == name]
        if ends:
            last = max(ends, key=lambda end: finish_s(timings, end))
            path = _critical(usual, last)
            slow_s = max(finish_s(slow, end) for end in ends)
            clocks.append(Clock(name, finish_s(timings, last), slow_s, path))
    return Timeline(way, tuple(steps), timings, tuple(clocks), ())


def _activity(timed: TimedStep, time: Quantity) -> Activity:
    return Activity(id=timed.step.id, duration_s=time.value, after=tuple(timed.step.after))


def _timed(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    match step.computed:
        case "detection":
            return _detection(way, step)
        case "haul":
            return _haul(way, step)
        case None:
            return _stated(way, step)


def _stated(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    key = way.key(f"step.{step.id}.usual")
    if step.usual is None:
        return (key,)
    usual = stated(_symbol(step), step.what, step.usual, Unit.S, key)
    if step.one_in_ten is not None:
        slow_key = way.key(f"step.{step.id}.one_in_ten")
        return TimedStep(
            step, usual, stated(_symbol(step), step.what, step.one_in_ten, Unit.S, slow_key)
        )
    return TimedStep(step, usual, _spread(way, step, usual.value))


def _spread(way: Way, step: Step, usual_s: float) -> Quantity:
    sigma = way.scene.defaults.of("task-spread")
    return Quantity(
        symbol=_symbol(step),
        label=f"{step.what}, one time in ten",
        value=slow_duration_s(usual_s=usual_s, sigma=sigma.value),
        unit=Unit.S,
        source=Source(mark=sigma.source.mark, document=sigma.source.document, key="task-spread"),
    )


def _haul(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    time = haul_time(way)
    if isinstance(time, tuple):
        return time
    usual = Quantity(
        symbol=_symbol(step),
        label=step.what,
        value=time.value,
        unit=Unit.S,
        source=Source.derived(time.formula),
    )
    return TimedStep(step, usual, _spread(way, step, time.value), time)


def _detection(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    recognised = recognition(way.scene)
    if isinstance(recognised, tuple):
        return recognised
    usual, slow = (
        replace(one, symbol=_symbol(step), label=step.what)
        for one in (recognised.usual, recognised.slow)
    )
    return TimedStep(step, usual, slow, recognised.working)


@dataclass(frozen=True, slots=True)
class Recognition:
    """How long it takes to see that something is wrong, from how contact is kept."""

    usual: Quantity
    slow: Quantity
    working: Working | None


def recognition(scene: Scene) -> Recognition | tuple[str, ...]:
    """The delay of recognition, or the key that is missing."""
    contact, key = scene.space.contact, scene.key("contact.check_interval")
    if contact.check_interval is None:
        if not contact.continuous:
            return (key,)
        delay = scene.defaults.of("detection-delay")
        return Recognition(delay, delay, None)
    tau = stated("tau", "time between checks", contact.check_interval, Unit.S, key)
    source = Source(mark=Mark.DERIVED, note="uniform delay: tau/2 in the mean, 0.9*tau 9 in 10")
    usual = Quantity(
        symbol="t_50",
        label="delay of recognition",
        value=usual_delay_s(tau.value),
        unit=Unit.S,
        source=source,
    )
    slow = replace(usual, symbol="t_90", value=slow_delay_s(tau.value))
    return Recognition(usual, slow, Working(slow.value, "0.9*tau", (tau,)))


def _symbol(step: Step) -> str:
    return "t_" + step.id.replace("-", "_")
