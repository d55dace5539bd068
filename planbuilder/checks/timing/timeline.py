"""The rescue as a network of steps: how long to air, out and handed over, and which steps decide.

Every clock is worked out twice: once with the usual times, a path that can be followed with a
pencil, and once with the spread of every step, which gives the time that nine rescues in ten keep
to. Plans are held to the second.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from planbuilder.checks.lifting.raise_time import haul_time
from planbuilder.checks.scene import Scene, Way, Working, once_a_way, stated
from planbuilder.checks.timing.drilled import Drilled, clock_text, step_times
from planbuilder.checks.timing.routes import journey_time, route_time
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.detection import slow_delay_s, usual_delay_s
from planbuilder.response.network import (
    Activity,
    Timing,
    critical_path,
    finish_s,
    leading_to,
    one_at_a_time,
    schedule,
)
from planbuilder.response.percentiles import RUNS, Percentile, Spreading, milestones
from planbuilder.response.spread import (
    Certain,
    LogNormal,
    Spread,
    ThreePoint,
    Uniform,
    slow_duration_s,
    spread_sigma,
)
from planbuilder.site.method import Step

CLOCKS = ("air", "out", "handed-over")
MOMENTS = (*CLOCKS, "contact")  # the last only where somebody hangs
SEED = 1
DECIDES_FROM = 0.2  # a step that decides the clock this often counts as critical
ORDINARY, PLANNED = 50, 90


@dataclass(frozen=True, slots=True)
class TimedStep:
    """One step with its usual and its one-in-ten time, its spread, and how it was computed."""

    step: Step
    usual: Quantity
    slow: Quantity
    spread: Spread
    working: Working | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """One of the moments of a rescue.

    *plain_s* is the sum of the usual times along *path*: shorter than an ordinary day wherever
    several steps must all be done before the next.
    """

    name: str
    plain_s: float
    path: tuple[str, ...]
    spreading: Spreading

    @property
    def usual_s(self) -> float:
        """Reached by then on every other day."""
        return self.spreading.percentiles[ORDINARY].value_s

    @property
    def slow_s(self) -> float:
        """Reached by then nine times in ten: what a plan is held to."""
        return self.planned.value_s

    @property
    def planned(self) -> Percentile:
        """The 90th percentile with its interval."""
        return self.spreading.percentiles[PLANNED]

    @property
    def deciding(self) -> tuple[str, ...]:
        """The steps that often decide this clock, in order."""
        shares = self.spreading.criticality
        return tuple(one for one, share in shares.items() if share > DECIDES_FROM)


@dataclass(frozen=True, slots=True)
class Timeline:
    """A rescue method worked out in time, from the hazard acting.

    *network* is the steps with the links stated, and those that keep everybody to one at a time.
    """

    way: Way
    steps: tuple[TimedStep, ...]
    timings: tuple[Timing, ...]
    clocks: tuple[Clock, ...]
    missing: tuple[str, ...]
    network: tuple[Activity, ...] = ()

    @property
    def waits(self) -> dict[str, tuple[str, ...]]:
        """By step, the steps that must be over because they keep the same people busy."""
        stated = {one.step.id: one.step.after for one in self.steps}
        return {
            one.id: tuple(before for before in one.after if before not in stated[one.id])
            for one in self.network
        }

    @property
    def floats(self) -> dict[str, Timing]:
        """By step, its times and floats before the first clock that waits for it.

        Against the end of everything, the step that holds up the air would seem to have time.
        """
        found: dict[str, Timing] = {}
        for clock in self.clocks:
            part = leading_to(self.network, clock.path[-1])
            found |= {one.id: one for one in schedule(part) if one.id not in found}
        return {one.id: one for one in self.timings} | found

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

    def where_minutes_are(self, clock: Clock) -> tuple[TimedStep, ...]:
        """The three steps whose spread decides *clock* most: there minutes can be bought."""
        shares = clock.spreading.criticality

        def weight(one: TimedStep) -> float:
            return shares.get(one.step.id, 0.0) * (one.slow.value - one.usual.value)

        ranked = sorted((one for one in self.steps if weight(one) > 0), key=weight, reverse=True)
        return tuple(ranked[:3])


@once_a_way
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
    network = one_at_a_time(
        [_activity(one) for one in steps], {one.step.id: one.step.by for one in steps}
    )
    timings = schedule(network)
    times = Timeline(way, tuple(steps), timings, (), (), network)
    return replace(times, clocks=_clocks(times))


def _clocks(times: Timeline) -> tuple[Clock, ...]:
    common_cause = times.way.scene.defaults.of("common-cause").value
    spreading = spread_at(times, common_cause)
    clocks = []
    for name, last in _ends(times).items():
        end = max(last, key=lambda one: finish_s(times.timings, one))
        path = critical_path(times.network, end)
        clocks.append(Clock(name, finish_s(times.timings, end), path, spreading[name]))
    return tuple(clocks)


def spread_at(times: Timeline, common_cause: float) -> dict[str, Spreading]:
    """The spread of every clock, were that share of it to slow all steps together."""
    spreads = tuple((one.step.id, one.spread) for one in times.steps)
    ends = tuple((name, tuple(last)) for name, last in _ends(times).items())
    return _sampled(times.network, spreads, ends, common_cause)


@lru_cache(maxsize=64)
def _sampled(
    network: tuple[Activity, ...],
    spreads: tuple[tuple[str, Spread], ...],
    ends: tuple[tuple[str, tuple[str, ...]], ...],
    common_cause: float,
) -> dict[str, Spreading]:
    """Spaces of one kind often have one timeline; it is sampled once."""
    return milestones(network, dict(spreads), dict(ends), common_cause=common_cause, seed=SEED)


def _ends(times: Timeline) -> dict[str, list[str]]:
    """By clock, the steps that reach it; a clock that no step reaches is left out."""
    ends = {
        name: [one.step.id for one in times.steps if one.step.reaches == name] for name in MOMENTS
    }
    return {name: last for name, last in ends.items() if last}


def how_sampled(scene: Scene) -> str:
    """How the percentiles were worked out, so that somebody else can get the same."""
    rho = scene.defaults.of("common-cause")
    return f"{RUNS} lattice runs, seed {SEED}, common cause {rho.value:g}"


def _activity(timed: TimedStep) -> Activity:
    return Activity(timed.step.id, timed.usual.value, tuple(timed.step.after))


def _timed(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    match step.computed:
        case "detection":
            return _detection(way, step)
        case "haul":
            return _worked(way, step, haul_time(way))
        case "off-site":
            return _worked(way, step, _journey(way, step))
        case "route-in":
            return _worked(way, step, route_time(way.scene, "in"))
        case "route-out":
            return _worked(way, step, route_time(way.scene, "out"))
        case None:
            return _stated(way, step)


def lacking(way: Way, step: Step) -> tuple[str, ...]:
    """The keys without which a step has no time: its own, or those of what it is computed from."""
    timed = _timed(way, step)
    return () if isinstance(timed, TimedStep) else timed


def _stated(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    key = way.key(f"step.{step.id}.usual")
    if step.usual is None:
        return (key,)
    usual = _figure(step, stated(_symbol(step), step.what, step.usual, Unit.S, key))
    drilled = step_times(way, step.id, usual.value)
    if drilled.withdraws(usual.value):
        return _withdrawn(way, step, usual, drilled)
    if step.best is not None and step.worst is not None:
        return _three_point(way, step, usual, step.best.s, step.worst.s)
    if step.one_in_ten is None:
        return _default_spread(way, step, usual)
    slow_key = way.key(f"step.{step.id}.one_in_ten")
    slow = stated(_symbol(step), step.what, step.one_in_ten, Unit.S, slow_key)
    sigma = spread_sigma(usual_s=usual.value, slow_s=slow.value)
    return TimedStep(step, usual, _figure(step, slow), LogNormal(usual.value, sigma))


def _withdrawn(way: Way, step: Step, usual: Quantity, drilled: Drilled) -> TimedStep:
    """What drills allow takes the place of a time that they contradict, never to the better."""
    allowed = drilled.allows(usual.value, way.scene.defaults.of("task-spread"))
    stated_slow = step.one_in_ten or step.worst
    middle_s = max(usual.value, allowed.middle_s)
    slow_s = max(allowed.slow_s, middle_s, stated_slow.s if stated_slow else 0.0)
    note = f"planned {clock_text(usual.value)} withdrawn; drills took {', '.join(drilled.written)}"
    middle = replace(usual, value=middle_s, source=Source.derived(note), written="")
    sigma = spread_sigma(usual_s=middle_s, slow_s=slow_s)
    return TimedStep(step, middle, replace(middle, value=slow_s), LogNormal(middle_s, sigma))


def _figure(step: Step, stated_time: Quantity) -> Quantity:
    """A time of the tool's own says what it is: an estimate that nobody measured."""
    if step.source != "tool":
        return stated_time
    note = f"estimate, not measured, grade {step.grade}"
    source = Source(mark=Mark.ESTIMATED, key=f"usual step {step.id}", note=note)
    return replace(stated_time, source=source)


