"""A gas let out while people are inside: is there time to leave after the alarm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planbuilder.checks.air.atmosphere import (
    LIMITS,
    OXYGEN_KINDS,
    judged,
    lower_limit,
    part,
    volume,
    words,
)
from planbuilder.checks.air.gas_meter import lag, line_time
from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Working, derived, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.release import displaced_part, rise_time_s
from planbuilder.response.sensing import late_on_ramp_s, part_at_alarm
from planbuilder.response.ventilation import OXYGEN_OF_AIR
from planbuilder.site.atmosphere import Gas, Monitoring, Release
from planbuilder.site.hazard import HazardKind

STILL = Source(mark=Mark.DERIVED, note="well mixed, fan standing still")
BASIS = Rule(
    "response/lfl-basis-missing",
    "Which lower flammable limit the readings are shares of",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, note="the standards differ by a seventh for methane"),
)
DANGER = Rule(
    "response/alarm-to-danger", "Time to leave between alarm and danger", Weight.BLOCKS, STILL
)
LATE = Rule(
    "response/set-point-late", "Level that is there when the alarm sounds", Weight.WARNS, STILL
)
LAG = Rule("response/meter-lag", "Lag of the meter against the time left", Weight.WARNS, STILL)
_DANGERS = {
    Gas.INERT: "danger-oxygen",
    Gas.HYDROGEN_SULFIDE: "danger-hydrogen-sulfide",
    Gas.CARBON_MONOXIDE: "danger-carbon-monoxide",
    Gas.FLAMMABLE: "danger-flammable",
}


def check_limit_basis(scene: Scene) -> Iterator[Finding]:
    """Where gas may burn, the plan says which gas and whose limit its readings are shares of."""
    space = scene.space
    named = {one.kind for one in space.release}
    named |= {one.kind for one in space.ventilation.gas} if space.ventilation else set()
    burns = any(one.kind is HazardKind.FLAMMABLE for one in space.hazard)
    if not burns and Gas.FLAMMABLE not in named and space.flammable is None:
        return
    needs = Needs()
    limit = lower_limit(scene, needs)
    yield judged(
        scene,
        BASIS,
        needs,
        lambda: Stated(
            holds=True,
            because=f"{limit.label}: {limit.value:.2%}, {_basis_words(scene)}",
        ),
        settle_by="Say what the gas is and take the basis from the meter's manual: flammable."
        "substance, flammable.basis, and flammable.lower_limit if it is in no table.",
        keys=(scene.key("flammable.basis"),),
    )


def _basis_words(scene: Scene) -> str:
    basis = scene.space.flammable.basis if scene.space.flammable else None
    return basis.replace("-", " ") if basis else ""


@dataclass(frozen=True, slots=True)
class _Rise:
    """One release: how much air there is, where the alarm sounds, where danger begins."""

    needs: Needs
    space: Quantity
    rate: Quantity
    alarm: Quantity
    danger: Quantity
    leave: Quantity

    def time_s(self) -> float:
        return rise_time_s(
            volume_m3=self.space.value,
            release_m3_per_s=self.rate.value,
            start=self.alarm.value,
            danger=self.danger.value,
        )


def _rise(scene: Scene, release: Release) -> _Rise:
    needs, kind = Needs(), release.kind
    meter = scene.space.monitoring or Monitoring()
    point_name = LIMITS[kind][1]
    point_key = scene.key(f"set_points.{point_name}")
    point = getattr(scene.space.set_points, point_name)
    danger = scene.defaults.of(_DANGERS[kind])
    return _Rise(
        needs=needs,
        space=volume(scene, needs, free=True),
        rate=needs.take(
            "G", "release", release.rate, Unit.M3_PER_S, scene.key(f"release.{kind}.rate")
        ),
        alarm=displaced(needs, kind, part(scene, needs, kind, point, point_key, "alarm")),
        danger=displaced(needs, kind, part(scene, needs, kind, danger, "", "danger")),
        leave=needs.take(
            "t_out",
            "time until everybody is out",
            meter.everybody_out,
            Unit.S,
            scene.key("monitoring.everybody_out"),
        ),
    )


def onset_s(scene: Scene, release: Release) -> float | None:
    """From the alarm until the air is dangerous, in still air, in s; None where not known."""
    rise = _rise(scene, release)
    time_s = rise.needs.work(rise.time_s)
    return None if rise.needs.missing or rise.needs.refused else time_s


def displaced(needs: Needs, kind: Gas, lacking: Quantity) -> Quantity:
    """For an inert gas, the part of the air that it has taken; any other gas as it is."""
    if kind not in OXYGEN_KINDS:
        return lacking
    oxygen = lacking.of[0]
    value = needs.work(lambda: displaced_part(oxygen=oxygen.value, oxygen_of_air=OXYGEN_OF_AIR))
    note = "(0.209 - O)/0.209"
    return derived("C", "inert gas", value, Unit.FRACTION, note, (oxygen,))


def check_release(scene: Scene) -> Iterator[Finding]:
    """From the alarm on there is time for everybody to leave, and the meter does not use it up."""
    for release in scene.space.release:
        rise = _rise(scene, release)
        yield _time_to_leave(scene, release, rise)
        yield _late(scene, release, rise)
        yield _meter_lag(scene, release, rise)


def _symbols(rise: _Rise) -> tuple[Quantity, ...]:
    return (
        rise.space,
        rise.rate,
        replace(rise.alarm, symbol="C_a"),
        replace(rise.danger, symbol="C_d"),
    )


def _time_to_leave(scene: Scene, release: Release, rise: _Rise) -> Finding:
    needs = Needs()
    needs.also(rise.needs)
    late = lag(scene, needs)

    def outcome() -> Compared:
        wanted = rise.leave.value + late.value
        note = "time until everybody is out, and lag of the meter"
        limit = derived("t_l", note, wanted, Unit.S, "t_out + t_lag", (rise.leave, late))
        formula = "max(V/G*log((1 - C_a)/(1 - C_d)), 0)"
        return Working(rise.time_s(), formula, _symbols(rise)).against(
            Relation.AT_LEAST,
            limit,
            result=output("t_d", "from alarm to danger, in still air", Unit.S),
        )

    return judged(
        scene,
        DANGER,
        needs,
        outcome,
        settle_by="Isolate the source, set the alarm lower, shorten the way out, or have everybody "
        "wear a breathing set.",
        keys=(scene.key("release"), scene.key("monitoring.everybody_out")),
        about=words(release.kind),
    )


def _late(scene: Scene, release: Release, rise: _Rise) -> Finding:
    needs = Needs()
    needs.also(rise.needs)
    meter = scene.space.monitoring or Monitoring()
    line = line_time(scene, meter, needs)
    key = scene.key("monitoring.response_time")
    response = needs.take("t_90", "response time", meter.response_time, Unit.S, key)

    def outcome() -> Compared:
        value = part_at_alarm(
            set_point=rise.alarm.value,
            rise_per_s=rise.rate.value / rise.space.value,
            late_s=late_on_ramp_s(line_s=line.value, response_s=response.value),
        )
        space, rate, alarm, danger = _symbols(rise)
        formula, inputs = "C_a + G/V*(t_line + t_90/log(10))", (alarm, rate, space, line, response)
        return Working(value, formula, inputs).against(
            Relation.LESS_THAN,
            danger,
            result=output("C", "level when the alarm sounds", Unit.FRACTION),
        )

    return judged(
        scene,
        LATE,
        needs,
        outcome,
        settle_by="Set the alarm lower, use a quicker meter, or a shorter and thinner line.",
        keys=(key, scene.key(f"set_points.{LIMITS[release.kind][1]}")),
        about=words(release.kind),
    )


def _meter_lag(scene: Scene, release: Release, rise: _Rise) -> Finding:
    needs = Needs()
    needs.also(rise.needs)
    late = lag(scene, needs)

    def outcome() -> Compared:
        left = rise.time_s() - rise.leave.value
        note = "half of the time from alarm to danger, less the time to leave"
        limit = derived("t_half", note, left / 2, Unit.S, "(t_d - t_out)/2", (rise.leave,))
        return Working(late.value, "t_lag", (late,)).against(
            Relation.AT_MOST, limit, result=output("t_lag", "lag of the meter", Unit.S)
        )

    return judged(
        scene,
        LAG,
        needs,
        outcome,
        settle_by="Use a meter worn inside instead of a sample line, or a shorter and thinner "
        "line with a stronger pump.",
        keys=(scene.key("monitoring.sample_line"), scene.key("monitoring.response_time")),
        about=words(release.kind),
    )
