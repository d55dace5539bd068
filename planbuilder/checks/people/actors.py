"""Who does each step, and how long the list of steps gets that one part has to read."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planbuilder.checks.people.places import ATTENDANT, part_name
from planbuilder.checks.scene import Scene, Way, Working, counted, finding, output
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.method import CrewRole, Step

NOBODY = Rule(
    "plan/step-without-actor",
    "Somebody named for every step",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(9)"),
)
LONG = Rule(
    "plan/too-many-steps",
    "Steps that one part has to read",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="nobody reads a long list under stress"),
)
_PARTS = (ATTENDANT, *(part_name(role) for role in CrewRole))
# Who does what is computed, where the step says nothing else.
_COMPUTED = {
    "detection": ATTENDANT,
    "haul": part_name(CrewRole.HAUL),
    "route-in": part_name(CrewRole.ENTRY),
    "route-out": part_name(CrewRole.ENTRY),
}


def named(way: Way, part: str) -> tuple[str, ...]:
    """The names of those who have a part in this way."""
    if part == ATTENDANT:
        return tuple(way.scene.person(one).name for one in way.scene.space.attendant)
    return tuple(one.name for role in CrewRole if part_name(role) == part for one in way.crew(role))


def _said(text: str) -> tuple[str, ...]:
    """The parts that the words of a step name; the words as they are where these name none."""
    plain = text.lower()
    found = tuple(one for one in _PARTS if re.search(rf"\b{re.escape(one)}\b", plain))
    return found or (text,)


def actors(way: Way, step: Step) -> tuple[str, ...]:
    """The parts that do a step: as stated, else of its people, else by what is computed in it."""
    if step.role is not None:
        return (part_name(step.role),)
    if step.by:
        roles = [one.role for one in way.method.crew if one.person in step.by]
        people = tuple(way.scene.person(one).name for one in step.by)
        return tuple(dict.fromkeys(part_name(one) for one in roles)) or people
    if step.who is not None:
        return _said(step.who)
    service = step.service or (way.method.service if step.computed == "off-site" else None)
    if service is not None:
        return (way.scene.service(service).name,)
    return (_COMPUTED[step.computed],) if step.computed in _COMPUTED else ()


def check_actors(scene: Scene) -> Iterator[Finding]:
    """Every step has somebody who does it; a part that it names has somebody in it."""
    for way in scene.ways():
        if not way.method.step:
            continue
        doing = {step.id: actors(way, step) for step in way.method.step}
        blank = [name for name, who in doing.items() if not who]
        empty = {
            part: name
            for name, who in doing.items()
            for part in who
            if part in _PARTS and not named(way, part) and way.method.crew
        }
        outcome: Stated | Missing = Stated(holds=True, because="every step has somebody")
        if empty:
            words = "; ".join(f"{name}: nobody is named as {part}" for part, name in empty.items())
            outcome = Stated(holds=False, because=words)
        elif blank:
            outcome = Missing(because=f"nobody does: {', '.join(blank)}")
        yield finding(
            NOBODY,
            outcome,
            settle_by="Say who does each step: by (people), role, who (in words) or service; and "
            "name a person for each part that a step counts on.",
            keys=tuple(way.key(f"step.{one}.who") for one in blank or empty.values())
            or (way.key("step"),),
            space=scene.space,
            about=way.name,
        )


def by_part(way: Way) -> dict[str, list[Step]]:
    """The steps of each part, in the order of the plan."""
    rows: dict[str, list[Step]] = {}
    for step in way.method.step:
        for part in actors(way, step):
            rows.setdefault(part, []).append(step)
    return rows


def check_length(scene: Scene) -> Iterator[Finding]:
    """No part has more steps than fit a card that is read under stress."""
    limit = scene.defaults.of("steps-a-card")
    for way in scene.ways():
        rows = by_part(way)
        if not rows:
            continue
        part = max(rows, key=lambda one: len(rows[one]))
        count = len(rows[part])
        number = counted("n_steps", f"steps of {part}", count, way.key("step"))
        yield finding(
            LONG,
            Working(count, "n_steps", (number,)).against(
                Relation.AT_MOST, limit, result=output("n", f"steps of {part}", Unit.COUNT)
            ),
            settle_by=f"Give {part} at most {limit.value:.0f} steps: put small ones together, or "
            "give some to another part.",
            keys=(way.key("step"),),
            space=scene.space,
            about=way.name,
        )
