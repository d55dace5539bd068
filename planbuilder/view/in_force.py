"""The limits in force: which layer of the rule sets wins, and what the others say."""

from __future__ import annotations

from planbuilder.limits import Limits
from planbuilder.profiles.rule_file import rule_keys
from planbuilder.view.model import Table
from planbuilder.view.words import source_text


def limits_in_force(limits: Limits) -> Table:
    """Every limit that a layer states, strictest first in its row, with the layer that wins."""
    rows = []
    for key, words in rule_keys().items():
        found = limits.limit(key)
        if found is None:
            continue
        others = [
            f"{one.id} {one.limits[key].words}"
            for one in limits.layers
            if key in one.limits and one.id != found.layer
        ]
        others += [f"{one.id} sets no number" for one in limits.layers if key in one.silent]
        said = f", loosened: {found.approver} answers for it" if found.approver else ""
        rows.append(
            (
                words.label,
                found.words,
                found.layer + said,
                source_text(found.source),
                "; ".join(others) or "-",
            )
        )
    heads = ("Limit", "In force", "Set by", "Source", "Other layers")
    return Table(heads, tuple(rows))
