"""The fifty elements of a good plan: what was found of each, and where the rule sets ask for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from planbuilder.findings import Finding, Verdict
from planbuilder.plan import Plan
from planbuilder.tables import table
from planbuilder.view.model import Table
from planbuilder.view.words import SHAPES

_WORST_FIRST = tuple(Verdict)


def elements_table(plan: Plan) -> Table:
    """One row an element: its worst answer with the rules that are open, and its clauses."""
    by_rule: dict[str, list[Finding]] = {}
    for one in plan.findings:
        by_rule.setdefault(one.rule.id, []).append(one)
    rows = tuple(
        (element, entry["title"], _answer(entry, by_rule), plan.limits.clause(element) or "-")
        for element, entry in table("elements").items()
    )
    return Table(("No.", "Part of a good plan", "Found here", "Asked for by"), rows)


def _answer(entry: Mapping[str, Any], by_rule: Mapping[str, Sequence[Finding]]) -> str:
    found = [one for rule in entry["rules"] for one in by_rule.get(rule, ())]
    if not found:
        return str(entry.get("generated", "nothing here asks for it"))
    worst = min((one.verdict for one in found), key=_WORST_FIRST.index)
    still_open = dict.fromkeys(one.rule.title for one in found if one.open)
    words = f"{SHAPES[worst]} {worst}, {len(found)} asked"
    return f"{words}; open: {'; '.join(still_open)}" if still_open else words
