"""The rule sets as the profiles command prints them: a list, one of them, several side by side."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest

from planbuilder.findings import Source
from planbuilder.profiles.profile import TOOL_LAYER
from planbuilder.profiles.rule_file import EVERY_PROFILE, rule_keys
from planbuilder.tables import table
from planbuilder.view.rule_entries import Entry, RuleSet, differs
from planbuilder.view.words import mark_word

WIDTH = 96
DIFFERS, SAME = "≠ differs", "  same"
NOT_STATED = "not stated"
_MARKER, _LABEL, _GAP = 10, 24, 1
_LEAST_CELL = 14
_GROUPS = {
    "limit": "Limits",
    "duty": "Duties",
    "permission": "Permissions",
    "silent": "Sets no number",
}


def listed(sets: Iterable[RuleSet]) -> str:
    """Every rule set with its title, version and number of recalled entries."""
    rows = []
    for words, wants_overlay in (("Profiles", False), ("Overlays", True)):
        rows.append(words)
        for one in sets:
            if bool(one.facts.overlay_of) is wants_overlay:
                rows += _line(f"  {one.name:<16}", _heading(one), 18)
                rows += _line(" " * 18, _counted(one), 18)
    rows.append("Name one to see it, two or more to see them side by side.")
    return "\n".join(rows) + "\n"


def _heading(one: RuleSet) -> str:
    over = {"": "", EVERY_PROFILE: ", over any profile"}
    laid = over.get(one.facts.overlay_of, f", over {one.facts.overlay_of}")
    return f"{one.facts.title}, version {one.facts.version}{laid}"


def _counted(one: RuleSet) -> str:
    # A key for which the set has no number is an entry of its own, though the tool gives one.
    ours = sum(entry.layer == TOOL_LAYER and not entry.silent for entry in one.entries.values())
    beside = f" and {ours} of the tool" if ours else ""
    return f"{len(one.entries) - ours} entries{beside}, {one.recalled} recalled"


def shown(one: RuleSet) -> str:
    """A rule set in full: its facts, then every entry with clause, what binds, and its mark."""
    facts = one.facts
    rows = _line("", f"{one.name}: {_heading(one)}", 2)
    for word, text in (
        ("with", ", ".join(one.overlays)),
        ("text", facts.source_date),
        ("country", ", ".join(filter(None, (facts.region, facts.country)))),
        ("units", ", ".join(filter(None, (facts.units, facts.paper)))),
        ("for", "; ".join(facts.applies_to)),
        ("not for", "; ".join(facts.excludes)),
        ("gives way", "; ".join(facts.defers_to)),
        ("unchecked", "; ".join(one.not_checked)),
        ("host tells", "; ".join(facts.host_gives)),
        ("and hears", "; ".join(facts.contractor_gives)),
        ("entries", _counted(one)),
    ):
        rows += _line(f"  {word + ':':<12}", text, 14) if text else []
    for kind, title in _GROUPS.items():
        group = [entry for entry in one.entries.values() if entry.kind == kind]
        if group:
            rows += ["", f"{title} ({len(group)})"]
        for entry in group:
            rows += _in_full(entry, one)
    rows += _by_element(one) if one.clauses else []
    return "\n".join(rows) + "\n"


def _by_element(one: RuleSet) -> Iterator[str]:
    """Where the rule set asks for each part of a plan. These clauses carry no mark of their own."""
    elements = table("elements")
    yield ""
    yield f"Where it asks for the parts of a plan ({len(one.clauses)} of {len(elements)}; confirm)"
    for element, clause in one.clauses.items():
        yield from _line("  ", f"{elements[element]['title']}: {clause} [{element}]", 4)


def _in_full(entry: Entry, among: RuleSet) -> Iterator[str]:
    yield from _line("  ", f"{entry.label}: {entry.words} [{entry.key}]", 4)
    if entry.text:
        yield from _line("      ", f'"{entry.text}"', 6)
    yield from _line("      ", " | ".join(_origin(entry, among)), 6)
    if entry.silent:
        silent = " | ".join(_known(entry.silent))
        yield from _line("      ", f"sets no number of its own: {silent}", 6)


def _known(source: Source) -> list[str]:
    """Document and clause, what binds, how well it is known, and the note."""
    if not source.document:
        return [mark_word(source.mark)]
    parts = (f"{source.document} {source.clause}", source.bind, mark_word(source.mark), source.note)
    return [part for part in parts if part]


def _origin(entry: Entry, among: RuleSet) -> Iterator[str]:
    yield from _known(entry.source)
    if entry.layer != among.facts.id:
        yield f"set by {entry.layer}"
    if entry.approver:
        yield f"loosened: {entry.approver} answers for it"


def side_by_side(sets: Sequence[RuleSet]) -> str:
    """Rule sets in columns, one row a key; what differs is marked by a sign and a word."""
    most = (WIDTH - _MARKER - _LABEL) // (_LEAST_CELL + _GAP)
    keys = [key for key in rule_keys() if any(key in one.entries for one in sets)]
    many = sum(differs(key, sets) for key in keys)
    rows = [row for one in sets for row in _line("", f"{one.title}: {_counted(one)}", 2)]
    for first in range(0, len(sets), most):
        columns = sets[first : first + most]
        rows += ["", *_cells("", "", [one.name for one in columns]), "-" * WIDTH]
        for key in keys:
            marker = DIFFERS if differs(key, sets) else SAME
            rows += _cells(marker, rule_keys()[key].label, [_cell(key, one) for one in columns])
    rows += ["", f"{many} of {len(keys)} rows differ, in what is asked or in what binds."]
    rows.append(f'"{NOT_STATED}" is not "not required": the tool may ask for it all the same.')
    return "\n".join(rows) + "\n"


def _cell(key: str, one: RuleSet) -> str:
    entry = one.entries.get(key)
    if entry is None:
        return NOT_STATED
    known = (entry.source.bind, "recalled" if entry.is_recalled else "")
    brackets = ", ".join(part for part in known if part)
    return f"{entry.words} ({brackets})" if brackets else entry.words


def _cells(marker: str, label: str, cells: Sequence[str]) -> Iterator[str]:
    """One row of the table, its cells wrapped in their columns."""
    wide = (WIDTH - _MARKER - _LABEL) // len(cells) - _GAP
    widths = (_MARKER - _GAP, _LABEL - _GAP, *(wide for _ in cells))
    columns = [
        textwrap.wrap(text, width) or [""]
        for text, width in zip((marker, label, *cells), widths, strict=True)
    ]
    columns[0] = [marker]  # a blank before a word is part of the marker
    for parts in zip_longest(*columns, fillvalue=""):
        padded = (f"{part:<{width}}" for part, width in zip(parts, widths, strict=True))
        yield (" " * _GAP).join(padded).rstrip()


def _line(lead: str, text: str, indent: int) -> list[str]:
    """*text* behind *lead*, wrapped; its further lines stand in by *indent*."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=lead, subsequent_indent=" " * indent, break_on_hyphens=False
    )
