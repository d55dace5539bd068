"""Text copied from another space is told; text that belongs here is not."""

from __future__ import annotations

from typing import Any

import pytest
from broken_sites import SAMPLES, found, plan_with, space, way, worst

from planbuilder.findings import Verdict

COPIED, NAMED = "plan/text-copied", "plan/other-space-named"


def copied(data: dict[str, Any]) -> None:
    """The chamber's method in the words of the wet well's."""
    way(data, number=1)["describe"] = way(data)["describe"]


def nearly_copied(data: dict[str, Any]) -> None:
    """The same with one word changed, and other blanks."""
    words = way(data)["describe"].replace("no other duty", "no  other  task")
    way(data, number=1)["describe"] = words


def of_one_shape(data: dict[str, Any]) -> None:
    """Both spaces of one shape: the same words may be true of both."""
    copied(data)
    for key in ("opening", "shape"):
        space(data, 1)[key] = dict(space(data)[key])


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (copied, Verdict.FAILS),
        (nearly_copied, Verdict.FAILS),
        (of_one_shape, Verdict.MEETS),
        (lambda _: None, Verdict.MEETS),
    ],
)
def test_a_text_that_stands_at_two_places_of_unlike_shape_is_told(change, verdict):
    assert worst(found(plan_with(change), COPIED)) is verdict


def test_both_places_are_named():
    told = [one for one in found(plan_with(copied), COPIED) if one.verdict is Verdict.FAILS]

    assert {one.space for one in told} == {"wet-well", "valve-chamber"}
    assert "reads like Valve chamber 2A, rescue.primary.describe" in str(told)


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("Winch over wet well 2, entrant on the line.", Verdict.FAILS),
        ("Read the sign PERMIT SPACE WW-2 first.", Verdict.FAILS),
        ("Winch over wet well 21 of the district.", Verdict.MEETS),
        ("Winch over the valve chamber 2A, entrant on the line.", Verdict.MEETS),
    ],
)
def test_the_name_of_another_space_is_told(text, verdict):
    def change(data: dict[str, Any]) -> None:
        way(data, number=1)["describe"] = text

    told = [one for one in found(plan_with(change), NAMED) if one.space == "valve-chamber"]

    assert worst(told) is verdict


def test_spaces_that_are_linked_may_name_each_other():
    def change(data: dict[str, Any]) -> None:
        way(data, number=1)["describe"] = "Winch over the hatch; wet well 2 is linked by a pipe."
        space(data, 1)["linked_to"] = ["wet-well"]

    told = [one for one in found(plan_with(change), NAMED) if one.space == "valve-chamber"]

    assert told == []


@pytest.mark.parametrize("sample", sorted(one.stem for one in SAMPLES.glob("*.toml")))
def test_no_sample_is_a_copy(sample):
    if sample == "misspelled":
        return
    plan = plan_with(sample=sample)

    assert {one.verdict for one in (*found(plan, COPIED), *found(plan, NAMED))} <= {Verdict.MEETS}
