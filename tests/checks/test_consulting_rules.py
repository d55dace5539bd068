"""The operator of a line is asked where a table wants it: fires, rests, unknown, never better."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from broken_power_lines import OFF, line
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder import plan
from planbuilder.checks.room import consulting
from planbuilder.findings import Compared, Mark, Verdict
from planbuilder.limits import limits_for

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
CONSULTED = "clearance/line-operator-not-consulted"
FACTS: dict[str, Any] = {
    "carried_by": "steel-tower",
    "distance": "16 m",
    "route_distance": "20 m",
    "consult_table": "gb-consult",
}


def near(**values: Any) -> Break:
    """A line on steel towers under the table, with these keys changed."""
    return line(**{**FACTS, **values})


# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    (CONSULTED, near(distance="14.9 m"), near(), near(route_distance=None)),
]


def verdict(**values: Any) -> Verdict:
    return worst(found(plan_with(near(**values)), CONSULTED))


def test_every_rule_is_here() -> None:
    assert {CONSULTED} == rules_of(consulting)


@pytest.mark.parametrize(
    ("values", "wanted"),
    [
        ({}, MEETS),
        ({"distance": "14.9 m"}, FAILS),
        ({"distance": "0 m"}, FAILS),
        ({"route_distance": "9.5 m"}, FAILS),
        ({"distance": "9 m", "carried_by": "pole"}, MEETS),
        ({"distance": "8.9 m", "carried_by": "pole"}, FAILS),
        ({"distance": "9 m", "carried_by": None}, FAILS),
        ({"route_distance": None}, UNKNOWN),
        ({"distance": None}, UNKNOWN),
        ({"consult_table": "gb-consul"}, UNKNOWN),
    ],
    ids=str,
)
def test_towers_15_m_and_poles_9_m_from_place_and_way(
    values: dict[str, Any], wanted: Verdict
) -> None:
    """HSE GS6 by secondary copies; working beneath any line counts too."""
    assert verdict(**values) is wanted


def test_an_operator_who_was_asked_settles_it() -> None:
    asked = {
        "distance": "2 m",
        "consulted": "Line desk, ref. 77",
        "consulted_on": OFF["confirmed_on"],
    }

    assert verdict(**asked) is MEETS
    assert verdict(**{**asked, "consulted_on": date(2026, 11, 26)}) is FAILS
    assert verdict(**{**asked, "consulted_on": None}) is FAILS


def test_a_line_that_is_off_or_that_no_table_is_for_is_not_asked_about() -> None:
    assert found(plan_with(near(**OFF)), CONSULTED) == []
    assert found(plan_with(near(consult_table=None)), CONSULTED) == []


def test_a_profile_can_name_the_table(monkeypatch: pytest.MonkeyPatch) -> None:
    shipped = limits_for("us-osha-gi")
    profile = replace(shipped.profile, consult_tables=("gb-consult",))
    monkeypatch.setattr(plan, "limits_for", lambda _name: replace(shipped, profile=profile))

    assert verdict(consult_table=None, distance="14 m") is FAILS
    assert verdict(consult_table=None) is MEETS


def test_it_is_printed_as_recalled_with_a_formula_that_works_out() -> None:
    (one, *_) = found(plan_with(near(distance="3 m")), CONSULTED)
    assert isinstance(one.outcome, Compared)
    values = {each.symbol: each.value for each in one.outcome.inputs}

    assert one.outcome.limit.source.mark is Mark.RECALLED
    assert work_out(one.outcome.formula, values) == one.outcome.result.value == 3


@settings(max_examples=12, deadline=None)
@given(pair=st.tuples(st.floats(0, 30), st.floats(0, 30)))
@pytest.mark.parametrize("key", ["distance", "route_distance"])
def test_a_nearer_line_never_helps(key: str, pair: tuple[float, float]) -> None:
    nearer, farther = (verdict(**{key: f"{one:.3f} m"}) for one in sorted(pair))

    assert WORST_FIRST.index(nearer) <= WORST_FIRST.index(farther)
