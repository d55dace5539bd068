"""How long a way takes, from its stretches or from the road: needed by travel and team checks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from planbuilder.checks.scene import Scene, Way, Working, stated
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.travel import (
    ROAD_SPEED_M_PER_S,
    ROAD_START_S,
    off_site_s,
    road_acceleration_m_per_s2,
    road_junction_m,
    road_s,
    route_s,
    stretch_s,
)
from planbuilder.site.people import Service
from planbuilder.site.travel import Carrying, Going, Segment, Stretch
from planbuilder.tables import table
from planbuilder.units import Dimension, Duration, Speed, parse

Direction = Literal["in", "out"]


def route_time(scene: Scene, direction: Direction) -> Working | tuple[str, ...]:
    """The time of the team to the casualty, or back with the casualty; or what is missing.

    The way out has its own manner of getting along on every stretch; what is raised by the rig
    takes no time here, since the raise is a step of its own.
    """
    stretches, key = scene.space.route, scene.key("route")
    if not stretches:
        return (key,)
    legs: list[_Leg | str] = []
    for number, one in enumerate(stretches, 1):
        here = f"{key}.{number}"
        if direction == "in":
            legs.append(_Leg(number, here, one, one.going_in, one.speed_in, one.pause_in, "in"))
        elif one.coming_out is None:
            legs.append(f"{here}.coming_out")
        elif one.coming_out is not Carrying.RAISED:
            legs.append(_out(number, here, one, one.coming_out))
        elif all(way.rig is None for way in scene.ways()):
            legs.append(scene.key("rescue.primary.rig"))
    return _worked(scene, legs)


def way_between(scene: Scene, stretches: Sequence[Stretch], key: str) -> Working | tuple[str, ...]:
    """The time of a team from another opening to this one, or what is missing."""
    if not stretches:
        return (key,)
    return _worked(
        scene,
        [
            _Leg(n, f"{key}.{n}", one, one.going_in, one.speed_in, one.pause_in, "in")
            for n, one in enumerate(stretches, 1)
        ],
    )


class _Leg:
    """One stretch in one direction, as quantities for the printed formula."""

    def __init__(
        self,
        number: int,
        key: str,
        stretch: Stretch,
        kind: Going | Carrying,
        own: Speed | None,
        pause: Duration | None,
        tail: Direction,
    ) -> None:
        self.length = stated(f"L_{number}", stretch.what, stretch.length, Unit.M, f"{key}.length")
        self.speed = _speed(number, kind, own, f"{key}.speed_{tail}")
        self.pause = (
            stated(f"p_{number}", f"pause, {stretch.what}", pause, Unit.S, f"{key}.pause_{tail}")
            if pause
            else None
        )

    @property
    def seconds(self) -> float:
        return stretch_s(length_m=self.length.value, speed_m_per_s=self.speed.value)

    @property
    def terms(self) -> list[str]:
        paused = [self.pause.symbol] if self.pause else []
        return [f"{self.length.symbol}/{self.speed.symbol}", *paused]

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        return (self.length, self.speed, *([self.pause] if self.pause else []))


def _out(number: int, key: str, one: Segment, kind: Carrying) -> _Leg:
    return _Leg(number, key, one, kind, one.speed_out, one.pause_out, "out")


def _speed(number: int, kind: Going | Carrying, own: Speed | None, key: str) -> Quantity:
    label = f"speed, {kind.replace('-', ' ')}"
    if own is not None:
        return stated(f"v_{number}", label, own, Unit.M_PER_S, key)
    row = table("travel_speeds")[kind.value]
    source = Source(
        mark=Mark(row["mark"]), document=row.get("document", ""), note=row.get("note", "")
    )
    return Quantity(
        symbol=f"v_{number}",
        label=label,
        value=parse(row["speed"], Dimension.SPEED).value,
        unit=Unit.M_PER_S,
        source=source,
        written=row["speed"],
    )


def _worked(scene: Scene, found: Sequence[_Leg | str]) -> Working | tuple[str, ...]:
    missing = tuple(dict.fromkeys(one for one in found if isinstance(one, str)))
    if missing:
        return missing
    legs = [one for one in found if isinstance(one, _Leg)]
    factor = scene.defaults.of("travel-factor")
    value = route_s(
        stretches_s=[one.seconds for one in legs],
        pauses_s=[one.pause.value for one in legs if one.pause],
        factor=factor.value,
    )
    terms = [term for one in legs for term in one.terms]
    inputs = tuple(each for one in legs for each in one.inputs)
    return Working(value, f"{factor.symbol}*({' + '.join(terms or ['0'])})", (factor, *inputs))


def off_site_time(way: Way) -> Working | tuple[str, ...]:
    """From the call until the team of the method stands at the opening, or what is missing."""
    if way.method.service is None:
        return (way.key("service"),)
    return journey_time(way.scene, way.scene.service(way.method.service))


def has_journey(service: Service) -> bool:
    """Whether anything is said of how the service gets here."""
    parts = (service.turn_out, service.driven, service.road_distance, service.walk_in)
    return any(one is not None for one in parts)


def journey_time(scene: Scene, service: Service) -> Working | tuple[str, ...]:
    """From the call until *service* stands at the opening, or what is missing."""
    key, drive = f"service.{service.id}", _drive(scene, service)
    missing = drive if isinstance(drive, tuple) else ()
    missing += tuple(
        f"{key}.{name}" for name in ("turn_out", "walk_in") if getattr(service, name) is None
    )
    if isinstance(drive, tuple) or service.turn_out is None or service.walk_in is None:
        return missing
    call = scene.defaults.of("call-handling")
    out = stated("t_out", "turn-out", service.turn_out, Unit.S, f"{key}.turn_out")
    walk = stated(
        "t_walk", "from the gate to the opening", service.walk_in, Unit.S, f"{key}.walk_in"
    )
    value = off_site_s(
        call_s=call.value, turn_out_s=out.value, drive_s=drive.value, walk_in_s=walk.value
    )
    formula = f"{call.symbol} + {out.symbol} + {drive.formula} + {walk.symbol}"
    return Working(value, formula, (call, out, *drive.inputs, walk))


def _drive(scene: Scene, service: Service) -> Working | tuple[str, ...]:
    """As driven on a day, or else from the length of the road."""
    key = f"service.{service.id}"
    if service.driven is not None:
        if service.driven_on is None or service.driven_on > scene.on:
            return (f"{key}.driven_on",)
        driven = stated("t_drive", "drive, as driven", service.driven, Unit.S, f"{key}.driven")
        return Working(driven.value, driven.symbol, (driven,))
    if service.road_distance is None:
        return (f"{key}.driven",)
    road = stated("D", "length of the road", service.road_distance, Unit.M, f"{key}.road_distance")
    try:
        value = road_s(distance_m=road.value)
    except ValueError:
        return (f"{key}.driven",)
    if road.value <= road_junction_m():
        rate = _known("a", "mean acceleration", road_acceleration_m_per_s2(), Unit.M_PER_S2)
        return Working(value, "2*sqrt(D/a)", (road, rate))
    start = _known("t_0", "start and stop", ROAD_START_S, Unit.S)
    speed = _known("v", "speed in town", ROAD_SPEED_M_PER_S, Unit.M_PER_S)
    return Working(value, "t_0 + D/v", (start, road, speed))


def _known(symbol: str, label: str, value: float, unit: Unit) -> Quantity:
    source = Source(mark=Mark.READ, document="Fire rating schedule")
    return Quantity(symbol=symbol, label=label, value=value, unit=unit, source=source)
