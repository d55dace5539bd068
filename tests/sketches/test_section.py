"""The section sketch in metres: the numbers of the site file, in their places.

Hand-worked measures of the wet well: opening 24 in = 0.6096 m, inside 8 ft = 2.4384 m, depth
21 ft = 6.4008 m, coaming 6 in = 0.1524 m, liquid 4 ft = 1.2192 m, hook 8 ft 4 in = 2.54 m, reach
30 in = 0.762 m, feet of the davit from 10 in behind the mast to 50 in before it.
"""

from __future__ import annotations

import pytest

from planbuilder.findings import Compared
from planbuilder.sketches.section import section
from planbuilder.sketches.shapes import Disc, Lane, Pen, Stroke


def words(value, unit):
    """Metres, as plain as can be."""
    return f"{value:.4f} {unit}"


def sketch_of(plan, *, space: int = 0, way: int = 0):
    """The sketch of one method of one space."""
    ways = list(plan.spaces[space].scene.ways())
    return section(ways[way], words)


@pytest.fixture(scope="module")
def wet_well(sample_plan):
    """The primary method of the wet well."""
    return sketch_of(sample_plan("pump_station"))


def drawn(sketch, pen):
    """The points of everything drawn with *pen*."""
    return [
        point
        for one in sketch.shapes
        if one.pen is pen
        for point in (
            one.points
            if isinstance(one, Stroke)
            else [
                (one.centre[0] - one.radius, one.centre[1] - one.radius),
                (one.centre[0] + one.radius, one.centre[1] + one.radius),
            ]
        )
    ]


