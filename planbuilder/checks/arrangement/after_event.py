"""After the event: who is told in time, and who keeps place, equipment and lessons."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Working, counted, finding, output
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)

GENERAL = "29 CFR 1910.146"
REPORT = Rule(
    "plan/no-report-contact",
    "Somebody to report the event to",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="who is told is known before, with a number to call"),
)
IN_TIME = Rule(
    "plan/report-too-late",
    "Report to the authority within its days",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="asked only where a rule set states the days"),
)
ARRANGED = Rule(
    "plan/after-event-not-arranged",
    "Scene kept, equipment kept, plan reviewed before anybody enters again",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(e)(5), (d)(13)"),
)


def check_report(scene: Scene) -> Iterator[Finding]:
    """Somebody to tell is named; an authority, where a rule set has days for it."""
    told, limit = scene.site.after.report, scene.limits.limit("review.report_days")
    names = ", ".join(one.to for one in told)
    outcome: Stated | Missing = Stated(holds=True, because=f"told: {names}")
    if not told:
        outcome = Missing(because="nobody to report to is named")
    elif limit is not None and not any(one.authority for one in told):
        outcome = Missing(because=f"no authority is named; told: {names}")
    yield finding(
        REPORT,
        outcome,
        settle_by="State [[after.report]]: to whom, the number, authority = true for the one that "
        "the law names, and within how many days.",
        keys=("after.report",),
        space=scene.space,
        duty=limit,
    )


def check_report_days(scene: Scene) -> Iterator[Finding]:
    """The authority is told within the days that the rule set states."""
    limit = scene.limits.limit("review.report_days")
    if limit is None:
        return
    for number, one in enumerate(scene.site.after.report, 1):
        if not one.authority:
            continue
        key = f"after.report[{number}].within_days"
        outcome: Compared | Missing = Missing(because=f"{one.to}: within how many days, not stated")
        if one.within_days is not None:
            days = counted("d", "days planned", one.within_days, key)
            outcome = Working(one.within_days, "d", (days,)).against(
                limit.relation, limit.quantity, result=output("d_report", one.to, Unit.DAYS)
            )
        yield finding(
            IN_TIME,
            outcome,
            settle_by=f"Plan to report within {limit.quantity.written}, and state within_days.",
            keys=(key,),
            space=scene.space,
            about=one.to,
            duty=limit,
        )


def check_arranged(scene: Scene) -> Iterator[Finding]:
    """Whoever keeps the scene is not one who may be the casualty; gear and review have a place."""
    after = scene.site.after
    facts = {
        "scene_kept_by": after.scene_kept_by,
        "gear_kept_at": after.gear_kept_at,
        "review_by": after.review_by,
    }
    lacking = [name for name, value in facts.items() if value is None]
    inside = after.scene_kept_by in scene.space.entrants
    outcome: Stated | Missing = Stated(holds=True, because="scene, equipment and review")
    if inside and after.scene_kept_by:
        who = scene.person(after.scene_kept_by).name
        outcome = Stated(holds=False, because=f"{who} keeps the scene and may be the casualty")
    elif lacking:
        words = ", ".join(one.replace("_", " ") for one in lacking)
        outcome = Missing(because=f"not stated: {words}")
    yield finding(
        ARRANGED,
        outcome,
        settle_by="State in [after] who keeps the scene, where the equipment is locked away, and "
        "who reviews the plan before anybody enters again.",
        keys=tuple(f"after.{one}" for one in (lacking or facts)),
        space=scene.space,
    )