def _three_point(way: Way, step: Step, usual: Quantity, best_s: float, worst_s: float) -> TimedStep:
    key = way.key(f"step.{step.id}.worst")
    slow = replace(usual, value=worst_s, source=Source.site(key), written="")
    if best_s == worst_s:
        return TimedStep(step, usual, slow, Certain(worst_s))
    return TimedStep(step, usual, slow, ThreePoint(best_s, usual.value, worst_s))


def _default_spread(
    way: Way, step: Step, usual: Quantity, working: Working | None = None
) -> TimedStep:
    sigma = way.scene.defaults.of("task-spread")
    slow = Quantity(
        symbol=_symbol(step),
        label=f"{step.what}, one time in ten",
        value=slow_duration_s(usual_s=usual.value, sigma=sigma.value),
        unit=Unit.S,
        source=Source(mark=sigma.source.mark, document=sigma.source.document, key="task-spread"),
    )
    return TimedStep(step, usual, slow, LogNormal(usual.value, sigma.value), working)


def _journey(way: Way, step: Step) -> Working | tuple[str, ...]:
    """The journey of the service of this step, or else of the method."""
    name = step.service or way.method.service
    if name is None:
        return (way.key(f"step.{step.id}.service"),)
    return journey_time(way.scene, way.scene.service(name))


