"""Power line, engines and lane in metres: where the site file and the checks put them.

The feeder runs 14 m off and 6 m high, 1 m lower at full sag; the davit is 10 ft high and reaches
30 in. The generator stands 25 ft off at 80 degrees, the blower draws 2 m off at 300 degrees.
"""

from __future__ import annotations

import math

import pytest
from broken_power_lines import OFF, line
from broken_sites import Break, found, plan_with
from broken_surroundings import engine, hot_work, traffic

from planbuilder.findings import Compared, Unit
from planbuilder.plan import SpacePlan
from planbuilder.sketches.around import around
from planbuilder.sketches.lane import lane_plan
from planbuilder.sketches.power_line import power_lines
from planbuilder.sketches.shapes import Disc, Pen, Sketch, Stroke

FT = 0.3048


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.4f} {unit}"


def well(*breaks: Break) -> SpacePlan:
    """The wet well with its findings."""
    return plan_with(*breaks).spaces[0]


def beside(change: Break) -> Sketch:
    """The power line beside the primary support."""
    space = well(change)
    return power_lines(next(space.scene.ways()), metres, space.findings)[0]


def near(change: Break) -> Sketch:
    """What stands round the opening."""
    space = well(change)
    sketch = around(space.scene, metres, space.findings)
    assert sketch is not None
    return sketch


def road(change: Break) -> Sketch:
    """The lane beside the place."""
    space = well(change)
    sketch = lane_plan(space.scene, metres, space.findings)
    assert sketch is not None
    return sketch


def texts(sketch: Sketch) -> list[str]:
    """Everything that is written on it."""
    return [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]


def test_the_conductor_hangs_at_full_sag_with_its_distance_round_it():
    sketch = beside(line())

    conductor = next(one for one in sketch.shapes if isinstance(one, Disc) and one.pen is Pen.BODY)
    assert conductor.centre == pytest.approx((14.0, 5.0))
    ring = next(one for one in sketch.shapes if isinstance(one, Stroke) and one.pen is Pen.REQUIRED)
    outcome = found(plan_with(line()), "clearance/power-line-too-near")[0].outcome
    assert isinstance(outcome, Compared)
    assert {round(math.dist(one, (14.0, 5.0)), 9) for one in ring.points} == {
        round(outcome.limit.value, 9)
    }


def test_the_gap_is_drawn_as_long_as_the_check_says():
    sketch = beside(line())
    outcome = found(plan_with(line()), "clearance/power-line-too-near")[0].outcome
    assert isinstance(outcome, Compared)

    gap = next(one for one in sketch.shapes if isinstance(one, Stroke) and one.pen is Pen.AVAILABLE)

    assert math.dist(*gap.points) == pytest.approx(outcome.result.value)


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (line(distance="3 m"), "FAILS clearance/power-line-too-near"),
        (line(distance="5 m"), "FAILS clearance/power-line-in-reach-of-fall"),
    ],
)
def test_a_line_too_near_names_its_rule(change, rule):
    assert any(rule in one for one in texts(beside(change)))
    assert not any("FAILS" in one for one in texts(beside(line())))


def test_a_line_that_is_not_measured_is_a_guess_and_unknown():
    sketch = beside(line(sag=None))

    assert sketch.guesses == ("sag",)
    assert "UNKNOWN clearance/power-line-too-near" in texts(sketch)[0]
    assert sketch.dimensions == ()


def test_a_line_that_is_isolated_and_confirmed_has_no_sketch():
    space = well(line(**OFF))

    assert power_lines(next(space.scene.ways()), metres, space.findings) == ()


def test_things_stand_at_their_bearing_clockwise_from_north():
    places = [
        one.centre for one in near(engine()).shapes if isinstance(one, Disc) and one.pen is Pen.BODY
    ]

    turn = math.radians(80)
    assert places[0] == pytest.approx((25 * FT * math.sin(turn), 25 * FT * math.cos(turn)))
    assert places[1] == pytest.approx((-2 * math.sin(math.radians(60)), 1.0))


def test_the_wind_blows_from_where_it_is_said_towards_the_opening():
    arrow = next(
        one for one in near(engine()).shapes if isinstance(one, Stroke) and one.pen is Pen.WALL
    )

    (tail, _), (tip, _) = arrow.points
    assert tail < tip < 0  # from the west


def test_an_engine_too_near_or_upwind_names_its_rule():
    assert any(
        "FAILS clearance/exhaust-too-near" in one for one in texts(near(engine(distance="19 ft")))
    )
    assert any(
        "FAILS clearance/exhaust-upwind" in one for one in texts(near(engine(bearing="200 deg")))
    )
    assert not any("FAILS" in one for one in texts(near(engine())))


def test_without_a_bearing_a_thing_is_somewhere_on_a_ring():
    sketch = near(hot_work("36 ft"))

    assert any("somewhere on this ring" in one for one in texts(sketch))
    ring = next(
        one
        for one in sketch.shapes
        if isinstance(one, Stroke) and one.pen is Pen.AVAILABLE and len(one.points) > 10
    )
    assert math.hypot(*ring.points[0]) == pytest.approx(36 * FT)


def test_without_a_distance_nothing_is_drawn_and_that_is_said():
    assert any("not stated, not drawn: UNKNOWN" in one for one in near(hot_work(None)).notes)


def test_buffer_and_taper_stand_end_to_end_beside_what_is_required():
    rows = {one.label.split(" 1")[0].split(" 6")[0]: one for one in road(traffic()).dimensions}

    buffer = next(
        one for name, one in rows.items() if name.startswith("buffer") and not one.required
    )
    taper = next(one for name, one in rows.items() if name.startswith("taper") and not one.required)
    assert (buffer.start, buffer.end) == pytest.approx((-200 * FT, 0.0))
    assert (taper.start, taper.end) == pytest.approx((-380 * FT, -200 * FT))
    needed = next(
        one for one in road(traffic()).dimensions if one.label.startswith("buffer required")
    )
    assert needed.required
    assert needed.end - needed.start == pytest.approx(200 * FT)  # MUTCD, 30 mph


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (traffic(buffer="195 ft"), "FAILS clearance/traffic-buffer-short"),
        (traffic(taper="179 ft"), "FAILS clearance/traffic-taper-short"),
        (traffic(lane_distance="1 ft"), "FAILS clearance/traffic-lane-too-near"),
    ],
)
def test_what_fails_on_the_road_names_its_rule(change, rule):
    assert any(rule in one for one in texts(road(change)))
    assert not any("FAILS" in one for one in texts(road(traffic())))


def test_what_is_not_said_of_the_road_takes_the_scale_away():
    assert "buffer" in road(traffic(buffer=None)).guesses
    assert "distance of the lane" in road(traffic(lane_distance=None)).guesses


def test_a_closed_road_and_a_quiet_place_have_no_sketch():
    space = well(traffic(lane="road-closed"))

    assert lane_plan(space.scene, metres, space.findings) is None
    assert around(space.scene, metres, space.findings) is None
