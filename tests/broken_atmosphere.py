"""Ways of breaking ventilation, releases and gas meter of a sample site, and a case a rule."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from broken_sites import Break, space

from planbuilder.findings import Verdict

FAILS, UNKNOWN = Verdict.FAILS, Verdict.UNKNOWN
TRENCH = "shored_trench"  # its second space has a release, and a fan with a duct
WELL = "pump_station"


def _put(target: dict[str, Any], values: dict[str, Any]) -> None:
    for key, value in values.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value


def _setter(pick: Callable[[dict[str, Any]], dict[str, Any]]) -> Callable[..., Break]:
    def setter(number: int = 0, **values: Any) -> Break:
        return lambda data: _put(pick(space(data, number)), values)

    return setter


air = _setter(lambda one: one["ventilation"])
clears = _setter(lambda one: one["ventilation"]["gas"][0])
duct = _setter(lambda one: one["ventilation"]["duct"])
shape = _setter(lambda one: one["shape"])
points = _setter(lambda one: one["set_points"])
meter = _setter(lambda one: one["monitoring"])
task = _setter(lambda one: one["task"])
hazard = _setter(lambda one: one["hazard"][0])
whole = _setter(lambda one: one)
leak = _setter(lambda one: one["release"][0])


def all_of(*breaks: Break) -> Break:
    """One change after the other."""

    def change(data: dict[str, Any]) -> None:
        for one in breaks:
            one(data)

    return change


def methane(**facts: Any) -> Break:
    """The well may hold methane, read as a share of its limit."""
    named = {"substance": "methane", "basis": "nfpa-497", **facts}
    gas = {"kind": "flammable-gas", "control": "Fresh air before and during entry"}

    def change(data: dict[str, Any]) -> None:
        one = space(data)
        one["hazard"].append(gas)
        one["flammable"] = {key: value for key, value in named.items() if value is not None}
        one["ventilation"]["gas"].append(
            {"kind": "flammable-gas", "start": "60 %", "source_rate": "1 L/min"}
        )

    return change


def sealed(stay: str | None) -> Break:
    """Nobody ventilates the valve chamber of 4 m3, and somebody stays in it for *stay*."""
    return all_of(
        shape(1, volume="4 m3"),
        task(1, longest_stay=stay),
    )


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown."""

    fires: Break
    unknown: Break
    rests: Break | None = None
    sample: str = WELL
    on: date = date(2026, 11, 25)


CASES: dict[str, Case] = {
    "response/ventilation-not-stated": Case(whole(ventilation=None), air(blower=None)),
    "response/fan-free-air-flow": Case(air(flow_is="free-air"), air(flow_is=None)),
    "response/flow-not-measured": Case(
        air(flow_measured_on=date(2026, 11, 26)), air(flow_measured_on=None)
    ),
    "response/mixing-assumed": Case(air(mixing_factor=1.5), air(layout=None)),
    "response/no-far-end-test": Case(air(far_end_test=False), air(far_end_test=None)),
    "response/fan-can-stop-unnoticed": Case(air(alarm_on_stop=False), air(alarm_on_stop=None)),
    "response/intake-not-clean": Case(air(clean_intake=False), air(clean_intake=None)),
    "response/purge-impossible": Case(clears(source_rate="1 L/min"), clears(source_rate=None)),
    "response/purge-too-short": Case(air(before_entry="5 min"), air(before_entry=None)),
    "response/oxygen-used-up": Case(sealed("1 h"), sealed(None), sealed("20 min")),
    "response/lfl-basis-missing": Case(methane(basis=None), methane(basis=None), methane()),
    "response/alarm-to-danger": Case(
        meter(1, everybody_out="20 min"), leak(1, rate=None), sample=TRENCH
    ),
    "response/set-point-late": Case(
        leak(1, rate="10 L/min"), meter(1, response_time=None), sample=TRENCH
    ),
    "response/meter-lag": Case(
        meter(1, response_time="9 min"), meter(1, sample_line="30 ft"), sample=TRENCH
    ),
    "response/sample-wait-too-short": Case(meter(wait_at_stop="1 min"), meter(pump_flow=None)),
    "response/test-order": Case(meter(order=["flammable", "oxygen", "toxic"]), meter(order=None)),
    "response/meter-not-bump-tested": Case(
        meter(bump_test_daily=False), meter(bump_test_daily=None)
    ),
}
# Nothing can be stated that the rule would refuse: it fires by leaving a statement out.
FIRES_BY_SILENCE = {"response/lfl-basis-missing", "response/ventilation-not-stated"}
