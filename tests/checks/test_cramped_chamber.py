"""The cramped chamber: everything in order but the room, and each shortage cleared as advised."""

from __future__ import annotations

import math
from typing import Any

import pytest
from broken_crew import put
from broken_sites import Break, entry, found, plan_with, space, way, worst

from planbuilder.findings import Verdict
from planbuilder.plan import Plan

CHAMBER = "cramped_chamber"


def rig(**values: Any) -> Break:
    """Sets keys of the rig of the lift."""
    return lambda data: put(way(data)["rig"], **values)


def part(name: str, **values: Any) -> Break:
    """Sets keys of a table of the chamber, or of the first where there are several."""

    def change(data: dict[str, Any]) -> None:
        table = space(data)[name]
        put(table[0] if isinstance(table, list) else table, **values)

    return change


def frame(**values: Any) -> Break:
    """Sets keys of the frame below the cover."""
    return lambda data: put(space(data)["opening"]["ring"][0], **values)


def line(**values: Any) -> Break:
    """Sets keys of the power line."""
    return lambda data: put(data["site"]["power_line"][0], **values)


def basket(**values: Any) -> Break:
    """Sets keys of the packed basket."""
    return lambda data: put(entry(data, "equipment", "basket")["packed"], **values)


def feet(half_m: float) -> Break:
    """The far feet stand so far to either side, 0.356 m (14 in) beyond the hook."""
    far = [["44 in", f"{-half_m} m"], ["44 in", f"{half_m} m"]]

    def change(data: dict[str, Any]) -> None:
        davit = entry(data, "support", "davit-2")
        davit["feet"] = [*davit["feet"][:2], *far]

    return change


def no_shelf(data: dict[str, Any]) -> None:
    """The shelf is taken out: nothing is left of it to fall on or to pass."""
    space(data)["fall"]["obstacle"] = space(data)["fall"]["obstacle"][1:]
    del space(data)["obstruction"]


# Lengths of the site: 40 by 24 in cover, 26 by 19 in frame, shelf 14 in into a shaft 48 in wide,
# 25 mm off the centre, set-back 0.30 m. Feet: half the diagonal of the cover, 0.592 m, half that
# of a pad of 6 in, 0.108 m, and 0.025 and 0.30 m more; the hook is 0.356 m short of them.
CORNER_M, PAD_M = math.hypot(40, 24) * 0.0254 / 2, math.hypot(6, 6) * 0.0254 / 2
ASIDE_M = math.sqrt((CORNER_M + PAD_M + 0.0254 + 0.30) ** 2 - 0.3556**2)
# Line, 18 ft up: 10 ft (3.048 m) and 0.15 m of slack beyond a ball about the farthest foot.
FOOT_M, REACH_M, TOP_M = math.hypot(44, 30) * 0.0254, 30 * 0.0254, 80 * 0.0254
BALL_M = math.hypot(TOP_M, REACH_M + FOOT_M) + 3.048 + 0.15
LINE_M = FOOT_M + math.sqrt(BALL_M**2 - (18 * 0.3048) ** 2)
# Shaft: half way between the shelf and the wall opposite.
SHAFT_M = -14 * 0.0254 / 2
# Swing: the wall at 24 in, half of 0.445 m of shoulders and 0.30 m to keep.
SWING_M = 24 * 0.0254 - 0.445 / 2 - 0.30

FIXES: dict[str, Break] = {
    "clearance/rescuer-with-set-too-big": frame(width="24 in"),
    "clearance/stretcher-cannot-turn": basket(bends=True, stiff_length="58 in"),
    "clearance/no-hook-window": rig(attachment="front"),
    "clearance/feet-below-rim": rig(hook_height="2.27 m", top_height="2.4 m"),
    "clearance/feet-near-edge": feet(ASIDE_M + 0.01),
    "clearance/traffic-lane-too-near": part("traffic", lane_distance="2 ft"),
    "clearance/power-line-in-reach-of-fall": line(distance=f"{LINE_M + 0.01:.2f} m"),
    "clearance/shaft-tight": rig(plumb_at=["0 m", f"{SHAFT_M:.3f} m"]),
    "clearance/fall-hits-something": no_shelf,
    "clearance/swing-hits-something": part("fall", offset=f"{SWING_M - 0.01:.2f} m"),
    "clearance/swing-too-wide": part("fall", offset="0.19 m"),
    "clearance/landing-too-small": part("landing", width="2 m"),
    "clearance/exhaust-upwind": part("nearby", bearing="90 deg"),
}


def open_rules(plan: Plan) -> set[str]:
    """The rules that the reader should still do something about, notes left out."""
    return {one.rule.id for one in plan.findings if one.open and one.weight.name != "NOTES"}


def test_room_is_all_that_is_lacking() -> None:
    plan = plan_with(sample=CHAMBER)

    assert plan.status == "NOT READY"
    assert open_rules(plan) == FIXES.keys()


@pytest.mark.parametrize("rule", FIXES)
def test_what_a_finding_advises_clears_it(rule: str) -> None:
    assert worst(found(plan_with(FIXES[rule], sample=CHAMBER), rule)) is Verdict.MEETS


def test_all_that_is_advised_together_makes_the_plan_ready() -> None:
    """The near offset of both swings; feet by hook and block; a line that the wider base allows."""
    together = (
        part("fall", offset=f"{SWING_M - 0.01:.2f} m"),
        rig(hook_height="79 in", top_height="83 in", block="5 in"),
        line(distance="4.6 m"),
    )

    plan = plan_with(*FIXES.values(), *together, sample=CHAMBER)

    assert open_rules(plan) == set()
    assert plan.status == "READY FOR REVIEW"