def box(points):
    """Left, bottom, right and top of *points*."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-9)


@pytest.mark.parametrize(
    ("pen", "left", "bottom", "right", "top"),
    [
        (Pen.INSIDE, -1.2192, -6.4008, 1.2192, 0.0),
        (Pen.LIQUID, -1.2192, -6.4008, 1.2192, -6.4008 + 1.2192),
        (Pen.RIM, -0.3048 - 0.08, 0.0, 0.3048 + 0.08, 0.1524),
        # Down to a casualty on the floor, who may lie 18 in aside.
        (Pen.LINE, 0.0, -6.4008 + 0.2, 0.4572, 2.54),
    ],
)
def test_each_part_of_the_wet_well_stands_where_the_site_file_puts_it(
    wet_well, pen, left, bottom, right, top
):
    assert (left, bottom, right, top) == box(drawn(wet_well, pen))


def test_the_walls_leave_the_opening_free(wet_well):
    """From the rim down the neck of 10 in = 0.254 m, outwards, down, across and up again."""
    wall = next(
        one
        for one in wet_well.shapes
        if isinstance(one, Stroke) and one.pen is Pen.WALL and len(one.points) == 8
    )

    assert wall.points[0] == pytest.approx((-0.3048, 0.0))
    assert wall.points[1] == pytest.approx((-0.3048, -0.254))
    assert wall.points[-2] == pytest.approx((0.3048, -0.254))
    assert wall.points[-1] == pytest.approx((0.3048, 0.0))
    assert not wall.closed


def test_the_davit_stands_its_reach_away_on_its_own_feet(wet_well):
    """Mast at -0.762; feet at -0.762 - 0.254 and -0.762 + 1.27."""
    points = drawn(wet_well, Pen.SUPPORT)

    assert (-0.762, 0.0) in [pytest.approx(one) for one in points]
    assert (0.0, 2.54) in [pytest.approx(one) for one in points]
    lowest = [x for x, y in points if y == pytest.approx(0.04)]
    assert min(lowest) == pytest.approx(-1.016 - 0.05)
    assert max(lowest) == pytest.approx(0.508 + 0.05)


@pytest.mark.parametrize(("space", "way"), [(0, 0), (0, 1), (1, 0)])
def test_the_feet_of_the_hanging_casualty_are_where_the_calculation_has_them(
    sample_plan, space, way
):
    """Hook height less what is needed is what the feet have to spare above the swing-aside gap."""
    plan = sample_plan("pump_station")
    scene = plan.spaces[space].scene
    name = ("primary", "fallback")[way]
    found = next(
        one.outcome
        for one in plan.spaces[space].findings
        if one.rule.id == "clearance/feet-below-rim" and one.about == name
    )
    assert isinstance(found, Compared)
    coaming = scene.space.opening.coaming.m
    gap = next(one.value for one in found.inputs if one.symbol == "c_f")

    lowest = min(y for _, y in drawn(sketch_of(plan, space=space, way=way), Pen.BODY))

    assert lowest == pytest.approx(found.limit.value - found.result.value + gap + coaming)


def test_the_casualty_on_the_floor_lies_inside(sample_plan):
    for number, half_width, floor in ((0, 1.2192, -6.4008), (1, 0.9144, -1.1938)):
        points = drawn(sketch_of(sample_plan("pump_station"), space=number), Pen.GHOST)

        assert all(-half_width <= x <= half_width for x, _ in points)
        assert all(y >= floor - 1e-9 for _, y in points)


@pytest.mark.parametrize("name", ["pump_station", "call_and_wait", "half_measured"])
def test_everything_lies_inside_the_frame(sample_plan, name):
    plan = sample_plan(name)
    for space in plan.spaces:
        for way in space.scene.ways():
            if way.rig is None:
                continue
            sketch = section(way, words)
            points = [p for pen in Pen for p in drawn(sketch, pen)]
            assert min(x for x, _ in points) >= sketch.left
            assert max(x for x, _ in points) <= sketch.right
            assert min(y for _, y in points) >= sketch.bottom - 1e-9
            assert max(y for _, y in points) <= sketch.top


def test_the_dimensions_are_the_measures_of_the_site_file(wet_well):
    told = {(one.lane, one.label): (one.start, one.end) for one in wet_well.dimensions}

    assert told[Lane.LEFT, "depth 6.4008 m"] == pytest.approx((-6.4008, 0.0))
    assert told[Lane.RIGHT, "hook 2.5400 m"] == pytest.approx((0.0, 2.54))
    assert told[Lane.RIGHT, "liquid 1.2192 m"] == pytest.approx((-6.4008, -5.1816))
    assert told[Lane.BELOW, "inside width 2.4384 m"] == pytest.approx((-1.2192, 1.2192))
    assert any(one.text == "opening, round, 24\N{NO-BREAK SPACE}in" for one in wet_well.labels)
    assert any(one.text == "Legged davit no. 2" for one in wet_well.labels)


def test_a_complete_sketch_has_no_guesses(wet_well):
    assert wet_well.guesses == ()
    assert drawn(wet_well, Pen.GUESS) == []


def test_what_nobody_measured_is_named_drawn_as_a_guess_and_has_no_dimension(sample_plan):
    sketch = sketch_of(sample_plan("half_measured"))

    assert {"opening", "depth", "inside width", "hook height"} <= set(sketch.guesses)
    assert sketch.dimensions == ()
    assert drawn(sketch, Pen.GUESS)


def test_one_missing_measure_leaves_the_other_dimensions(planned):
    sketch = sketch_of(planned("pump_station", ('depth = "21 ft"\n', "")))

    assert sketch.guesses == ("depth",)
    labels = [one.label for one in sketch.dimensions]
    assert not any(label.startswith("depth") for label in labels)
    assert "hook 2.5400 m" in labels


def test_a_rectangular_opening_is_drawn_by_its_width(sample_plan):
    """30 in = 0.762 m, both ways."""
    sketch = sketch_of(sample_plan("pump_station"), space=1)
    text = "opening, rectangular, 30\N{NO-BREAK SPACE}in by 30\N{NO-BREAK SPACE}in"

    assert any(one.text == text for one in sketch.labels)
    assert min(x for x, _ in drawn(sketch, Pen.RIM)) == pytest.approx(-0.381 - 0.08)


def test_heads_are_round(wet_well):
    assert sum(isinstance(one, Disc) for one in wet_well.shapes) == 2
