"""The fifty elements of a good plan: each has rules that ask for it, or is made by the tool."""

from __future__ import annotations

import pytest

from planbuilder.checks import RULES
from planbuilder.profiles.profile import load_profile, overlay_ids, profile_ids
from planbuilder.tables import table

ELEMENTS = table("elements")


def test_there_are_fifty_in_order():
    assert list(ELEMENTS) == [f"A{number:02}" for number in range(1, 51)]


@pytest.mark.parametrize("element", ELEMENTS)
def test_every_element_is_asked_for_or_made(element):
    entry = ELEMENTS[element]

    assert bool(entry["rules"]) != bool(entry.get("generated"))
    assert set(entry["rules"]) - {one.id for one in RULES} == set()


def test_every_rule_of_the_plan_belongs_to_an_element():
    asked = {one for entry in ELEMENTS.values() for one in entry["rules"]}

    assert {one.id for one in RULES if one.area == "plan"} - asked == set()


@pytest.mark.parametrize("profile_id", [*profile_ids(), *overlay_ids()])
def test_a_rule_set_gives_clauses_of_elements_that_there_are(profile_id):
    assert set(load_profile(profile_id).clauses) - set(ELEMENTS) == set()
