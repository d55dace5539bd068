"""Everybody with a part has the plan explained, and signs that."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.briefing import Briefing

BRIEFED = Rule(
    "plan/briefing-not-signed",
    "The plan explained to everybody with a part, and signed",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="nobody follows a plan that they have not read"),
)


def with_part(scene: Scene) -> tuple[str, ...]:
    """The ids of everybody who goes in, watches, answers for the entry or is in the crew."""
    space = scene.space
    others = (space.relief_attendant, space.supervisor, space.deputy_leader)
    crew = (one.person for way in scene.ways() for one in way.method.crew)
    everybody = (*space.entrants, *space.attendant, *others, *crew)
    return tuple(dict.fromkeys(one for one in everybody if one))


def check_briefed(scene: Scene) -> Iterator[Finding]:
    """A briefing on record is of this issue; one still to come has a line for everybody."""
    duty, briefings = scene.limits.duty("exchange.acknowledged"), scene.space.briefing
    if duty is None and not briefings:
        return  # the printed sheet has a line for everybody all the same
    outcome: Stated | Missing = Missing(because="nobody is named to have the plan explained")
    if briefings:
        outcome = _briefed(scene, briefings)
    yield finding(
        BRIEFED,
        outcome,
        settle_by="State a briefing of this issue: by, and under people everybody who goes in, "
        "watches, answers for the entry or is in the crew. Leave out on until it has been held "
        "and signed.",
        keys=(scene.key("briefing"),),
        space=scene.space,
        duty=duty,
    )


def _briefed(scene: Scene, briefings: list[Briefing]) -> Stated:
    issued = scene.site.plan.issued
    days = [one.on for one in briefings if one.on is not None]
    later = [day_text(one) for one in days if one > scene.on]
    if later:
        words = f"dated after the day of the check: {', '.join(later)}"
        return Stated(holds=False, because=words)
    fresh = [one for one in briefings if one.on is None or one.on >= issued]
    named = {who for one in fresh for who in (*one.people, one.by)}
    left_out = [scene.person(one).name for one in with_part(scene) if one not in named]
    if left_out:
        old = [day_text(one) for one in days if one < issued]
        before = f"; before this issue of {day_text(issued)}: {', '.join(old)}" if old else ""
        words = f"this issue not explained to: {', '.join(left_out)}{before}"
        return Stated(holds=False, because=words)
    signed = {who for one in fresh if one.on for who in (*one.people, one.by)}
    to_sign = [one for one in with_part(scene) if one not in signed]
    words = f"{len(with_part(scene)) - len(to_sign)} have signed, {len(to_sign)} sign before entry"
    return Stated(holds=True, because=words)
