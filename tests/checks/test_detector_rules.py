"""The gas detector: a sensor for each gas, calibration, accuracy, one for the rescuers."""

from datetime import date
from typing import Any

import pytest
from broken_atmosphere import meter
from broken_crew import put
from broken_haul import nothing
from broken_sites import Break, entry, found, plan_with, rules_of, space, way, worst

from planbuilder.checks.air import detectors
from planbuilder.findings import Finding, Verdict

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
TANK = "storage_tank"
ALL = ["oxygen", "flammable", "hydrogen-sulfide", "carbon-monoxide"]


def facts(**values: Any) -> Break:
    return lambda data: put(entry(data, "equipment", "monitor")["meter"], **values)


def item(**values: Any) -> Break:
    return lambda data: put(entry(data, "equipment", "monitor"), **values)


def asked(rule: str, *breaks: Break, on: date = date(2026, 11, 25)) -> list[Finding]:
    return found(plan_with(*breaks, sample=TANK, on=on), rule)


def gas(kind: str) -> Break:
    return lambda data: space(data)["hazard"].append({"kind": kind, "control": "Monitor"})


# rule: what makes it fire, and what leaves it unknown.
CASES: dict[str, tuple[Break, Break]] = {
    "plan/no-sensor-for-gas": (facts(sensors=["flammable"]), item(meter=None)),
    "plan/meter-calibration-overdue": (
        facts(calibrated=date(2026, 5, 20)),
        facts(calibration_interval=None),
    ),
    "plan/meter-inaccurate": (facts(accuracy="12 %"), facts(accuracy=None)),
    "plan/no-meter-for-rescuers": (item(quantity=1), meter(rescuers_meter=None)),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(detectors)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, unknown = CASES[rule]

    assert worst(asked(rule, fires)) is FAILS
    assert worst(asked(rule, nothing)) is MEETS
    assert worst(asked(rule, unknown)) is UNKNOWN


@pytest.mark.parametrize("rule", ["plan/no-sensor-for-gas", "plan/meter-calibration-overdue"])
@pytest.mark.parametrize("number", [0, 1])
def test_a_blind_or_stale_meter_blocks(rule: str, number: int) -> None:
    assert any(one.blocks for one in asked(rule, CASES[rule][number]))


@pytest.mark.parametrize(
    ("kind", "sensor"),
    [
        ("hydrogen-sulfide", "hydrogen-sulfide"),
        ("carbon-monoxide", "carbon-monoxide"),
        ("flammable-gas", "flammable"),
        ("inert-gas", "oxygen"),
    ],
)
def test_each_gas_that_is_feared_wants_its_sensor(kind: str, sensor: str) -> None:
    blind = facts(sensors=[one for one in ALL if one != sensor])
    rows = {one.about: one for one in asked("plan/no-sensor-for-gas", gas(kind), blind)}

    assert rows[sensor.replace("-", " ")].blocks


def test_a_set_point_wants_a_sensor_too() -> None:
    """A meter that has no such sensor never reaches the point."""
    blind = facts(sensors=["oxygen", "flammable"])
    points: Break = lambda data: put(space(data)["set_points"], carbon_monoxide="35 ppm")  # noqa: E731

    assert worst(asked("plan/no-sensor-for-gas", blind)) is MEETS
    assert worst(asked("plan/no-sensor-for-gas", blind, points)) is FAILS


def test_calibration_of_a_day_to_come_is_no_calibration() -> None:
    rule = "plan/meter-calibration-overdue"

    assert worst(asked(rule, facts(calibrated=date(2026, 11, 26)))) is FAILS
    assert worst(asked(rule, facts(calibrated=date(2026, 11, 25)))) is MEETS


def test_the_last_day_of_work_decides() -> None:
    """Six months from 3 June run to 3 December, the last day of the work."""
    rule = "plan/meter-calibration-overdue"

    assert worst(asked(rule, facts(calibrated=date(2026, 6, 3)))) is MEETS
    assert worst(asked(rule, facts(calibrated=date(2026, 6, 2)))) is FAILS


def test_exactly_the_accuracy_asked_for_is_enough() -> None:
    assert worst(asked("plan/meter-inaccurate", facts(accuracy="10 %"))) is MEETS


def test_nobody_who_goes_in_needs_no_second_meter() -> None:
    def from_outside(data: dict[str, Any]) -> None:
        for name in ("primary", "fallback"):
            way(data, name)["method"] = "non-entry"

    assert asked("plan/no-meter-for-rescuers", from_outside) == []


def test_a_space_without_gas_and_tests_needs_no_meter() -> None:
    rows = plan_with(sample="pump_station").findings
    ours = [one for one in rows if one.rule.id in CASES and one.space == "valve-chamber"]

    assert ours == []
