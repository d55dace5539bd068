"""Rules of breathing air: each fires, rests and says unknown, on the rescue that goes in."""

from dataclasses import dataclass

import pytest
from broken_air import (
    WORKED,
    backup_with,
    bad_air,
    method,
    no_air,
    on_line,
    supply,
    taken,
    with_escape,
)
from broken_haul import both, put
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks import RULES, cylinder_heat
from planbuilder.checks.air import air_crews, air_lines, turning_back
from planbuilder.checks.air import lasting as air
from planbuilder.findings import Compared, Finding, Stated, Verdict, Weight

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown."""

    fires: Break
    rests: Break | None = None
    unknown: Break | None = None


CASES = {
    "response/air-runs-out": Case(taken(**WORKED), unknown=no_air),
    "response/ideal-gas-overstates": Case(
        taken(time_in="4 min", time_work="4 min", time_out="5 min")
    ),
    "response/turn-back-pressure": Case(
        taken(time_in="6 min", time_work="3 min", time_out="6 min"),
    ),
    "response/low-air-alarm-too-late": Case(taken(time_out="6 min")),
    "response/cylinder-warmer-than-filled": Case(supply(filled_at="5 degC", coldest="25 degC")),
    "response/too-few-sets": Case(put("equipment", "set", quantity=2)),
    "response/backup-air-shorter": Case(
        backup_with(water_volume="1.5 L"), backup_with(), backup_with(water_volume=None)
    ),
    "response/one-cylinder-only": Case(
        taken(work_in_all="20 min"),
        taken(work_in_all="20 min", crew_pairs=20),
    ),
    # Named or not named: there is nothing between.
    "response/air-line-without-escape": Case(on_line(), both(on_line(), with_escape()), on_line()),
    "response/escape-set-too-small": Case(
        with_escape(rated_volume="100 L"),
        with_escape(),
        with_escape(rated_volume=None),
    ),
    "response/air-line-too-long": Case(
        on_line(hose_length="301 ft"), on_line(hose_length="300 ft"), on_line(hose_length=None)
    ),
    "response/air-line-flow": Case(
        on_line(flow="110 L/min"), on_line(flow="4 cfm"), on_line(flow=None)
    ),
}
# Their missing data keep another rule from passing: the set's air, or who goes in.
NEVER_UNKNOWN = {
    "response/ideal-gas-overstates",
    "response/turn-back-pressure",
    "response/low-air-alarm-too-late",
    "response/cylinder-warmer-than-filled",
    "response/one-cylinder-only",
    "response/too-few-sets",
}


def test_every_rule_of_air_has_a_case() -> None:
    assert set(CASES) == rules_of(air, air_crews, air_lines, cylinder_heat, turning_back)
    assert {rule for rule, case in CASES.items() if case.unknown is None} == NEVER_UNKNOWN


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    findings = found(plan_with(CASES[rule].fires), rule)

    assert worst(findings) in (FAILS, UNKNOWN)
    assert all(one.settle_by and one.keys for one in findings)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    rest = CASES[rule].rests

    assert worst(found(plan_with(*([rest] if rest else [])), rule)) is MEETS


@pytest.mark.parametrize("rule", sorted(CASES.keys() - NEVER_UNKNOWN))
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    change = CASES[rule].unknown
    assert change is not None

    plan = plan_with(change)

    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]
    assert unknown
    assert all(one.settle_by and one.keys for one in unknown)
    assert plan.status == "NOT READY" or unknown[0].weight is not Weight.BLOCKS


@pytest.mark.parametrize(
    "rule", [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]
)
def test_a_blocking_rule_that_fires_keeps_the_plan_from_being_ready(rule: str) -> None:
    plan = plan_with(CASES[rule].fires)

    assert plan.status == "NOT READY"
    assert any(one.blocks for one in found(plan, rule))


def only(findings: list[Finding]) -> Finding:
    """The finding, where there is one."""
    assert len(findings) == 1
    return findings[0]


def compared(rule: str, *changes: Break) -> Compared:
    """What the one finding of *rule* compared."""
    outcome = only(found(plan_with(*changes), rule)).outcome
    assert isinstance(outcome, Compared)
    return outcome


AS_WORKED = both(
    supply(
        water_volume="6.8 L",
        fill_pressure="298.98675 bar",  # 300 bar absolute
        filled_at="15 degC",
        coldest="15 degC",
        alarm_pressure="53.98675 bar",
        reserve="53.98675 bar",
    ),
    taken(**WORKED),
    lambda data: data.setdefault("override", []).append(
        {
            "what": "air-reserve",
            "value": "53.98675 bar",
            "reason": "worked example",
            "by": "Osric Vane",
            "on": data["plan"]["issued"],
        }
    ),
)


def test_the_worked_mission_of_the_reference() -> None:
    """1,530 L at the usual rates, 1,824 L for the one-in-ten breather, 1,453 L usable."""
    outcome = compared("response/air-runs-out", AS_WORKED)

    assert outcome.result.value * 1e3 == pytest.approx(1824, abs=1)
    assert outcome.limit.value * 1e3 == pytest.approx(1453, abs=0.6)
    assert outcome.verdict is FAILS


def test_a_plan_that_only_the_ideal_sum_lets_pass_is_caught() -> None:
    """325 + 300 + 680 L, times 1.192: 1,556 L; ideal 1,666 L, real 1,453 L."""
    change = both(AS_WORKED, taken(time_in="5 min", time_work="4 min", time_out="8 min"))

    ideal = only(found(plan_with(change), "response/ideal-gas-overstates"))

    assert ideal.verdict is FAILS
    assert isinstance(ideal.outcome, Stated)
    assert "1666 L" in ideal.outcome.because
    assert "1556 L" in ideal.outcome.because
    assert compared("response/air-runs-out", change).verdict is FAILS


def test_a_plan_short_by_either_sum_has_no_word_on_the_ideal_one() -> None:
    assert found(plan_with(AS_WORKED), "response/ideal-gas-overstates") == []


def test_a_warm_fill_that_cools_holds_less() -> None:
    warm = compared("response/air-runs-out", supply(filled_at="40 degC", coldest="10 degC"))
    topped = compared("response/air-runs-out", supply(filled_at="10 degC", coldest="10 degC"))

    assert warm.limit.value < topped.limit.value * 0.9


def test_times_come_from_the_steps_on_a_slow_day() -> None:
    """The sample: 45 s in, 2 min out, and 1 min of work as stated."""
    values = {one.symbol: one.value for one in compared("response/air-runs-out").inputs}

    assert (values["t_in"], values["t_work"], values["t_out"]) == (45.0, 60.0, 120.0)


@pytest.mark.parametrize(("said", "seconds"), [("1 min", 120.0), ("3 min", 180.0)])
def test_a_stated_time_counts_only_where_it_is_longer_than_its_steps(
    said: str, seconds: float
) -> None:
    inputs = compared("response/air-runs-out", taken(time_out=said)).inputs

    assert {one.symbol: one.value for one in inputs}["t_out"] == seconds


@pytest.mark.parametrize("key", ["water_volume", "fill_pressure", "filled_at", "coldest"])
def test_each_fact_of_a_cylinder_is_asked_for(key: str) -> None:
    rule = "response/air-runs-out"

    assert worst(found(plan_with(supply(**{key: None})), rule)) is UNKNOWN
    assert worst(found(plan_with(on_line(**{key: None})), rule)) is UNKNOWN


@pytest.mark.parametrize("key", ["least_pressure", "flow"])
def test_each_fact_of_a_bank_is_asked_for(key: str) -> None:
    rule = "response/air-runs-out"

    assert worst(found(plan_with(on_line(**{key: None})), rule)) is UNKNOWN


def test_a_pressure_beyond_the_table_is_unknown() -> None:
    rule = "response/air-runs-out"

    assert worst(found(plan_with(supply(fill_pressure="520 bar")), rule)) is UNKNOWN
    assert worst(found(plan_with(supply(coldest="-50 degC")), rule)) is UNKNOWN


def test_f24_a_bank_for_all_who_breathe_from_it() -> None:
    """2 x 50 L, three users at 170 L/min for 3 min 45 s: 1,912.5 L; more users take more."""
    three = compared("response/air-runs-out", on_line())
    five = compared("response/air-runs-out", on_line(users=5))

    assert three.result.value * 1e3 == pytest.approx(3 * 170 * 3.75)
    assert five.result.value * 1e3 == pytest.approx(5 * 170 * 3.75)
    assert three.verdict is MEETS
    small = on_line(water_volume="3 L", cylinders=1)
    assert compared("response/air-runs-out", small).verdict is FAILS


def test_an_air_line_in_good_air_needs_no_escape_set() -> None:
    def good(data: dict[str, object]) -> None:
        on_line()(data)
        data["space"][1]["hazard"].pop()  # type: ignore[index]

    assert found(plan_with(good), "response/air-line-without-escape") == []


def test_an_escape_set_is_no_set_to_go_in_with() -> None:
    def only_escape(data: dict[str, object]) -> None:
        with_escape()(data)
        method(data)["breathing_set"] = "escape"

    assert worst(found(plan_with(only_escape), "response/air-runs-out")) is FAILS


def test_the_less_of_volume_and_minutes_counts_for_an_escape_set() -> None:
    """5 marked minutes at 40 L/min are 200 L: 171 s at 70 L/min."""
    outcome = compared("response/escape-set-too-small", with_escape(rated_time="5 min"))

    assert outcome.result.value == pytest.approx(2.857 * 60, abs=0.1)
    assert outcome.limit.value == pytest.approx(1.5 * 120)
    assert outcome.verdict is FAILS


def test_a_way_out_alone_may_be_shorter_than_with_the_casualty() -> None:
    change = both(with_escape(rated_time="5 min"), taken(time_escape="1 min"))

    assert compared("response/escape-set-too-small", change).verdict is MEETS


def test_a_back_up_with_other_sets_needs_no_more_of_the_first() -> None:
    change = both(backup_with(), put("equipment", "set", quantity=2))

    assert worst(found(plan_with(change), "response/too-few-sets")) is MEETS


def test_a_rescue_without_sets_is_not_asked_about_air() -> None:
    about_air = rules_of(air, air_crews, air_lines, cylinder_heat, turning_back)
    spaces = {one.space for one in plan_with(bad_air).findings if one.rule.id in about_air}

    assert spaces == {"valve-chamber"}


def test_crews_take_turns_through_way_work_and_rest() -> None:
    """1 min of work, then 45 s in, 2 min out and 20 min of rest: 24 crews; or a go each."""
    many = compared("response/one-cylinder-only", taken(work_in_all="60 min"))
    few = compared("response/one-cylinder-only", taken(work_in_all="3 min"))

    assert many.result.value == 24
    assert few.result.value == 3
