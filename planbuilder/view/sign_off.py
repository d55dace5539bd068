"""The sheet on which everybody signs that the plan was explained: names stand there already."""

from __future__ import annotations

from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.people.briefing import with_part
from planbuilder.checks.scene import Scene
from planbuilder.plan import Plan
from planbuilder.view.model import Table

HEADS = ("Name", "Space", "Explained by", "Signature", "Date")


def sign_off(plan: Plan) -> Table:
    """One line a person and a space that the person has a part in."""
    rows = [
        (scene.person(who).name, scene.space.name, _explained(scene, who), "", "")
        for scene in (one.scene for one in plan.spaces)
        for who in with_part(scene)
    ]
    return Table(HEADS, tuple(rows))


def _explained(scene: Scene, who: str) -> str:
    """By whom, on which day and how, as far as a briefing names *who*."""
    held = [one for one in scene.space.briefing if who in (*one.people, one.by)]
    if not held:
        return ""
    last = max(held, key=lambda one: one.on or date.min)
    words = scene.person(last.by).name
    words += f", {day_text(last.on)}" if last.on else ""
    return f"{words}, walked through" if last.walk_through else words
