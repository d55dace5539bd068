"""Who goes in with air of their own, for how long, and what they breathe meanwhile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Way, counted, derived, stated
from planbuilder.checks.timing.timeline import lacking, timeline
from planbuilder.findings import Finding, Missing, Quantity, Unit
from planbuilder.response.air import breathed_m3, worst_breather_factor
from planbuilder.response.network import leading_to
from planbuilder.site.equipment import Equipment
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import CrewRole, MethodKind, Step
from planbuilder.units import Duration

ATMOSPHERIC = frozenset(
    (
        HazardKind.OXYGEN,
        HazardKind.INERT_GAS,
        HazardKind.HYDROGEN_SULFIDE,
        HazardKind.CARBON_MONOXIDE,
        HazardKind.FLAMMABLE,
        HazardKind.OTHER_TOXIC,
    )
)


BY_STEPS = 'Steps may carry a time on air instead: on_air = "in", "work" or "out".'


def worn(scene: Scene) -> Iterator[tuple[Way, Equipment]]:
    """The ways that go in with air of their own, each with what the rescuers wear."""
    for way in scene.ways():
        if way.method.method is MethodKind.ENTRY and way.method.breathing_set is not None:
            yield way, scene.equipment(way.method.breathing_set)


def has_bad_air(scene: Scene) -> bool:
    """Whether the air of the space can hurt whoever breathes it."""
    return any(one.kind in ATMOSPHERIC for one in scene.space.hazard)


@dataclass(frozen=True, slots=True)
class Mission:
    """Going in, working, coming out: rates and times, and somebody who breathes more."""

    factor: Quantity
    rate_in: Quantity
    time_in: Quantity
    rate_work: Quantity
    time_work: Quantity
    rate_out: Quantity
    time_out: Quantity

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """Everything that the air needed is worked out from."""
        return (
            self.factor,
            *(self.rate_in, self.time_in),
            *(self.rate_work, self.time_work),
            *(self.rate_out, self.time_out),
        )

    @property
    def in_m3(self) -> float:
        """Air for the way in."""
        return self._breathed_m3((self.rate_in, self.time_in))

    @property
    def out_m3(self) -> float:
        """Air for the way out."""
        return self._breathed_m3((self.rate_out, self.time_out))

    @property
    def stay_m3(self) -> float:
        """Air from reaching the casualty to the end."""
        return self._breathed_m3((self.rate_work, self.time_work), (self.rate_out, self.time_out))

    @property
    def need_m3(self) -> float:
        """Air for all of it."""
        return self.in_m3 + self.stay_m3

    @property
    def time_s(self) -> float:
        """How long all of it takes."""
        return self.time_in.value + self.time_work.value + self.time_out.value

    def _breathed_m3(self, *phases: tuple[Quantity, Quantity]) -> float:
        pairs = [(rate.value, time.value) for rate, time in phases]
        return self.factor.value * breathed_m3(pairs)


NEED = "k_b*(q_in*t_in + q_work*t_work + q_out*t_out)"


def mission(way: Way, needs: Needs) -> Mission:
    """What the rescuers of *way* breathe, at the tool's rates and the one-in-ten breather."""
    air, of = way.method.air, way.scene.defaults.of
    needs.missing += [way.key(f"step.{one}.on_air") for one in _unsaid(way)]
    spread = of("breather-spread")
    factor = derived(
        "k_b",
        "one-in-ten breather over the usual",
        worst_breather_factor(spread.value),
        Unit.RATIO,
        "exp(1.2816*s_b)",
        (spread,),
    )
    return Mission(
        factor,
        of("air-rate-in"),
        _time(way, needs, "in", "on the way in", air.time_in),
        of("air-rate-work"),
        _time(way, needs, "work", "working at the casualty", air.time_work),
        of("air-rate-out"),
        _time(way, needs, "out", "on the way out with the casualty", air.time_out),
    )


def _time(way: Way, needs: Needs, phase: str, label: str, said: Duration | None) -> Quantity:
    """The time on air in one phase: as stated, or that of its steps on a slow day if longer."""
    symbol, key = f"t_{phase}", way.key(f"air.time_{phase}")
    steps = _on_air(way, phase)
    if not steps:
        return needs.take(symbol, label, said, Unit.S, key)
    timed = {one.step.id: one.slow for one in timeline(way).steps}
    slow = [timed[one.id] for one in steps if one.id in timed]
    needs.missing += [key for one in steps if one.id not in timed for key in lacking(way, one)]
    value = sum(one.value for one in slow)
    if said is not None and said.s > value:
        return stated(symbol, label, said, Unit.S, key)
    note = f"{' + '.join(one.id for one in steps)}, each on a slow day"
    return derived(symbol, label, value, Unit.S, note, tuple(slow))


def _unsaid(way: Way) -> list[str]:
    """Steps between the first one on air and the casualty out that do not say their phase.

    Whoever does them, those inside breathe meanwhile.
    """
    network = timeline(way).network
    worn = {one.id for one in way.method.step if one.on_air}
    ends = [one.id for one in way.method.step if one.reaches == "out"]
    if not network or not worn:
        return []
    till_out = dict.fromkeys(one.id for end in ends for one in leading_to(network, end))
    return [
        one
        for one in till_out
        if one not in worn and worn & {before.id for before in leading_to(network, one)}
    ]


def _on_air(way: Way, phase: str) -> list[Step]:
    """The steps of *way* that somebody is on air in, on the way in, at work or on the way out."""
    return [one for one in way.method.step if one.on_air == phase]


def time_keys(way: Way, phase: str) -> tuple[str, ...]:
    """The keys that the time of a phase on air comes from: those of its steps where it has some."""
    steps = _on_air(way, phase)
    own = getattr(way.method.air, f"time_{phase}")
    stated_key = (way.key(f"air.time_{phase}"),) if own is not None or not steps else ()
    tails = (f"step.{one.id}.{'computed' if one.computed else 'usual'}" for one in steps)
    return (*stated_key, *(way.key(one) for one in tails))


def or_steps(one: Finding) -> Finding:
    """A finding that asks for a time on air says that steps may carry it as well."""
    asks = isinstance(one.outcome, Missing) and any(".air.time_" in key for key in one.keys)
    return replace(one, settle_by=f"{one.settle_by} {BY_STEPS}") if asks else one


def goers(way: Way) -> Quantity:
    """The people who go in, or stand by dressed to."""
    count = len(way.crew(CrewRole.ENTRY)) + len(way.crew(CrewRole.BACK_UP))
    return counted("n_users", "rescuers in sets", count, way.key("crew"))
