"""The same rule sets for scripts."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from planbuilder.findings import Source
from planbuilder.profiles.rule_file import rule_keys
from planbuilder.view.rule_entries import Entry, RuleSet, differs

SCHEMA = {"name": "planbuilder-rule-sets", "version": 1}


def as_json(sets: Sequence[RuleSet], *, compared: bool) -> str:
    """*sets* with all that they say; where *compared*, with the keys in which they differ."""
    data: dict[str, Any] = {"schema": SCHEMA, "rule_sets": [_rule_set(one) for one in sets]}
    if compared:
        data["differing_keys"] = [key for key in rule_keys() if differs(key, sets)]
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"


def _rule_set(one: RuleSet) -> dict[str, Any]:
    facts = one.facts
    return {
        "name": one.name,
        "id": facts.id,
        "title": facts.title,
        "version": facts.version,
        "source_date": facts.source_date,
        "country": facts.country,
        "region": facts.region,
        "units": facts.units,
        "paper": facts.paper,
        "overlay_of": facts.overlay_of,
        "overlays": list(one.overlays),
        "applies_to": list(facts.applies_to),
        "excludes": list(facts.excludes),
        "defers_to": list(facts.defers_to),
        "not_checked": list(one.not_checked),
        "host_gives": list(facts.host_gives),
        "contractor_gives": list(facts.contractor_gives),
        "recalled": one.recalled,
        "clauses": dict(one.clauses),
        "entries": [_entry(entry) for entry in one.entries.values()],
    }


def _entry(one: Entry) -> dict[str, Any]:
    return {
        "key": one.key,
        "label": one.label,
        "kind": one.kind,
        "says": one.words,
        "value": one.value,
        "unit": one.unit or None,
        "text": one.text or None,
        "layer": one.layer,
        **_known(one.source),
        "sets_no_number": _known(one.silent) if one.silent else None,
        "loosened_by": one.approver or None,
    }


def _known(source: Source) -> dict[str, Any]:
    return {
        "document": source.document or None,
        "clause": source.clause or None,
        "bind": source.bind or "none",
        "mark": source.mark,
        "note": source.note or None,
    }
