"""What the employers of a site told each other, in tables."""

from __future__ import annotations

from planbuilder.checks.arrangement.exchange import Telling, tellings
from planbuilder.checks.days import day_text
from planbuilder.plan import Plan
from planbuilder.site.exchange import Exchange
from planbuilder.view.form import Form, form
from planbuilder.view.model import Fact, Table

NOT_STATED = "NOT STATED"


def employers_table(plan: Plan) -> Table:
    """The employers, and whom each takes to be the rescuer."""
    names = {one.id: one.name for one in plan.site.employer}
    names |= {one.id: one.name for one in plan.site.service}
    rows = tuple(
        (
            one.name,
            one.role.replace("-", " "),
            one.contact,
            one.phone,
            names[one.rescues] if one.rescues else NOT_STATED,
        )
        for one in plan.site.employer
    )
    return Table(("Employer", "Part", "Contact", "Phone", "Who rescues, as it has it"), rows)


def told_table(plan: Plan) -> Table:
    """Each that has to tell another, and what is on record of it."""
    rows = []
    for telling in tellings(plan.spaces[0].scene):
        pair = (telling.giver.id, telling.taker.id)
        records = [one for one in plan.site.exchange if (one.giver, one.receiver) == pair]
        rows += [(telling.words, *_record(plan, one)) for one in records] or [_blank(telling)]
    return Table(("Who told whom", "What", "On", "By, received by"), tuple(rows))


def _record(plan: Plan, one: Exchange) -> tuple[str, str, str]:
    names = {space.scene.space.id: space.scene.space.name for space in plan.spaces}
    of = f" (only of {', '.join(names[each] for each in one.space)})" if one.space else ""
    said = "; ".join((*one.what, *([one.details] if one.details else ())))
    signed = f"{one.by or NOT_STATED}, {one.received_by or NOT_STATED}"
    return (said or NOT_STATED) + of, day_text(one.on) if one.on else NOT_STATED, signed


def _blank(telling: Telling) -> tuple[str, str, str, str]:
    wanted = f"NO RECORD; wanted: {'; '.join(telling.rows)}" if telling.rows else "NO RECORD"
    return telling.words, wanted, NOT_STATED, NOT_STATED


def debrief_facts(plan: Plan) -> tuple[Fact, ...]:
    """The talk after the work."""
    talk = plan.site.debrief
    if talk is None:
        return (Fact("Talk after the work", NOT_STATED),)
    on = day_text(talk.on) if talk.on else NOT_STATED
    who = f"{talk.by or NOT_STATED} tells {talk.heard_by or NOT_STATED}"
    return (Fact("Talk after the work", f"{on}: {who} what was met or made"),)


def exchange_signed(plan: Plan) -> Form:
    """A line to sign for each employer, and one for whoever else there is."""
    rows = [(one.id, (one.name, one.contact)) for one in plan.site.employer]
    heads = ("Employer", "Name", "Signature", "Date")
    return form("told", heads, [*rows, ("another", ("Another employer",))])
