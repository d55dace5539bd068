"""The drawings of one space: sketches put on paper, and in words for whoever cannot see them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planbuilder.findings import Compared
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.sketches.around import around
from planbuilder.sketches.base import base_plan
from planbuilder.sketches.entrant_lines import entrant_lines
from planbuilder.sketches.fall import fall_column
from planbuilder.sketches.lane import lane_plan
from planbuilder.sketches.layout import layout_plans
from planbuilder.sketches.place import place_plan
from planbuilder.sketches.post import post_plans
from planbuilder.sketches.power_line import power_lines
from planbuilder.sketches.rigging import rigging
from planbuilder.sketches.route import route_strip
from planbuilder.sketches.section import section
from planbuilder.sketches.shapes import Sketch, Words
from planbuilder.sketches.side import side_section
from planbuilder.view.chain import parts_of, weakest
from planbuilder.view.drawing import Drawing, draw
from planbuilder.view.numbers import amount, pair
from planbuilder.view.paper import TALLEST_MM

SHARED_MM = 75.0  # two drawings of this height go on a page with their words
RIGGING_MM = 95.0  # tall enough for what is said of each part beside it
BASE_MM = 62.0  # the plan of a base stands among the calculations, not on a page of its own

_OF_A_SPACE = {
    "manway": side_section,
    "lines": entrant_lines,
    "fall": fall_column,
    "around": around,
    "lane": lane_plan,
    "route": route_strip,
}


def drawings(space: SpacePlan, system: UnitSystem) -> tuple[Drawing, ...]:
    """Every sketch of *space*: the first starts a page, and what fits below it stands there."""
    name, words = space.scene.space.id, _words(system)
    rows = [(tail, one, TALLEST_MM) for tail, one in _sections(space, words)]
    rows += [(tail, one, RIGGING_MM) for tail, one in _rigged(space, words, system)]
    rows += [(tail, one, SHARED_MM) for tail, one in _beside(space, words)]
    drawn = [
        draw(one, drawing_id=f"{name}-{tail}", alt=_said(one), system=system, tallest_mm=tallest)
        for tail, one, tallest in rows
    ]
    return tuple(replace(one, own_page=number == 0) for number, one in enumerate(drawn))


def bases(space: SpacePlan, system: UnitSystem) -> tuple[Drawing, ...]:
    """The plan of the base of every way out that has one."""
    ways = ((way, base_plan(way, _words(system))) for way in space.scene.ways())
    return tuple(
        draw(
            sketch,
            drawing_id=f"{space.scene.space.id}-{way.name}-base",
            alt=_said(sketch),
            system=system,
            tallest_mm=BASE_MM,
        )
        for way, sketch in ways
        if sketch is not None
    )


def _sections(space: SpacePlan, words: Words) -> Iterator[tuple[str, Sketch]]:
    """The section of every way out with a rig; it knows an opening in the top only."""
    if space.scene.space.opening.from_side:
        return
    for way in space.scene.ways():
        if way.rig:
            yield way.name, section(way, words, space.findings)


def _rigged(space: SpacePlan, words: Words, system: UnitSystem) -> Iterator[tuple[str, Sketch]]:
    """The rigging diagram of every way out with a rig, and the arm on a post over its edge."""

    def figures(one: Compared) -> tuple[str, str]:
        cut = pair(one, system)
        return cut.result, cut.limit

    for way in space.scene.ways():
        parts, worst = tuple(parts_of(space, way.name)), weakest(space, way.name)
        sketch = rigging(way, words, figures, parts, worst)
        if sketch is not None:
            yield f"{way.name}-rigging", sketch
        for tail, one in post_plans(way, words, space.findings):
            yield f"{way.name}-{tail}", one


def _beside(space: SpacePlan, words: Words) -> Iterator[tuple[str, Sketch]]:
    """Every other sketch: of the place of each way out, then of the space."""
    scene, findings = space.scene, space.findings
    for way in scene.ways():
        place = place_plan(way, words, findings)
        if place is not None:
            yield f"{way.name}-place", place
        for number, sketch in enumerate(power_lines(way, words, findings), start=1):
            yield f"{way.name}-line-{number}", sketch
    for tail, sketch in layout_plans(scene, words, findings):
        yield f"{tail}-layout", sketch
    for tail, of in _OF_A_SPACE.items():
        found = of(scene, words, findings)
        if found is not None:
            yield tail, found


def _words(system: UnitSystem) -> Words:
    return lambda value, unit: amount(value, unit, system)


def _said(sketch: Sketch) -> str:
    """The drawing in words: every dimension, every label, every note."""
    rows = [*(one.label for one in sketch.dimensions), *(one.text for one in sketch.labels)]
    said = "; ".join((*rows, *(note.rstrip(".") for note in sketch.notes)))
    return f"{sketch.title}: {said or 'no measures known'}."
