"""The steps of each part of the rescue, numbered in the order of the plan."""

from __future__ import annotations

from planbuilder.checks.people.actors import by_part, named
from planbuilder.checks.scene import Scene
from planbuilder.view.model import Table


def role_steps(scene: Scene) -> Table:
    """One row a part and way: who has it, and its steps in order."""
    rows = [
        (
            way.name,
            part,
            ", ".join(named(way, part)) or "-",
            " ".join(f"{number}. {one.what}." for number, one in enumerate(steps, 1)),
        )
        for way in scene.ways()
        for part, steps in by_part(way).items()
    ]
    return Table(("Way", "Part", "Who", "Steps, in order"), tuple(rows))
