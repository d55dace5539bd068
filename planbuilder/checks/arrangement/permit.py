"""The entry permit: which one it is and who signs it; how long it and the plan are kept."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.arrangement.records import is_current
from planbuilder.checks.scene import Scene, absent, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.profiles.statements import Limit
from planbuilder.site.people import CertificateKind
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
    """The permit has a number and a signer, who is certified as entry supervisor."""
    if not needs_permit(scene):
        return
    permit = scene.space.permit
    blank = absent(number=permit.number, signed_by=permit.signed_by)
    yield finding(
        PERMIT,
        _named(scene, blank),
        settle_by="State permit.number and signed_by, somebody with a certificate as "
        "entry-supervisor that is in date.",
        keys=tuple(scene.key(f"permit.{one}") for one in blank or ("signed_by",)),
        space=scene.space,
        duty=scene.limits.duty("permit.required"),
    )


def _named(scene: Scene, blank: tuple[str, ...]) -> Stated | Missing:
    permit = scene.space.permit
    if permit.signed_by is None or blank:
        names = ", ".join(one.replace("_", " ") for one in blank)
        return Missing(because=f"permit: {names} not stated")
    signer = scene.person(permit.signed_by)
    held = [one for one in signer.certificate if one.kind is CertificateKind.SUPERVISOR]
    if not held:
        return Missing(because=f"{signer.name}: no certificate as entry supervisor on record")
    current = any(is_current(one, scene) for one in held)
    word = "in date" if current else "not in date"
    words = f"permit {permit.number}, signed by {signer.name}: certificate {word}"
    return Stated(holds=current, because=words)


def kept_until(scene: Scene, key: str) -> tuple[date, Limit] | None:
    """The day until which a record of this work is kept; None where no rule set says."""
    limit = scene.limits.limit(key)
    if limit is None:
        return None
    return Period(int(limit.quantity.value), "month", "").after(scene.work_ends), limit
