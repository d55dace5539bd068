"""The last check before entry: what is looked at, who says go, how long the records are kept."""

from __future__ import annotations

from planbuilder.checks.arrangement.permit import kept_until, needs_permit
from planbuilder.checks.days import day_text
from planbuilder.checks.people.relied_on import summoned
from planbuilder.plan import Plan, SpacePlan
from planbuilder.view.form import form
from planbuilder.view.model import Fact, GoView
from planbuilder.view.words import source_text

NOT_STATED = "NOT STATED"
_KEPT = (
    ("Keep the permit until", "permit.retention_months"),
    ("Keep plan and reports until", "review.record_months"),
)


def go_view(plan: Plan, space: SpacePlan) -> GoView:
    """The rows to tick on the day, the line to sign, and the days until which records are kept."""
    scene = space.scene
    signer = scene.space.supervisor
    name = f"go/{scene.space.id}"
    decides = ("Entry supervisor", scene.person(signer).name if signer else "")
    return GoView(
        space=f"{scene.space.name} ({scene.space.sign})",
        rows=form(
            name,
            ("On the day, before anybody enters", "Yes", "No", "Initials, time"),
            ((key, (said,)) for key, said in _rows(plan, space) if said),
            ticks=("Yes", "No"),
        ),
        signed=form(
            name,
            ("Who decides", "Name", "Go", "No go", "Signature", "Date, time"),
            [("signed", decides)],
            ticks=("Go", "No go"),
        ),
        kept=_kept(space),
    )


def _rows(plan: Plan, space: SpacePlan) -> tuple[tuple[str, str], ...]:
    """Each row with the key of its fields; empty where it is not asked here."""
    facts, site = space.scene.space, plan.site.site
    number = facts.permit.number or NOT_STATED
    services = [f"{one.name} {one.phone}" for one in summoned(space.scene)]
    called = ", ".join((site.emergency_number, *services))
    confined = facts.is_confined
    hazards = (
        (one.kind, f"{one.kind.replace('-', ' ').capitalize()}: {one.control}")
        for one in facts.hazard
    )
    return (
        (
            "permit",
            f"Permit {number} is of today and of this space" if needs_permit(space.scene) else "",
        ),
        (
            "people",
            "Everybody named in this plan is here; whoever is not is replaced in writing",
        ),
        *((f"hazard-{kind}", said) for kind, said in hazards),
        ("air", "Air tested in the order of the plan, readings written down" if confined else ""),
        ("kit", "Rescue equipment is in its place, looked at, and made off as planned"),
        ("call", f"Tried today, from here, by the means of the plan: {called}"),
        ("service", "Each service that is to come says that it can" if services else ""),
        ("unchanged", "Nothing has changed since the plan was made"),
    )


def _kept(space: SpacePlan) -> tuple[Fact, ...]:
    rows = []
    for label, key in _KEPT:
        found = kept_until(space.scene, key)
        if found is not None:
            day, limit = found
            written = f"{limit.quantity.written} after the work ends, {source_text(limit.source)}"
            rows.append(Fact(label, f"{day_text(day)} at the least: {written}"))
    return tuple(rows) or (Fact("Keep the records", "the rule sets in force set no time"),)
