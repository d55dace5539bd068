"""The fan stops: noticed where a rule set demands it, and everybody out before a limit."""

import math
from typing import Any

import pytest
from broken_atmosphere import air, all_of, clears, meter, methane, shape, whole
from broken_haul import nothing
from broken_sites import Break, found, plan_with, rules_of, space, worst
from scipy.integrate import solve_ivp

from planbuilder.checks.air import vent_loss
from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.response.release import oxygen_falls_s

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
RULE, WELL, TRENCH, TANK = (
    "response/vent-loss-to-limit",
    "pump_station",
    "shored_trench",
    "storage_tank",
)


def asked(*breaks: Break, sample: str = WELL) -> list[Finding]:
    return found(plan_with(*breaks, sample=sample), RULE)


def canada(data: dict[str, Any]) -> None:
    data["plan"]["profile"] = "ca-federal"


def seconds(*breaks: Break, sample: str = WELL) -> float:
    (outcome,) = [one.outcome for one in asked(*breaks, sample=sample)]
    assert isinstance(outcome, Compared)
    return outcome.result.value


def test_every_rule_has_a_case() -> None:
    assert rules_of(vent_loss) == {RULE}


@pytest.mark.parametrize("sample", [WELL, TRENCH, TANK])
def test_the_samples_leave_in_time(sample: str) -> None:
    assert worst(asked(sample=sample)) is MEETS


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (meter(everybody_out="40 min"), FAILS),
        (meter(everybody_out=None), UNKNOWN),
        (clears(source_rate=None), UNKNOWN),
        (air(before_entry=None), UNKNOWN),
        (air(before_entry="5 min"), FAILS),  # people go in at more than the limit
        (clears(source_rate="0 L/min"), MEETS),
    ],
)
def test_it_fires_rests_and_says_unknown(change: Break, verdict: Verdict) -> None:
    assert worst(asked(change)) is verdict


def test_it_warns_and_blocks_where_a_rule_set_makes_it_law() -> None:
    slow = meter(everybody_out="40 min")

    assert [one.blocks for one in asked(slow)] == [False]
    (one,) = asked(slow, canada)
    assert one.blocks
    assert "11.11(1)(b)" in str(one.asked_by)


def test_a_stop_that_nobody_notices_blocks_in_construction_and_in_canada() -> None:
    rule, deaf = "response/fan-can-stop-unnoticed", {"alarm_on_stop": False}
    general = found(plan_with(air(**deaf)), rule)
    federal = found(plan_with(air(**deaf), canada), rule)
    construction = found(plan_with(air(1, **deaf), sample=TRENCH), rule)

    assert [one.blocks for one in general] == [False]
    assert [one.blocks for one in federal] == [True]
    assert [one.blocks for one in construction] == [True]


# ---- numbers, against a solved differential equation ----------------------------------------

LONG = air(before_entry="600 min")  # the level at entry is then what stays
ROOM = all_of(LONG, shape(volume="30 m3", liquid_depth="0 m"))


def solved_s(rate_m3_per_s: float, start: float, limit: float, *, vents: bool) -> float:
    """Until 30 m3 of still air come to *limit*: gas that comes in pushes as much air out."""

    def slope(_: float, part: list[float]) -> list[float]:
        return [rate_m3_per_s / 30 * (1 - part[0] if vents else 1)]

    def there(_: float, part: list[float]) -> float:
        return part[0] - limit

    there.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(slope, (0, 1e7), [start], events=there, rtol=1e-10, atol=1e-14)
    return float(run.t_events[0][0])


def steady(rate_m3_per_s: float) -> float:
    """What the wet well's fan leaves: flow and mixing factor as its purge is worked out with."""
    rows = found(plan_with(ROOM), "response/purge-impossible")
    (outcome,) = [one.outcome for one in rows]
    assert isinstance(outcome, Compared)
    by_name = {one.symbol: one.value for one in outcome.inputs}
    return by_name["K"] * rate_m3_per_s / by_name["Q"]


def test_hydrogen_sulfide_to_ten_ppm() -> None:
    rate = 0.02e-3 / 60

    assert seconds(ROOM) == pytest.approx(solved_s(rate, steady(rate), 10e-6, vents=True), rel=1e-6)


def test_oxygen_that_rust_takes_is_not_replaced() -> None:
    rate = 0.5e-3 / 60
    rust = all_of(ROOM, clears(kind="oxygen-deficiency", start="18 %", source_rate="0.5 L/min"))

    assert seconds(rust) == pytest.approx(
        solved_s(rate, steady(rate), 0.209 - 0.195, vents=False), rel=1e-6
    )


def test_inert_gas_drives_out_a_fifth_as_much_oxygen() -> None:
    rate = 10e-3 / 60
    inert = all_of(ROOM, clears(kind="inert-gas", start="15 %", source_rate="10 L/min"))
    limit = (0.209 - 0.195) / 0.209

    assert seconds(inert) == pytest.approx(
        solved_s(rate, steady(rate), limit, vents=True), rel=1e-6
    )


def test_methane_to_a_tenth_of_its_lower_limit() -> None:
    """5 % of methane in air: 0.5 %."""
    rate = 1e-3 / 60
    rows = {one.about: one for one in asked(ROOM, methane())}
    outcome = rows["flammable gas"].outcome

    assert isinstance(outcome, Compared)
    assert outcome.result.value == pytest.approx(
        solved_s(rate, steady(rate), 0.005, vents=True), rel=1e-6
    )


def test_a_fan_that_is_not_there_is_not_asked_about() -> None:
    assert asked(whole(ventilation=None)) == []
    assert asked(lambda data: space(data)["ventilation"].update(gas=[])) == []


@pytest.mark.parametrize("rate", [0.0, -1.0, math.nan])
def test_oxygen_that_nothing_uses_up_has_no_time(rate: float) -> None:
    with pytest.raises(ValueError, match="loss of oxygen"):
        oxygen_falls_s(volume_m3=1, loss_m3_per_s=rate, start=0, danger=0.01)


def test_worse_air_leaves_less_time() -> None:
    times = [seconds(ROOM, clears(source_rate=f"{rate} L/min")) for rate in (0.01, 0.02, 0.05)]

    assert times == sorted(times, reverse=True)
    assert seconds(nothing) > 0
