"""Readings of the air: on record, named, in order, at every level, young enough, within limits."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from broken_haul import both
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks.air import readings
from planbuilder.findings import Finding, Verdict
from planbuilder.limits import limits_for
from planbuilder.view.air_tests import air_tests

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
FIRST_DAY = date(2026, 11, 30)  # people go in from 08:00, 21 ft deep
GOOD = {
    "oxygen": "20.8 %",
    "flammable": "2 %",
    "hydrogen_sulfide": "1 ppm",
    "carbon_monoxide": "3 ppm",
}
LEVELS = ("4 ft", "8 ft", "12 ft", "16 ft", "20 ft")


def reading(depth: str | None = "4 ft", at: str = "07:40", **changed: Any) -> dict[str, Any]:
    row = {"on": FIRST_DAY, "at": at, "depth": depth, "tester": "mirela", **GOOD, **changed}
    return {key: value for key, value in row.items() if value is not None}


def read(*rows: dict[str, Any]) -> Break:
    return lambda data: space(data).update(reading=list(rows))


def all_read(*more: dict[str, Any], **changed: Any) -> Break:
    """Read at every level twenty minutes before entry, with facts of all rows changed."""
    return read(*(reading(one, **changed) for one in LEVELS), *more)


def asked(rule: str, *breaks: Break, on: date = FIRST_DAY) -> list[Finding]:
    rows = found(plan_with(*breaks, on=on), rule)
    return [one for one in rows if one.space == "wet-well"]


OLD = date(2026, 11, 29)
NONE = read()
# rule: what makes it fire, with its verdict, and what leaves it unknown, if anything can.
CASES: dict[str, tuple[Break, Verdict, Break | None]] = {
    "plan/air-not-tested": (all_read(on=OLD), UNKNOWN, NONE),
    "plan/reading-record": (all_read(on=date(2026, 12, 1)), FAILS, all_read(tester=None)),
    "plan/reading-beyond-limit": (all_read(oxygen="19.4 %"), FAILS, None),
    "plan/reading-stale": (all_read(on=OLD), FAILS, None),
    "plan/readings-out-of-order": (all_read(reading(at="07:30", oxygen=None)), FAILS, None),
    "plan/level-not-tested": (read(reading("4 ft"), reading("20 ft")), FAILS, read(reading(None))),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(readings)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, verdict, unknown = CASES[rule]

    assert worst(asked(rule, fires)) is verdict
    assert {one.verdict for one in asked(rule, all_read())} == {MEETS}
    if unknown is not None:
        assert worst(asked(rule, unknown)) is UNKNOWN


def test_before_the_work_begins_readings_are_still_to_come() -> None:
    assert asked("plan/air-not-tested", on=date(2026, 11, 29)) == []


def test_on_the_day_of_work_missing_readings_block() -> None:
    assert [one.blocks for one in asked("plan/air-not-tested")] == [True]


def test_each_day_of_work_wants_its_own_test() -> None:
    second = date(2026, 12, 1)

    assert worst(asked("plan/air-not-tested", all_read(), on=second)) is UNKNOWN
    assert worst(asked("plan/air-not-tested", all_read(on=second), on=second)) is MEETS


@pytest.mark.parametrize(
    "changed",
    [
        {"oxygen": "23.6 %"},
        {"flammable": "11 %"},
        {"hydrogen_sulfide": "11 ppm"},
        {"carbon_monoxide": "36 ppm"},
    ],
)
def test_each_gas_beyond_its_limit_blocks(changed: dict[str, str]) -> None:
    bad = read(*(reading(one) for one in LEVELS[:-1]), reading(LEVELS[-1], **changed))

    assert [one.blocks for one in asked("plan/reading-beyond-limit", bad) if one.open] == [True]


def test_a_bad_reading_that_a_later_good_one_followed_is_history() -> None:
    """Before the fan ran; at another level it would still count."""
    rule, bad = "plan/reading-beyond-limit", {"at": "07:00", "hydrogen_sulfide": "40 ppm"}

    assert worst(asked(rule, all_read(reading("4 ft", **bad)))) is MEETS
    assert worst(asked(rule, all_read(reading("21 ft", **bad)))) is FAILS


def test_a_reading_after_the_hour_of_entry_is_no_test_before_it() -> None:
    assert worst(asked("plan/reading-stale", all_read(at="08:05"))) is FAILS
    assert worst(asked("plan/reading-stale", all_read(at="08:00"))) is MEETS


def test_without_the_hour_of_entry_the_age_is_unknown() -> None:
    no_hour: Break = lambda data: space(data)["task"].pop("enter_from")  # noqa: E731

    assert worst(asked("plan/reading-stale", both(all_read(), no_hour))) is UNKNOWN


@pytest.mark.parametrize(
    ("rows", "verdict"),
    [
        ((("07:40", "oxygen"), ("07:41", "flammable"), ("07:42", "carbon_monoxide")), MEETS),
        ((("07:41", "oxygen"), ("07:40", "flammable"), ("07:42", "carbon_monoxide")), FAILS),
        ((("07:40", "oxygen"), ("07:42", "flammable"), ("07:41", "carbon_monoxide")), FAILS),
        ((("07:40", "flammable"),), FAILS),
        ((("07:40", "oxygen"),), MEETS),
    ],
)
def test_the_order_is_that_of_the_clock(
    rows: tuple[tuple[str, str], ...], verdict: Verdict
) -> None:
    gases = [
        {key: value for key, value in reading(at=at).items() if key not in GOOD or key == gas}
        for at, gas in rows
    ]

    assert worst(asked("plan/readings-out-of-order", read(*gases))) is verdict


def test_the_floor_is_a_level_too() -> None:
    """21 ft deep: 4 ft by 4 ft to 16 ft leaves 5 ft of air below."""
    upper = read(*(reading(one) for one in LEVELS[:-1]))

    assert worst(asked("plan/level-not-tested", upper)) is FAILS


def test_readings_are_printed_in_the_order_of_reading() -> None:
    plan = plan_with(read(reading("8 ft", "07:45"), reading("4 ft")), on=FIRST_DAY)

    rows = air_tests(plan.spaces[0].scene).rows

    assert [one[:3] for one in rows] == [
        ("30 Nov 2026 07:40", "4 ft", "20.8 %"),
        ("30 Nov 2026 07:45", "8 ft", "20.8 %"),
    ]


AGE = """
[profile]
id = "quarry-rules"
title = "Rules of the quarry"
version = "4"
source_date = "issue 4"
country = "US"
overlay_of = "*"

[[document]]
id = "Quarry rules"
title = "Rescue rules of the quarry"
edition = "issue 4"
seen = "official text"

[atmosphere.reading_age]
value = 30
unit = "min"
op = "<="
document = "Quarry rules"
clause = "5"
bind = "host"
mark = "read"
"""


@pytest.mark.parametrize(("at", "verdict"), [("07:30", MEETS), ("07:29", FAILS)])
def test_a_rule_set_that_sets_an_age_is_kept_to(tmp_path: Path, at: str, verdict: Verdict) -> None:
    """Half an hour before 08:00, to the minute."""
    (tmp_path / "quarry.toml").write_text(AGE, encoding="utf-8")
    limits = limits_for("us-osha-gi", ["quarry.toml"], beside=tmp_path)
    scene = plan_with(all_read(at=at), on=FIRST_DAY).spaces[0].scene

    (one,) = readings.check_stale(replace(scene, limits=limits))

    assert one.verdict is verdict
