"""What stands where: a row a space, and one for what the whole site shares.

It stands on the cover, since page two belongs to the attendant.
"""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.view.model import ContentsRow, Link, SpaceView

_WHOLE_SITE = (
    Link("Crew and drills", "people"),
    Link("Equipment", "equipment"),
    Link("Outside service and exchange", "exchange"),
    Link("Findings", "findings"),
    Link("Assumptions and local rules", "assumptions"),
    Link("Limits in force", "limits"),
    Link("Documents cited", "documents"),
)


def contents(spaces: tuple[SpaceView, ...]) -> tuple[ContentsRow, ...]:
    """The parts of each space and of the whole site, in the order of the pages."""
    return (
        *(ContentsRow(one.name, tuple(_parts(one))) for one in spaces),
        ContentsRow("Whole site", _WHOLE_SITE),
    )


def _parts(space: SpaceView) -> Iterator[Link]:
    yield Link("Attendant card", f"attendant-{space.id}")
    yield Link("Rescue leader card", f"leader-{space.id}")
    for drawing in space.drawings[:1]:
        yield Link("Sketches", f"sketch-{drawing.id}")
    yield Link("Timeline and calculations", f"sheets-{space.id}")
    for area in space.areas:
        if area.calculations or area.statements:
            yield Link(area.title, area.id)
    yield Link("Pocket cards", f"pocket-{space.id}")
