"""A post with its arm: over the edge from the side, turning from above."""

from __future__ import annotations

import math
from typing import Any

import pytest
from broken_haul import both, put, rig, stand
from broken_sites import Break, plan_with
from on_paper import drawings, overlaps

from planbuilder.clearance.place import turn_beyond_edge_rad
from planbuilder.findings import Unit
from planbuilder.sketches.post import post_plans
from planbuilder.sketches.shapes import Pen, Sketch, Stroke

IN, FT = 0.0254, 0.3048
TURNS = rig(swing_from="-90 deg", swing_to="90 deg", anchor_to_edge="13 in")
CASES: dict[str, Break] = {
    "as it is": both(),
    "turning": TURNS,
    "too far": both(TURNS, rig(reach="40 in")),
    "too high": both(TURNS, stand(height="9 ft")),
    "nothing known": both(rig(reach=None, hook_height=None), stand(height=None)),
    "extended": put("support", "post-1", extension="1 ft"),
    "inside": rig(anchor_to_edge="30 in"),
}


def raised(data: dict[str, Any]) -> None:
    """The arm with the rope set of the fallback, free of the edge."""
    ways = data["space"][0]["rescue"]
    ways["primary"]["rig"]["device"] = ways["fallback"]["rig"]["device"]
    ways["primary"]["step"] = ways["fallback"]["step"]


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.3f} {unit}"


def of(*breaks: Break) -> dict[str, Sketch]:
    """Side view and plan of the arm on the transformer deck."""
    space = plan_with(*breaks, sample="transformer_deck").spaces[0]
    return dict(post_plans(next(space.scene.ways()), metres, space.findings))


def texts(sketch: Sketch) -> str:
    """Everything that is written on it."""
    rows = [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]
    return "; ".join((*rows, *sketch.notes))


def test_a_davit_over_an_opening_has_no_post():
    space = plan_with().spaces[0]

    assert post_plans(next(space.scene.ways()), metres, space.findings) == ()


def test_the_arm_stands_at_its_height_and_reach():
    side = of()["post"]
    arm = next(one for one in side.shapes if isinstance(one, Stroke) and one.pen is Pen.SUPPORT)

    assert arm.points[-1] == pytest.approx((26 * IN, 66 * IN))
    reach = next(one for one in side.dimensions if one.label.endswith(" reach"))
    assert (reach.start, reach.end) == pytest.approx((0.0, 26 * IN))
    height = next(one for one in side.dimensions if one.label.startswith("arm at 1"))
    assert height.end == pytest.approx(5 * FT)


def test_an_edge_that_is_not_stated_is_a_dashed_guess():
    sketches = of()

    assert "edge" in sketches["post"].guesses
    assert sketches["turn"].guesses == ("edge",)
    assert "not stated: no sector" in texts(sketches["turn"])


def test_the_sector_ends_where_the_arm_stops():
    turn = of(TURNS)["turn"]
    sector = next(one for one in turn.shapes if isinstance(one, Stroke) and one.pen is Pen.LINE)

    assert turn.guesses == ()
    assert sector.points[1] == pytest.approx((0.0, -26 * IN))
    assert sector.points[-1] == pytest.approx((0.0, 26 * IN))


def test_half_the_reach_at_the_edge_is_sixty_degrees():
    """A right triangle with a side half its hypotenuse."""
    assert math.degrees(turn_beyond_edge_rad(reach_m=2.0, edge_m=1.0)) == pytest.approx(60)
    assert "hook beyond the edge up to 60\N{DEGREE SIGN} either way" in texts(of(TURNS)["turn"])


@pytest.mark.parametrize("edge_m", [1.0, 1.5, -0.1, math.nan])
def test_a_hook_that_does_not_pass_the_edge_is_refused(edge_m):
    with pytest.raises(ValueError, match="edge"):
        turn_beyond_edge_rad(reach_m=1.0, edge_m=edge_m)


def test_a_hook_inside_the_edge_is_said():
    assert "INSIDE the edge" in texts(of(CASES["inside"])["turn"])


@pytest.mark.parametrize(
    ("name", "rule"),
    [("too far", "haul/arm-out-of-limits"), ("too high", "haul/arm-out-of-limits")],
)
def test_what_fails_names_its_rule(name, rule):
    assert f"FAILS {rule}" in texts(of(CASES[name])["post"])


def test_who_is_swung_in_over_the_deck_has_the_feet_told():
    """Where a winch raises them instead of lowering, and nothing is an edge."""
    post = of(raised)["post"]

    assert "feet over the deck at full lift" in texts(post)


@pytest.mark.parametrize("name", CASES)
def test_no_words_touch(name):
    for one in drawings(plan_with(CASES[name], sample="transformer_deck")):
        assert overlaps(one) == [], one.title
