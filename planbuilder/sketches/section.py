"""Section through a space: opening, depth, support, line, casualty below and at full lift."""

from __future__ import annotations

from planbuilder.checks.scene import Way
from planbuilder.findings import Finding
from planbuilder.sketches.above import overhead, raising, support
from planbuilder.sketches.down import edge, obstructions, openings, space
from planbuilder.sketches.hanging import hanging
from planbuilder.sketches.marks import Marks
from planbuilder.sketches.measures import Picture, measures
from planbuilder.sketches.off_plumb import known_aside, off_plumb
from planbuilder.sketches.shapes import Sketch, Words, assembled

PAD_M = 0.05


def section(way: Way, words: Words, findings: tuple[Finding, ...] = ()) -> Sketch:
    """The section of the space of *way*, with its rig if it has one.

    *words* turns a value and its unit into the reader's words; *findings* are those of the space.
    """
    picture = Picture(way, measures(way), words, Marks(findings, way.name))
    here = (
        (space(picture), obstructions(picture), openings(picture))
        if way.scene.space.is_confined
        else (edge(picture),)
    )
    rig = (overhead(picture), raising(picture), support(picture))
    below = hanging(picture, lies_below=known_aside(picture) is None)
    parts = (*here, *rig, below, off_plumb(picture))
    title = f"Section of {way.scene.space.name}, {way.name} method"
    return assembled(title, parts, pad=PAD_M)
