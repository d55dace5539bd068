"""The entry permit: which one it is and who signs it; how long it and the plan are kept."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.scene import Scene, absent, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.profiles.statements import Limit
from planbuilder.site.periods import Period

PERMIT = Rule(
    "plan/permit-not-named",
    "Entry permit, and who signs that the entry may begin",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="somebody has to say go, by name"),
)
# Routes by which a space is entered without a full permit, by the first word of their names.
_WITHOUT = ("alternate", "reclassified")


def needs_permit(scene: Scene) -> bool:
    """True where a rule set speaks of a permit, and the space is not entered by another route."""
    other = scene.space.entry_route.startswith(_WITHOUT)
    stated = scene.limits.duty("permit.required") is not None
    return stated and scene.space.is_confined and not other


def check_permit(scene: Scene) -> Iterator[Finding]:
    """The permit has a number, and the entry supervisor who signs it is named."""
    if not needs_permit(scene):
        return
    number, signer = scene.space.permit.number, scene.space.supervisor
    blank = absent(permit__number=number, supervisor=signer)
    outcome: Stated | Missing = Missing(because=f"not stated: {', '.join(blank)}")
    if number and signer:
        words = f"permit {number}, signed by {scene.person(signer).name}"
        outcome = Stated(holds=True, because=words)
    yield finding(
        PERMIT,
        outcome,
        settle_by="State permit.number, and the entry supervisor who signs it.",
        keys=tuple(scene.key(one) for one in blank or ("permit.number",)),
        space=scene.space,
        duty=scene.limits.duty("permit.required"),
    )


def kept_until(scene: Scene, key: str) -> tuple[date, Limit] | None:
    """The day until which a record of this work is kept; None where no rule set says."""
    limit = scene.limits.limit(key)
    if limit is None:
        return None
    return Period(int(limit.quantity.value), "month", "").after(scene.work_ends), limit
