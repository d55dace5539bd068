"""Issue and review: who approved the plan, its history, and what is older than its interval."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.profiles.statements import Limit
from planbuilder.site.file import PlanFacts
from planbuilder.site.periods import Period

AUTHOR = Rule(
    "plan/author-approves",
    "Somebody other than the author approves the plan",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="nobody sees the gaps in what they wrote themselves"),
)
NOT_YET = Rule(
    "plan/not-issued-yet",
    "Plan issued on or before the day of the check",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a date to come is no record"),
)
HISTORY = Rule(
    "plan/history-out-of-order",
    "History leads up to this revision",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a crew must know that the sheet in hand is the last one"),
)
REVIEW = Rule(
    "plan/review-overdue",
    "Programme and assessment reviewed within their intervals",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="what nobody looks at again goes out of date unseen"),
)
CHANGED = Rule(
    "plan/changed-since-assessed",
    "Space assessed, and plan issued, after the space was last changed",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a plan holds for the space as it was when it was looked at"),
)


def _same(first: str, second: str) -> bool:
    return " ".join(first.casefold().split()) == " ".join(second.casefold().split())


def check_author(scene: Scene) -> Iterator[Finding]:
    """A second pair of eyes: the approver is not the author."""
    facts = scene.site.plan
    same = _same(facts.author, facts.approver)
    words = f"author {facts.author}, approver {facts.approver}"
    yield finding(
        AUTHOR,
        Stated(holds=not same, because=words),
        settle_by="Have somebody else read and approve the plan.",
        keys=("plan.approver",),
        space=scene.space,
    )


def check_issued(scene: Scene) -> Iterator[Finding]:
    """The plan is in force: its day of issue has come."""
    issued = scene.site.plan.issued
    words = f"issued {day_text(issued)}, checked for {day_text(scene.on)}"
    yield finding(
        NOT_YET,
        Stated(holds=issued <= scene.on, because=words),
        settle_by="State the day on which the plan is issued, once it has been.",
        keys=("plan.issued",),
        space=scene.space,
    )


def check_history(scene: Scene) -> Iterator[Finding]:
    """Each revision once, in the order of its dates, the present one last; it supersedes another.

    Nothing is asked of a plan without history.
    """
    facts = scene.site.plan
    if not facts.history and facts.supersedes is None:
        return
    wrong = _disorder(facts)
    yield finding(
        HISTORY,
        Stated(holds=not wrong, because="; ".join(wrong) or f"leads to {facts.revision}"),
        settle_by="Write one line a revision, oldest first, ending with this one on its day of "
        "issue.",
        keys=("plan.history", "plan.revision", "plan.supersedes"),
        space=scene.space,
    )


def _disorder(facts: PlanFacts) -> list[str]:
    """What is wrong with the history, in words."""
    names = [one.revision for one in facts.history]
    days = [one.on for one in facts.history]
    wrong = [f"revision {one} twice" for one in dict.fromkeys(names) if names.count(one) > 1]
    if days != sorted(days):
        wrong.append("dates not in order")
    wrong += [
        f"revision {one.revision} of {day_text(one.on)}, after the issue of "
        f"{day_text(facts.issued)}"
        for one in facts.history
        if one.on > facts.issued
    ]
    if names and names[-1] != facts.revision:
        wrong.append(f"ends with revision {names[-1]}; this is {facts.revision}")
    if facts.supersedes and _same(facts.supersedes, f"{facts.number} revision {facts.revision}"):
        wrong.append("it supersedes itself")
    return wrong


def check_review(scene: Scene) -> Iterator[Finding]:
    """Programme and assessment are no older than the rule set allows on the last day of work.

    The issue of a plan counts as a review of the programme where no later one is stated.
    """
    programme = scene.limits.limit("review.programme_months")
    if programme is not None:
        facts = scene.site.plan
        reviewed = facts.programme_reviewed_on or facts.issued
        dated = ("plan.programme_reviewed_on", "plan.issued")
        yield _reviewed(scene, "programme", reviewed, programme, dated)
    assessment = scene.limits.limit("review.assessment_months")
    if assessment is not None:
        keys = (scene.key("assessed_on"),)
        yield _reviewed(scene, "assessment", scene.space.assessed_on, assessment, keys)


def _reviewed(
    scene: Scene, about: str, reviewed: date | None, limit: Limit, keys: tuple[str, ...]
) -> Finding:
    months = int(limit.quantity.value)
    outcome: Stated | Missing = Missing(because="day of the last review not stated")
    due = None
    if reviewed is not None:
        due = Period(months, "month", "").after(reviewed)
        words = (
            f"reviewed {day_text(reviewed)}, good to {day_text(due)}, needed to "
            f"{day_text(scene.last_day)}"
        )
        outcome = Stated(holds=reviewed <= scene.on and scene.last_day <= due, because=words)
    return finding(
        REVIEW,
        outcome,
        settle_by=f"Review it, at least every {months} months, and state the day.",
        keys=keys,
        space=scene.space,
        about=about,
        duty=limit,
        due=due,
    )


def check_changed(scene: Scene) -> Iterator[Finding]:
    """Where the space was altered, assessment and plan are of the space as it is now."""
    changed, assessed = scene.space.changed_on, scene.space.assessed_on
    if changed is None:
        return
    issued = scene.site.plan.issued
    words = f"changed {day_text(changed)}, plan issued {day_text(issued)}"
    outcome: Stated | Missing = Missing(because=f"{words}, day of the assessment not stated")
    if changed > min(scene.on, issued):
        outcome = Stated(holds=False, because=words)
    elif assessed is not None:
        words = f"{words}, assessed {day_text(assessed)}"
        outcome = Stated(holds=changed <= assessed <= scene.on, because=words)
    yield finding(
        CHANGED,
        outcome,
        settle_by="Assess the space as it is now, put what changed into the plan and issue it "
        "again.",
        keys=(scene.key("assessed_on"), scene.key("changed_on"), "plan.issued"),
        space=scene.space,
    )
