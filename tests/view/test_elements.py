"""The table of the fifty elements: worst answer, what is open, the clause of the rule set."""

from __future__ import annotations

from typing import Any

from broken_sites import plan_with

from planbuilder.view.elements import elements_table


def row(plan: Any, element: str) -> tuple[str, ...]:
    """The row of one element."""
    return next(one for one in elements_table(plan).rows if one[0] == element)


def test_every_element_has_a_row():
    assert [one[0] for one in elements_table(plan_with()).rows] == [
        f"A{number:02}" for number in range(1, 51)
    ]


def test_what_is_met_says_so_and_cites_the_rule_set():
    number, title, found, clause = row(plan_with(), "A33")

    assert (number, title) == ("A33", "Practice rescues that are like this one")
    assert found.startswith("○ meets, ")
    assert "(k)(2)(iv)" in clause


def test_what_is_open_is_named_with_the_worst_answer():
    def no_drills(data: dict[str, Any]) -> None:
        data["drill"] = []

    found = row(plan_with(no_drills), "A33")[2]

    assert found.startswith("? unknown, ")
    assert "open: Practice rescue for this space" in found


def test_what_the_tool_makes_by_itself_says_so():
    assert row(plan_with(), "A50")[2] == "printed in every plan, and cannot be suppressed"
