"""Isolation: a point for each hazard and pipe, locks, keys outside, trials, and the ban."""

from datetime import date
from typing import Any

import pytest
from broken_crew import put
from broken_haul import both, nothing
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks.arrangement import isolation
from planbuilder.findings import Finding, Verdict, Weight
from planbuilder.view.isolation import isolation_line, isolation_table

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
TANK, WELL = "storage_tank", "pump_station"
FIRST_DAY = date(2026, 11, 30)


def asked(rule: str, *breaks: Break, sample: str = WELL, on: date = date(2026, 11, 25)) -> Any:
    rows = found(plan_with(*breaks, sample=sample, on=on), rule)
    return [one for one in rows if one.space in ("wet-well", "tank-3")]


def point(number: int = 0, **values: Any) -> Break:
    return lambda data: put(space(data)["isolation"][number], **values)


def told(**values: Any) -> Break:
    return lambda data: put(space(data)["energy_ban"], **values)


def no_points(data: dict[str, Any]) -> None:
    del space(data)["isolation"]


def drowning(**values: Any) -> Break:
    return lambda data: put(space(data)["hazard"][1], **values)


# rule: what makes it fire, with its verdict, and what leaves it unknown.
CASES: dict[str, tuple[Break, Verdict, Break]] = {
    "plan/not-isolated": (point(energy="electrical"), UNKNOWN, no_points),
    "plan/lock-missing": (point(lock=None), FAILS, nothing),
    "plan/key-not-outside": (point(key_held_by="bode"), FAILS, point(key_held_by=None)),
    "plan/isolation-not-tried": (point(tried_on=date(2026, 11, 26)), FAILS, point(tried_by=None)),
    "plan/energy-may-come-back": (told(told_on=date(2026, 11, 26)), FAILS, told(told_to=None)),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(isolation)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, verdict, unknown = CASES[rule]

    assert worst(asked(rule, fires)) is verdict
    assert worst(asked(rule)) is MEETS
    if unknown is not nothing:
        assert worst(asked(rule, unknown)) is UNKNOWN


@pytest.mark.parametrize("rule", CASES)
def test_what_blocks_and_what_warns(rule: str) -> None:
    rows: list[Finding] = asked(rule, CASES[rule][0])
    wanted = rules_weight(rule) is Weight.BLOCKS

    assert [one.blocks for one in rows if one.open] == [wanted]


def rules_weight(rule: str) -> Weight:
    return next(one.weight for one in vars(isolation).values() if getattr(one, "id", None) == rule)


def test_a_hazard_that_says_why_asks_for_no_point() -> None:
    standing = both(no_points, drowning(not_isolated_because="Standing water, no way in for more"))

    assert worst(asked("plan/not-isolated", standing)) is MEETS


def test_a_pipe_that_no_point_closes_blocks() -> None:
    rows = asked("plan/not-isolated", point(1, pipes=["Inlet", "Drain"]), sample=TANK)

    assert {one.about: one.verdict for one in rows}["Outlet"] is UNKNOWN
    assert worst(asked("plan/not-isolated", sample=TANK)) is MEETS


def test_two_points_under_one_lock_are_one_lock_short() -> None:
    """Written with other capitals it is the same lock."""
    twin = both(
        lambda data: space(data)["isolation"].append({**space(data)["isolation"][0]}),
        point(1, point="Pump no. 2", lock="No. 14 "),
    )
    own = both(twin, point(1, lock="no. 16"))

    assert worst(asked("plan/lock-missing", twin)) is FAILS
    assert worst(asked("plan/lock-missing", own)) is MEETS


def test_blanks_and_pipes_taken_apart_need_no_lock() -> None:
    assert worst(asked("plan/lock-missing", sample=TANK)) is MEETS
    assert [one.about for one in asked("plan/key-not-outside", sample=TANK)] == [
        "Mixer, switch in panel M-3"
    ]


def test_from_the_first_day_of_work_the_trial_is_on_record() -> None:
    rule = "plan/isolation-not-tried"

    assert worst(asked(rule, on=FIRST_DAY)) is UNKNOWN
    assert worst(asked(rule, point(tried_on=date(2026, 11, 20)), on=FIRST_DAY)) is FAILS
    assert worst(asked(rule, point(tried_on=FIRST_DAY), on=FIRST_DAY)) is MEETS


def test_where_nothing_is_isolated_nothing_is_told() -> None:
    assert asked("plan/energy-may-come-back", no_points) == []


def test_table_and_card_name_lock_and_key() -> None:
    plan = plan_with(sample=TANK)
    scene = plan.spaces[0].scene

    rows = isolation_table(scene).rows

    assert rows[0][3:5] == ("no. 22", "Mirela Tarn")
    assert rows[1][0] == "Blanks at inlet, outlet and drain (Inlet, Outlet, Drain)"
    assert "keys: Mirela Tarn" in isolation_line(scene)
