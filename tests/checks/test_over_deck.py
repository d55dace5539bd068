"""A casualty who is raised at a height, free of the edge, comes in over the deck with the feet."""

from __future__ import annotations

from typing import Any

from broken_sites import found, plan_with, worst

from planbuilder.findings import Verdict

TERMINAL, PLATFORM = "grain_terminal", "car-platform"


def rig(**values: Any) -> Any:
    """Sets keys of the rig on the platform."""

    def change(data: dict[str, Any]) -> None:
        place = next(one for one in data["space"] if one["id"] == PLATFORM)
        place["rescue"]["primary"]["rig"].update(values)

    return change


def feet(*changes: Any) -> list[Any]:
    """What is found of the feet at the platform, primary method."""
    told = found(plan_with(*changes, sample=TERMINAL), "clearance/feet-below-rim")
    return [one for one in told if (one.space, one.about) == (PLATFORM, "primary")]


def test_feet_come_in_over_the_deck_or_not():
    # 0.35 m of block and connector, 0.15 m to spare, and a front attachment to toes below that:
    # somebody of 1.83 m needs 0.735 * 1.83 + 0.33 m more.
    assert worst(feet()) is Verdict.MEETS
    assert worst(feet(rig(hook_height="2.0 m"))) is Verdict.FAILS


def test_without_the_stack_it_is_not_known():
    def blank(data: dict[str, Any]) -> None:
        rig()(data)
        place = next(one for one in data["space"] if one["id"] == PLATFORM)
        del place["rescue"]["primary"]["rig"]["block"]

    assert worst(feet(blank)) is Verdict.UNKNOWN


def test_whoever_is_hauled_over_an_edge_or_lowered_is_not_asked():
    over_edge = rig(edges=[{"material": "roller", "turn": "90 deg"}])

    assert feet(over_edge) == []
    lowered = found(plan_with(sample="transformer_deck"), "clearance/feet-below-rim")
    assert lowered == []
