"""Fall arrest on a horizontal lifeline: does it hold, how many may use it, who designed it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.fall_line import CaughtOn, lifeline, people
from planbuilder.checks.room.falling import answered
from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import Scene, Working, derived, finding, output
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
from planbuilder.site.supports import HorizontalLifeline
from planbuilder.units import Force

LAW = Source(
    mark=Mark.RECALLED, document="29 CFR 1926.502", clause="(d)(8)", note="text seen as quoted"
)
HOLDS = Rule(
    "clearance/lifeline-too-weak-for-fall", "Lifeline and its ends in a fall", Weight.BLOCKS, LAW
)
PLAIN = Rule(
    "clearance/lifeline-beyond-plain-anchor",
    "Pull on the ends against a plain anchorage",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, document="Statics", note="elastic line, load in the middle"),
)
USERS = Rule(
    "clearance/lifeline-shared-in-fall", "People that the lifeline may catch", Weight.BLOCKS, LAW
)
DESIGNED = Rule(
    "clearance/lifeline-without-designer", "Lifeline by a qualified person", Weight.BLOCKS, LAW
)


def check_lifeline(scene: Scene) -> Iterator[Finding]:
    """A line that catches a fall pulls its ends with many times the force on the body."""
    fall = scene.space.fall
    line = lifeline(scene, fall, Needs()) if fall else None
    if fall is None or line is None:
        return  # where it names no horizontal lifeline, the clearance below says so
    caught = CaughtOn(scene, fall, line)
    yield _holds(scene, caught, "ends", line.end_rating, "end_rating")
    yield _holds(scene, caught, "line", line.line_breaking, "line_breaking")
    yield _plain(scene, caught)
    yield _users(scene, line)
    yield _designed(scene, line)


def _holds(scene: Scene, caught: CaughtOn, part: str, rating: Force | None, name: str) -> Finding:
    """The strength is the wanted number of times the tension."""
    needs, factor = Needs(), scene.limits.of("anchor.arrest_engineered_sf")
    key, pull = f"{caught.key}.{name}", caught.tension()
    needs.also(caught.needs)
    strength = needs.take("T_max", f"strength of the {part}", rating, Unit.N, key)
    tension = derived("T", "tension in the fall", pull.value, Unit.N, pull.formula, pull.inputs)

    def working() -> Working:
        return Working(strength.value / tension.value, "T_max/T", (strength, tension))

    return answered(
        HOLDS,
        scene,
        needs,
        lambda: working().against(
            factor.relation,
            factor.quantity,
            result=output("n", "strength over tension", Unit.RATIO),
        ),
        settle_by=lambda: (
            f"Have {part} for {_kilonewtons(factor.quantity.value * tension.value)} kN, or give "
            "the line more sag: it pulls less, and comes down farther."
        ),
        keys=(key, f"{caught.key}.sag"),
        about=part,
    )


def _plain(scene: Scene, caught: CaughtOn) -> Finding:
    anchor, pull, needs = scene.limits.of("anchor.arrest").quantity, caught.tension(), Needs()
    needs.also(caught.needs)

    def settle() -> str:
        designed = f"Have each end designed for {_kilonewtons(pull.value)} kN with its factor"
        try:
            sag_m = caught.sag_for(anchor.value)
        except ValueError:
            return f"{designed}."
        return f"{designed}, or let the line hang {up(sag_m)} m by itself."

    return answered(
        PLAIN,
        scene,
        needs,
        lambda: pull.against(
            Relation.AT_MOST, anchor, result=output("T", "tension at the ends", Unit.N)
        ),
        settle_by=settle,
        keys=(f"{caught.key}.sag",),
    )


def _users(scene: Scene, line: HorizontalLifeline) -> Finding:
    needs, at_once, key = Needs(), people(scene), f"support.{line.id}.users"
    most = needs.number("n_max", "users the line was designed for", line.users, Unit.COUNT, key)
    return answered(
        USERS,
        scene,
        needs,
        lambda: Working(at_once.value, "n", (at_once,)).against(
            Relation.AT_MOST, most, result=output("n", "people on the lifeline", Unit.COUNT)
        ),
        settle_by=lambda: (
            "One person at a time, or a line that a qualified person designs for "
            f"{at_once.value:.0f} people."
        ),
        keys=(key, at_once.source.key),
    )


def _designed(scene: Scene, line: HorizontalLifeline) -> Finding:
    outcome: Stated | Missing = Missing(because=f"{line.name}: nobody named who designed it")
    if line.judged_by:
        words = f"{line.name}: {line.judged_by}; engineer to confirm on site"
        outcome = Stated(holds=True, because=words)
    return finding(
        DESIGNED,
        outcome,
        settle_by="Have a qualified person design the lifeline, and state judged_by with the name.",
        keys=(f"support.{line.id}.judged_by",),
        space=scene.space,
    )


def _kilonewtons(value_n: float) -> str:
    """A strength needed, rounded up to 0.1 kN."""
    return f"{math.ceil(value_n / 100) / 10:.1f}"
