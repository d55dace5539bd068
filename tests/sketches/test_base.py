"""Plans of bases: what is drawn where, and which of them end at their edge."""

import math

import pytest
from broken_haul import both, put, rig
from broken_sites import Break, plan_with

from planbuilder.findings import Unit
from planbuilder.sketches.base import base_plan
from planbuilder.sketches.shapes import Disc, Pen, Sketch, Stroke

IN = 0.0254


def plan_of(*breaks: Break, sample: str = "pump_station") -> Sketch | None:
    """The base of the first space's primary method."""
    way = next(plan_with(*breaks, sample=sample).spaces[0].scene.ways())
    return base_plan(way, _metres)


def _metres(value: float, unit: Unit) -> str:
    return f"{value:.3f} {unit}"


def drawn(*breaks: Break, sample: str = "pump_station") -> Sketch:
    """As `plan_of`, where there is one."""
    sketch = plan_of(*breaks, sample=sample)
    assert sketch is not None
    return sketch


def words(sketch: Sketch) -> str:
    """Everything that is written on it."""
    return " | ".join([sketch.title, *(one.text for one in sketch.labels)])


def test_a_portable_base_is_drawn_with_the_worst_place_of_its_line() -> None:
    """Swung 80 degrees at 30 in, from the side edge at 40 in."""
    sketch = drawn()

    worst = [one for one in sketch.shapes if isinstance(one, Disc) and one.pen is Pen.BODY][-1]
    inside_m = 40 * IN - 30 * IN * math.sin(math.radians(80))
    assert abs(worst.centre[1]) == pytest.approx(30 * IN * math.sin(math.radians(80)))
    assert f"{inside_m:.3f} m inside" in words(sketch)
    assert "has to stay inside its feet" in sketch.title


def test_a_line_beyond_its_base_is_called_outside() -> None:
    assert "OUTSIDE" in words(drawn(rig(reach="70 in")))


@pytest.mark.parametrize("sample", ["shored_trench", "transformer_deck"])
def test_a_fixed_base_says_that_it_has_no_edge(sample: str) -> None:
    sketch = drawn(sample=sample)

    assert "not tipping" in sketch.title
    assert not any(isinstance(one, Stroke) and one.closed for one in sketch.shapes)


def test_a_fixed_base_names_the_reach_of_its_rating() -> None:
    sketch = drawn(put("support", "clamp-3", rated_reach="1 m"), sample="shored_trench")

    assert "reach of 1.000 m" in words(sketch)


@pytest.mark.parametrize("gone", ["reach", "swing_from"])
def test_a_base_that_is_not_measured_is_not_drawn(gone: str) -> None:
    assert plan_of(both(rig(**{gone: None}))) is None
