"""The steps of each part of the rescue, numbered in the order of the plan, to tick as they go."""

from __future__ import annotations

from planbuilder.checks.people.actors import by_part, named
from planbuilder.checks.scene import Scene
from planbuilder.view.form import Form, form, key_of


def role_steps(scene: Scene) -> Form:
    """One row a step, part by part within each way: who does it, a box, and the time."""
    rows = [
        (
            f"{way.name}/{key_of(part)}/{step.id}",
            (f"{number}. {step.what}", way.name, _who(part, named(way, part))),
        )
        for way in scene.ways()
        for part, steps in by_part(way).items()
        for number, step in enumerate(steps, 1)
    ]
    heads = ("Step", "Way", "Part", "Done", "At")
    return form(f"steps/{scene.space.id}", heads, rows, ticks=("Done",))


def _who(part: str, names: tuple[str, ...]) -> str:
    return f"{part}: {', '.join(names)}" if names else part
