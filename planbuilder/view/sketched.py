"""The drawings of one space: sketches put on paper, and in words for whoever cannot see them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.sketches.around import around
from planbuilder.sketches.base import base_plan
from planbuilder.sketches.fall import fall_column
from planbuilder.sketches.lane import lane_plan
from planbuilder.sketches.place import place_plan
from planbuilder.sketches.power_line import power_lines
from planbuilder.sketches.section import section
from planbuilder.sketches.shapes import Sketch, Words
from planbuilder.sketches.side import side_section
from planbuilder.view.drawing import Drawing, draw
from planbuilder.view.numbers import amount

SHARED_MM = 110.0  # two drawings lower than this go on a page
BASE_MM = 90.0  # the plan of a base stands among the calculations, not on a page of its own

_OF_A_SPACE = {"manway": side_section, "fall": fall_column, "around": around, "lane": lane_plan}


def drawings(space: SpacePlan, system: UnitSystem) -> tuple[Drawing, ...]:
    """Every sketch of *space*, the section first; low ones share a page."""
    name = space.scene.space.id
    drawn = (
        draw(sketch, drawing_id=f"{name}-{tail}", alt=_said(sketch), system=system)
        for tail, sketch in _sketches(space, _words(system))
    )
    return tuple(
        replace(one, own_page=number == 0 or float(one.height) > SHARED_MM)
        for number, one in enumerate(drawn)
    )


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


def _sketches(space: SpacePlan, words: Words) -> Iterator[tuple[str, Sketch]]:
    scene, findings = space.scene, space.findings
    for way in scene.ways():
        # The section knows an opening in the top only; a wrong picture is worse than none.
        if way.rig and not scene.space.opening.from_side:
            yield way.name, section(way, words, findings)
        place = place_plan(way, words, findings)
        if place is not None:
            yield f"{way.name}-place", place
        for number, sketch in enumerate(power_lines(way, words, findings), start=1):
            yield f"{way.name}-line-{number}", sketch
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
