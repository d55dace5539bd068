"""How findings, sources and verdicts are said."""

from __future__ import annotations

import re

from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Quantity,
    Relation,
    Source,
    Verdict,
    Weight,
)
from planbuilder.site.file import UnitSystem
from planbuilder.site.space import Space
from planbuilder.tables import documents
from planbuilder.view.numbers import amount, pair
from planbuilder.view.scales import Rounding

_NO_LETTER = re.compile(r"[^a-z0-9]+")
# A verdict is a word and a shape: it reads in black and white and aloud.
SHAPES = {
    Verdict.MEETS: "○",
    Verdict.MARGINAL: "▲",
    Verdict.UNKNOWN: "?",
    Verdict.FAILS: "■",
}
RELATIONS = {
    Relation.AT_MOST: "at most",
    Relation.LESS_THAN: "less than",
    Relation.AT_LEAST: "at least",
    Relation.MORE_THAN: "more than",
}
_MARKS = {
    Mark.READ: "",
    Mark.RECALLED: "recalled, unverified",
    Mark.DERIVED: "derived",
    Mark.CHOICE: "default of this tool",
    Mark.MEASURED: "measured",
    Mark.ESTIMATED: "estimate",
    Mark.SITE: "",
}


def weight_word(one: Finding) -> str:
    """What the finding does to the plan, in one word."""
    if one.blocks:
        return "BLOCKS"
    if not one.open:
        return "met"
    return {Weight.BLOCKS: "look", Weight.WARNS: "warns", Weight.NOTES: "notes"}[one.weight]


def outcome_text(one: Finding, system: UnitSystem) -> str:
    """What was found, in one line."""
    if not isinstance(one.outcome, Compared):
        return one.outcome.because
    figures = pair(one.outcome, system)
    relation = RELATIONS[one.outcome.relation]
    words = (
        f"{one.outcome.result.label}: {figures.result}; "
        f"{relation} {figures.limit}, {one.outcome.limit.label}"
    )
    result = one.outcome.result
    if one.verdict is Verdict.MARGINAL and one.outcome.easier:
        ordinary = abs(result.value - one.outcome.easier)
        words += f"; met on an ordinary day only: {amount(ordinary, result.unit, system)}"
    elif one.verdict is Verdict.MARGINAL:
        left = abs(one.outcome.limit.value - result.value)
        if left == 0:
            return f"{words}; nothing to spare"
        wanted = one.outcome.slack
        words += (
            f"; {amount(left, result.unit, system, Rounding.DOWN)} to spare, "
            f"{amount(wanted, result.unit, system, Rounding.UP)} wanted"
        )
    return words


def source_text(source: Source) -> str:
    """Where a value comes from, as printed beside it."""
    if source.mark is Mark.SITE and not source.note:
        return f"site file: {source.key}"
    if source.mark is Mark.SITE:
        return f"changed from default {source.key}: {source.note}"
    document = documents().get(source.document)
    name = document.title if document and document.id == "Statics" else source.document
    is_default = bool(source.key)
    words = "" if is_default and source.mark is Mark.CHOICE else _MARKS[source.mark]
    parts = [
        f"default {source.key}" if is_default else "",
        " ".join(part for part in (name, source.clause) if part),
        words,
        source.note,
    ]
    bind = f" ({source.bind})" if source.bind else ""
    return ", ".join(part for part in parts if part) + bind


def document_id(name: str) -> str:
    """Where a document stands in the list of documents."""
    return f"doc-{_NO_LETTER.sub('-', name.lower()).strip('-')}" if name else ""


def mark_word(mark: Mark) -> str:
    """How well a value is known, in words."""
    return _MARKS[mark] or mark.value


def is_default(quantity: Quantity) -> bool:
    """True if the plan used a number that nobody measured or stated for this site."""
    return bool(quantity.source.key) and quantity.source.mark is not Mark.SITE


def depth_text(space: Space, depth: str) -> str:
    """*depth*, written out, as somebody at the opening sees it; "" where nobody stated it."""
    if not space.opening.from_side:
        return f"{depth} deep" if depth else "depth not known"
    floor = f"floor {depth} below the sill" if depth else "height of the sill not known"
    return f"entered from the side, {floor}"


def quantity_text(quantity: Quantity, system: UnitSystem) -> str:
    """A quantity in the reader's units."""
    return amount(quantity.value, quantity.unit, system, Rounding.NEAREST)
