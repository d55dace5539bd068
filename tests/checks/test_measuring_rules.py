"""Where and in which unit the opening was measured: each rule fires, rests and says unknown."""

import pytest
from broken_openings import opening
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.room import measuring
from planbuilder.findings import Stated, Verdict

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
COVER = "clearance/opening-measured-at-cover"
UNIT = "clearance/opening-size-implausible"
NECK = {"name": "neck", "shape": "round", "diameter": "24 in"}
# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break | None]] = [
    (COVER, opening(measured="cover"), opening(), opening(measured=None)),
    (UNIT, opening(diameter="24 mm"), opening(), None),
]


def test_every_rule_is_here() -> None:
    assert {COVER, UNIT} == rules_of(measuring)


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (opening(measured="cover"), FAILS),
        (opening(measured="cover", ring=[NECK]), MEETS),
        (opening(measured=None), UNKNOWN),
        (opening(), MEETS),
    ],
)
def test_where_it_was_measured(change: Break, verdict: Verdict) -> None:
    plan = plan_with(change)
    rows = [one for one in found(plan, COVER) if one.space == "wet-well"]

    assert worst(rows) is verdict
    assert all(one.settle_by and one.keys for one in rows)


def words(change: Break) -> tuple[Verdict, str]:
    (one, *_) = [each for each in found(plan_with(change), UNIT) if each.space == "wet-well"]
    assert isinstance(one.outcome, Stated)
    return one.verdict, one.outcome.because


@pytest.mark.parametrize(
    ("diameter", "said"),
    [
        ("24 mm", "24 mm is 0.945 in or 0.024 m: 24 in would be 0.61 m"),
        ("24mm", "24 in would be 0.61 m"),
        ("30 ft", "30 in would be 0.762 m"),
        ("762 in", "is 762 in or 19.4 m: 762 mm would be 0.762 m"),
        ("2 1/2 in", "2 1/2 ft would be 0.762 m"),
        ("11 ft 6 in", "is 138 in or 3.51 m"),
    ],
)
def test_a_slipped_unit_is_named_with_what_was_meant(diameter: str, said: str) -> None:
    verdict, because = words(opening(diameter=diameter))

    assert verdict is FAILS
    assert said in because


def test_a_size_of_an_opening_for_people_rests() -> None:
    assert words(opening())[0] is MEETS
    assert words(opening(diameter="3 m"))[0] is MEETS
    assert words(opening(diameter="0.1 m"))[0] is MEETS


def test_a_trench_may_be_long_but_not_broad_without_a_word() -> None:
    sides = {"shape": "rectangular", "diameter": None, "length": "12 ft"}

    assert words(opening(**sides, width="3 ft"))[0] is MEETS
    assert words(opening(**sides, width="11 ft"))[0] is FAILS
    assert words(opening(**sides, width="36 mm"))[0] is FAILS


def test_an_opening_that_is_not_measured_has_no_unit_to_doubt() -> None:
    plan = plan_with(opening(diameter=None))

    assert [one for one in found(plan, UNIT) if one.space == "wet-well"] == []
    assert plan.status == "NOT READY"