def _worked(way: Way, step: Step, time: Working | tuple[str, ...]) -> TimedStep | tuple[str, ...]:
    """A step whose usual time is worked out; its spread is that of any other task."""
    if isinstance(time, tuple):
        return time
    if time.value <= 0:  # a route that is raised all the way has no time of its own
        return (way.key(f"step.{step.id}.usual"),)
    usual = Quantity(
        symbol=_symbol(step),
        label=step.what,
        value=time.value,
        unit=Unit.S,
        source=Source.derived(time.formula),
    )
    return _default_spread(way, step, usual, time)


def _detection(way: Way, step: Step) -> TimedStep | tuple[str, ...]:
    recognised = recognition(way.scene)
    if isinstance(recognised, tuple):
        return recognised
    usual, slow = (
        replace(one, symbol=_symbol(step), label=step.what)
        for one in (recognised.usual, recognised.slow)
    )
    return TimedStep(step, usual, slow, recognised.spread, recognised.working)


@dataclass(frozen=True, slots=True)
class Recognition:
    """How long it takes to see that something is wrong, from how contact is kept."""

    usual: Quantity
    slow: Quantity
    spread: Spread
    working: Working | None


def recognition(scene: Scene) -> Recognition | tuple[str, ...]:
    """The delay of recognition, or the key that is missing."""
    contact, key = scene.space.contact, scene.key("contact.check_interval")
    if contact.check_interval is None:
        if not contact.continuous:
            return (key,)
        delay = scene.defaults.of("detection-delay")
        return Recognition(delay, delay, Certain(delay.value), None)
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
    return Recognition(usual, slow, Uniform(tau.value), Working(slow.value, "0.9*tau", (tau,)))


def _symbol(step: Step) -> str:
    return "t_" + step.id.replace("-", "_")
