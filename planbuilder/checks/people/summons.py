"""Whoever is called can be reached: the numbers were tried, not long ago."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.people.relied_on import summoned
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.periods import Period

TRIED = Rule(
    "plan/number-not-tried",
    "Numbers to call tried not long before the work",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a number that is wrong is found out by calling it"),
)


def check_numbers(scene: Scene) -> Iterator[Finding]:
    """The emergency number and that of each service that comes were tried within the interval."""
    site = scene.site.site
    numbers = [(f"emergency number {site.emergency_number}", site.verified_on, "site.verified_on")]
    numbers += [
        (f"{one.name}, {one.phone}", one.verified_on, f"service.{one.id}.verified_on")
        for one in summoned(scene)
    ]
    limit = scene.limits.of("summons.tried_days")
    for name, tried, key in numbers:
        good_to = tried and Period(int(limit.quantity.value), "day", "").after(tried)
        yield finding(
            TRIED,
            _tried(scene, name, tried, good_to),
            settle_by="Try it from the place, by the means in the plan, and state the day; try it "
            "again on the day of entry.",
            keys=(key,),
            space=scene.space,
            about=name,
            duty=limit,
            due=good_to,
        )


def _tried(scene: Scene, name: str, tried: date | None, good_to: date | None) -> Stated | Missing:
    if tried is None or good_to is None:
        return Missing(because=f"{name}: no record that it was tried")
    needed = max(scene.on, scene.space.task.start)
    words = (
        f"{name}: tried {day_text(tried)}, good to {day_text(good_to)}, needed to "
        f"{day_text(needed)}"
    )
    return Stated(holds=tried <= scene.on and needed <= good_to, because=words)
