"""What is stated of those with a part, and the sheet that they sign: names stand there already."""

from __future__ import annotations

from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.people.briefing import with_part
from planbuilder.checks.scene import Scene
from planbuilder.plan import Plan
from planbuilder.site.space import Space
from planbuilder.view.form import Form, form
from planbuilder.view.model import Fact

HEADS = ("Name", "Space", "Explained by", "Signature", "Date")


def people_facts(facts: Space) -> tuple[Fact, ...]:
    """What is stated of those who go in and watch, and of what reaches them."""
    live, reach, high = facts.task.live_voltage, facts.aid_reach, facts.opening.above_ground
    rows = (
        ("Who is inside", facts.roster),
        ("Several spaces", facts.several_spaces),
        ("Opening above ground", high.written if high else None),
        ("Live parts", live.written if live else None),
        ("First aid", f"at the casualty in {reach.written}" if reach else None),
    )
    return tuple(Fact(label, text) for label, text in rows if text)


def sign_off(plan: Plan) -> Form:
    """One line a person and a space that the person has a part in."""
    rows = [
        (
            f"{scene.space.id}/{who}",
            (scene.person(who).name, scene.space.name, _explained(scene, who)),
        )
        for scene in (one.scene for one in plan.spaces)
        for who in with_part(scene)
    ]
    return form("understood", HEADS, rows)


def _explained(scene: Scene, who: str) -> str:
    """By whom, on which day and how, as far as a briefing names *who*."""
    held = [one for one in scene.space.briefing if who in (*one.people, one.by)]
    if not held:
        return ""
    last = max(held, key=lambda one: one.on or date.min)
    words = scene.person(last.by).name
    words += f", {day_text(last.on)}" if last.on else ""
    return f"{words}, walked through" if last.walk_through else words
