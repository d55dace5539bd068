"""What the commands print: the findings of a plan, and the documents that the tool cites."""

from __future__ import annotations

import json
import textwrap
from dataclasses import asdict

from planbuilder.checks.days import day_text
from planbuilder.findings import Compared, Finding, Missing
from planbuilder.plan import Plan
from planbuilder.site.file import UnitSystem
from planbuilder.tables import documents
from planbuilder.view.notices import taken_over
from planbuilder.view.words import outcome_text, source_text, weight_word

_WIDTH = 96


def units_of(plan: Plan) -> UnitSystem:
    """The reader's units: as the site file says, else as the profile has them."""
    return plan.site.plan.units or UnitSystem(plan.limits.profile.units)


def summary(plan: Plan) -> list[str]:
    """What was found, in two lines: status and counts, then the first thing to do."""
    blocking, look = len(plan.blocking), sum(one.open and not one.blocks for one in plan.findings)
    met = len(plan.findings) - blocking - look
    lines = [f"{plan.status}: {blocking} blocking, {look} to look at, {met} met"]
    if plan.findings and plan.findings[0].open:
        first = plan.findings[0]
        words = f"First: {first.rule.title}{_where(first)}. {first.settle_by}"
        lines.append(textwrap.shorten(words, 200, placeholder=" ..."))
    else:
        lines.append("Nothing is left open.")
    return lines


def report(plan: Plan, name: str, *, everything: bool) -> str:
    """The findings, worst first, each with what would settle it."""
    profile = plan.limits.profile
    rows = [f"{name}: {summary(plan)[0]}"]
    titles = " + ".join(one.title for one in (profile, *plan.limits.overlays))
    rows.append(f"  checked against {titles}, as of {day_text(plan.on)}")
    rows += textwrap.wrap(taken_over(plan), _WIDTH, initial_indent="  ", subsequent_indent="  ")
    system = units_of(plan)
    for one in plan.findings:
        if one.open:
            rows += _open_rows(one, system)
        elif everything:
            rows.append(f"  met      {one.rule.id}{_where(one)}: {outcome_text(one, system)}")
    return "\n".join(rows + _still_to_state(plan)) + "\n"


def _still_to_state(plan: Plan) -> list[str]:
    """Every key that a blocking question lacks, once each, by the thing it belongs to."""
    keys = dict.fromkeys(
        key
        for one in plan.blocking
        if isinstance(one.outcome, Missing)
        for key in one.keys
        if "." in key
    )
    things: dict[str, list[str]] = {}
    for key in keys:
        thing, _, name = key.rpartition(".")
        things.setdefault(thing, []).append(name)
    if not things:
        return []
    rows = ["  still to measure or state, once each:"]
    for thing, names in things.items():
        lead = f"           {thing}: "
        rows += textwrap.wrap(
            ", ".join(names), _WIDTH, initial_indent=lead, subsequent_indent=" " * 13
        )
    return rows


def _open_rows(one: Finding, system: UnitSystem) -> list[str]:
    rows = [
        f"  {weight_word(one):<8} {one.verdict}: {one.rule.title}{_where(one)} [{one.rule.id}]",
        *_wrapped("found", outcome_text(one, system)),
        *_wrapped("settle", one.settle_by),
        *_wrapped("keys", ", ".join(one.keys)),
        *_wrapped("rule", source_text(one.source)),
    ]
    if isinstance(one.outcome, Compared):
        rows += _wrapped("limit", source_text(one.outcome.limit.source))
    return rows + (_wrapped("note", one.accepted) if one.accepted else [])


def _where(one: Finding) -> str:
    place = ", ".join(part for part in (one.space, one.about) if part)
    return f" ({place})" if place else ""


def _wrapped(word: str, text: str) -> list[str]:
    lead = f"           {word + ':':<8}"
    return textwrap.wrap(
        text, _WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead), break_long_words=False
    )


def sources_text() -> str:
    """Every document that the tool cites: id, title, edition, how it was seen."""
    rows = []
    for one in documents().values():
        rows += [f"{one.id}: {one.title}", f"    {one.edition}; seen as: {one.seen}"]
    return "\n".join(rows) + "\n"


def sources_json() -> str:
    """The same as JSON."""
    rows = [asdict(one) for one in documents().values()]
    return json.dumps(rows, indent=2, ensure_ascii=False) + "\n"
