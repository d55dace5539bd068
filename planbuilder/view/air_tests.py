"""The readings of the air that a plan holds, as a table in the order of reading."""

from __future__ import annotations

from planbuilder.checks.air.readings import moment
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene
from planbuilder.view.model import Table

_GASES = ("oxygen", "flammable", "hydrogen_sulfide", "carbon_monoxide")
_HEADS = ("Read", "Depth", "Oxygen", "Flammable", "Hydrogen sulfide", "Carbon monoxide", "By")


def air_tests(scene: Scene) -> Table:
    """One row a reading."""
    rows = []
    for one in sorted(scene.space.reading, key=moment):
        gases = (getattr(one, name) for name in _GASES)
        rows.append(
            (
                f"{day_text(one.on)} {one.at.written}",
                one.depth.written if one.depth else "-",
                *(gas.written if gas else "-" for gas in gases),
                scene.person(one.tester).name if one.tester else "NOT STATED",
            )
        )
    return Table(_HEADS, tuple(rows))
