"""The way to the casualty as a strip: lengths to scale, kinds by shape, bends by name."""

from __future__ import annotations

from typing import Any

import broken_openings
import pytest
from broken_haul import both
from broken_sites import Break, plan_with, space
from on_paper import drawings, overlaps

from planbuilder.findings import Unit
from planbuilder.site.travel import Going
from planbuilder.sketches.route import MOST_TOLD, TOO_LONG, route_strip
from planbuilder.sketches.shapes import Pen, Sketch, Stroke

FT = 0.3048


def metres(value: float, unit: Unit) -> str:
    """Metres and seconds, as plain as can be."""
    return f"{value:.2f} {unit}"


def route(*stretches: dict[str, Any]) -> Break:
    """The way to the first space."""
    return lambda data: space(data).update(route=list(stretches))


def stretch(length: str, going_in: str = "walk", **values: Any) -> dict[str, Any]:
    """One stretch."""
    return {"what": f"By {going_in}", "length": length, "going_in": going_in, **values}


def of(*breaks: Break, sample: str = "pump_station") -> Sketch | None:
    """The strip of the first space."""
    first = plan_with(*breaks, sample=sample).spaces[0]
    return route_strip(first.scene, metres, first.findings)


def drawn(*breaks: Break, sample: str = "pump_station") -> Sketch:
    """The same where there is one."""
    sketch = of(*breaks, sample=sample)
    assert sketch is not None
    return sketch


EVERY = route(*(stretch("20 m", one.value, coming_out="drag") for one in Going))
LONG = route(*(stretch("300 m", coming_out="stretcher") for _ in range(30)))


def test_no_stretch_no_strip():
    assert of(route()) is None


def test_stretches_lie_end_to_end_as_long_as_they_are():
    """6 ft, 5 ft and 22 ft, as the site file says."""
    sketch = drawn(sample="storage_tank")
    boxes = [
        one
        for one in sketch.shapes
        if isinstance(one, Stroke) and one.pen is Pen.AVAILABLE and one.closed
    ]

    ends = [(min(x for x, _ in one.points), max(x for x, _ in one.points)) for one in boxes]
    expected = [(0, 6 * FT), (6 * FT, 11 * FT), (11 * FT, 33 * FT)]
    assert [each for one in ends for each in one] == pytest.approx([e for o in expected for e in o])
    assert sketch.dimensions[0].label == f"whole way {33 * FT:.2f} m"
    assert sketch.guesses == ()


def test_a_stretch_says_how_it_is_gone_both_ways_and_where_the_team_waits():
    text = drawn(sample="storage_tank").labels[1].text

    assert text.startswith("2. Through the manway, over the sill")
    assert text.endswith("crawl in set in, drag out, wait 10.00 s in, wait 90.00 s out")


def test_stairs_go_the_way_they_go():
    down = next(
        one
        for one in drawn(route(stretch("9 m", "stairs-down"))).shapes
        if isinstance(one, Stroke) and one.pen is Pen.WALL
    )
    up = next(
        one
        for one in drawn(route(stretch("9 m", "stairs-up"))).shapes
        if isinstance(one, Stroke) and one.pen is Pen.WALL
    )

    assert down.points[0][1] > down.points[-1][1]
    assert up.points[0][1] < up.points[-1][1]


def test_a_bend_that_stops_the_stretcher_names_its_rule():
    sketch = drawn(
        both(
            EVERY,
            broken_openings.stretcher(),
            broken_openings.bend(before="1.0 m", after="0.9 m", turn="90 deg"),
        )
    )

    (note,) = [one for one in sketch.notes if one.startswith("Bend on the way out")]
    assert "FAILS clearance/stretcher-past-bend" in note


def test_a_way_of_kilometres_is_in_proportion_and_says_so():
    sketch = drawn(LONG)

    assert sketch.schematic == TOO_LONG
    assert sketch.dimensions[0].label == "whole way 9000.00 m"
    assert sketch.right - sketch.left < 750


def test_more_stretches_than_words_have_room_are_counted():
    assert f"{30 - MOST_TOLD} more stretches are drawn without words." in drawn(LONG).notes


@pytest.mark.parametrize(
    "change", [EVERY, LONG, route(stretch("1 m"))], ids=["every kind", "long", "short"]
)
def test_no_words_touch(change):
    for one in drawings(plan_with(change)):
        assert overlaps(one) == [], one.title
