"""Traffic, an engine and hot work beside the pump station, and ways of breaking them."""

from dataclasses import dataclass
from typing import Any

from broken_sites import Break, space

TRAFFIC: dict[str, Any] = {
    "lane": "lane-closed",
    "speed": "30 mph",
    "lane_distance": "4 ft",
    "lane_width": "12 ft",
    "buffer": "200 ft",
    "taper": "180 ft",
    "barrier": True,
}
# The wind blows from the west: the engine stands in the east, the blower draws in the west.
ENGINE: dict[str, Any] = {
    "name": "Generator",
    "kind": "exhaust",
    "distance": "25 ft",
    "bearing": "80 deg",
    "to_intake": "33 ft",
}


def _given(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


def traffic(**values: Any) -> Break:
    """Traffic beside the wet well; None takes a key of it away."""
    return lambda data: space(data).update(traffic=_given({**TRAFFIC, **values}))


def engine(wind: str | None = "270 deg", **values: Any) -> Break:
    """An engine near the wet well; None takes a key of it away."""

    def change(data: dict[str, Any]) -> None:
        one = space(data)
        one["nearby"] = [_given({**ENGINE, **values})]
        one["ventilation"].update(intake_distance="2 m", intake_bearing="300 deg")
        if wind is not None:
            one["wind_from"] = wind

    return change


def intake(**values: Any) -> Break:
    """An engine, and other facts on the intake of the blower."""

    def change(data: dict[str, Any]) -> None:
        engine()(data)
        air = space(data)["ventilation"]
        for key, value in values.items():
            air.pop(key)
            if value is not None:
                air[key] = value

    return change


def hot_work(distance: str | None) -> Break:
    """Somebody welds near the wet well."""
    facts = {"name": "Welding of the rail", "kind": "hot-work", "distance": distance}
    return lambda data: space(data).update(nearby=[_given(facts)])


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what leaves it unknown, and what it rests on."""

    fires: Break | None
    unknown: Break
    rests: Break


CASES: dict[str, Case] = {
    "clearance/traffic-not-stated": Case(None, traffic(lane=None), traffic()),
    "clearance/traffic-lane-too-near": Case(
        traffic(lane_distance="1 ft"), traffic(lane_distance=None), traffic()
    ),
    "clearance/traffic-buffer-short": Case(
        traffic(buffer="195 ft"), traffic(speed=None), traffic()
    ),
    "clearance/traffic-taper-short": Case(
        traffic(taper="179 ft"), traffic(lane_width=None), traffic()
    ),
    "clearance/traffic-no-barrier": Case(traffic(barrier=False), traffic(barrier=None), traffic()),
    "clearance/exhaust-too-near": Case(engine(distance="19 ft"), engine(distance=None), engine()),
    "clearance/exhaust-upwind": Case(engine(bearing="200 deg"), engine(wind=None), engine()),
    "clearance/exhaust-at-intake": Case(
        engine(to_intake="19 ft"), engine(to_intake=None), engine()
    ),
    "clearance/hot-work-too-near": Case(hot_work("30 ft"), hot_work(None), hot_work("36 ft")),
    "clearance/intake-too-near": Case(
        intake(intake_distance="1 m"), intake(intake_distance=None), engine()
    ),
    "clearance/intake-downwind": Case(
        intake(intake_bearing="100 deg"), intake(intake_bearing=None), engine()
    ),
}
