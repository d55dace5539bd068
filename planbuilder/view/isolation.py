"""What is isolated, by which lock, and who holds the key: a table and a line for the leader."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene
from planbuilder.site.isolation import Isolation
from planbuilder.view.model import Table

NOT_STATED = "NOT STATED"
_HEADS = ("Isolated at", "Against", "How", "Lock", "Key with", "Tried")


def isolation_table(scene: Scene) -> Table:
    """One row a point."""
    return Table(_HEADS, tuple(_row(scene, one) for one in scene.space.isolation))


def _row(scene: Scene, one: Isolation) -> tuple[str, ...]:
    point = f"{one.point} ({', '.join(one.pipes)})" if one.pipes else one.point
    day = day_text(one.tried_on) if one.tried_on else "____"
    return (
        point,
        one.energy.replace("-", " "),
        one.method.replace("-", " "),
        one.lock or "-",
        scene.person(one.key_held_by).name if one.key_held_by else "-",
        f"{scene.person(one.tried_by).name if one.tried_by else NOT_STATED}, {day}",
    )


def isolation_line(scene: Scene) -> str:
    """For the leader: it stays off, and who has the keys; "" where nothing is isolated."""
    if not scene.space.isolation:
        return ""
    holders = dict.fromkeys(one.key_held_by for one in scene.space.isolation if one.key_held_by)
    keys = ", ".join(scene.person(one).name for one in holders) or NOT_STATED
    return f"Isolation stays on until you say that the rescue is over; keys: {keys}."
