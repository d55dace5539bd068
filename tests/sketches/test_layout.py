"""The ground round an opening: outlines where the layout puts them, gaps as the findings say."""

from __future__ import annotations

import broken_layout
import pytest
from broken_layout import PLACE, box, drawn, drop, obstacle, thing
from broken_sites import Break, plan_with
from hypothesis import given
from hypothesis import strategies as st
from on_paper import drawings, overlaps
from shapely import Polygon
from shapely import box as window_of

from planbuilder.findings import Unit
from planbuilder.sketches.ground import cut
from planbuilder.sketches.layout import BEYOND_M, layout_plans
from planbuilder.sketches.shapes import Pen, Sketch, Stroke

IN = 0.0254
CASES = {
    f"{name} {part}": change
    for name, one in broken_layout.CASES.items()
    for part, change in (("fires", one.fires), ("unknown", one.unknown))
}


def metres(value: float, unit: Unit) -> str:
    """Metres, as plain as can be."""
    return f"{value:.3f} {unit}"


def of(*breaks: Break) -> Sketch:
    """The ground round the wet well with its primary rig."""
    space = plan_with(*breaks).spaces[0]
    return dict(layout_plans(space.scene, metres, space.findings))["primary"]


def strokes(sketch: Sketch, pen: Pen) -> list[Stroke]:
    """Everything drawn by lines with *pen*."""
    return [one for one in sketch.shapes if isinstance(one, Stroke) and one.pen is pen]


def test_without_a_layout_nothing_is_drawn():
    space = plan_with().spaces[0]

    assert layout_plans(space.scene, metres, space.findings) == ()


def test_the_davit_stands_where_the_layout_says():
    """Mast 30 in to the right, its boom back over the opening; base from x -20 in to 40 in."""
    sketch = of(obstacle(1.3))
    base = next(one for one in strokes(sketch, Pen.AVAILABLE) if one.closed)

    xs, ys = [x for x, _ in base.points], [y for _, y in base.points]
    assert (min(xs), max(xs)) == pytest.approx((-20 * IN, 40 * IN))
    assert max(ys) - min(ys) == pytest.approx(80 * IN)
    boom = strokes(sketch, Pen.SUPPORT)[0]
    assert boom.points[0] == pytest.approx((30 * IN, 0.0))
    assert boom.points[1] == (0.0, 0.0)


def test_an_obstacle_lies_where_it_is_with_its_gap_and_its_rule():
    sketch = of(obstacle(1.2))

    assert strokes(sketch, Pen.SOLID)[0].points[0] == (-0.5, 1.2)
    text = next(one for one in sketch.labels if one.text.startswith("Kiosk"))
    assert text.fails
    assert "FAILS clearance/base-on-obstacle" in text.text


def test_a_drop_says_how_near_the_foot_stands():
    """The pads end 40 in from the axis of the boom, less half a pad's diagonal."""
    text = next(one for one in of(drop(2.0)).labels if one.text.startswith("Drop: Trench"))

    assert text.fails
    assert "FAILS haul/foot-near-edge" in text.text


def test_a_support_of_which_nobody_says_where_it_stands_is_not_drawn():
    sketch = of(obstacle(1.3, None))

    assert strokes(sketch, Pen.SUPPORT) == []
    assert any("The rig is not drawn" in one for one in sketch.notes)


def test_a_long_lane_is_cut_to_the_paper():
    sketch = of(drawn(landing=PLACE, lane=box(-20, 1.8, 20, 5)))
    lane = strokes(sketch, Pen.WALL)[0]

    assert min(x for x, _ in lane.points) == pytest.approx(-4.2 - BEYOND_M)
    assert sketch.right - sketch.left < 10
    assert any("past everything else" in one for one in sketch.notes)


@given(
    triangle=st.lists(
        st.tuples(st.integers(-9, 9), st.integers(-9, 9)), min_size=3, max_size=3, unique=True
    )
)
def test_cutting_agrees_with_another_library(triangle):
    points = tuple((float(x), float(y)) for x, y in triangle)
    expected = Polygon(points).intersection(window_of(-4, -3, 5, 2)).area

    kept = cut(points, (-4.0, -3.0, 5.0, 2.0))

    area = Polygon(kept).area if len(kept) > 2 else 0.0
    assert area == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("name", CASES)
def test_no_words_touch(name):
    for one in drawings(plan_with(CASES[name])):
        assert overlaps(one) == [], one.title


def test_no_words_touch_with_much_on_the_ground():
    many = [*thing(2, 2, 3, 3), *thing(-3, 2, -2, 3, name="Bin"), *thing(2, -3, 3, -2, name="Van")]
    change = drawn(
        obstacle=many,
        drop=thing(-5, 4, 5, 5, name="Trench"),
        landing=PLACE,
        lane=box(-20, -8, 20, -5),
        firm=box(-9, -9, 9, 9),
    )

    for one in drawings(plan_with(change)):
        assert overlaps(one) == [], one.title
