"""The results as data: what --json prints, and what is attached to the PDF."""

from __future__ import annotations

import json
from importlib import resources
from typing import Any

from planbuilder import __version__
from planbuilder.findings import Compared, Finding, Quantity, Source, Verdict
from planbuilder.plan import Plan
from planbuilder.profiles.statements import Statement

SCHEMA = {"name": "planbuilder-results", "version": 2}


def schema_text() -> str:
    """The published JSON Schema of the results."""
    path = resources.files("planbuilder.tables").joinpath("results.schema.json")
    return path.read_text(encoding="utf-8")


def results(plan: Plan) -> dict[str, Any]:
    """The results as data: what --json prints and what is attached to the PDF."""
    counts = {verdict.value: 0 for verdict in Verdict} | {"blocking": len(plan.blocking)}
    for one in plan.findings:
        counts[one.verdict.value] += 1
    facts, profile = plan.site.plan, plan.limits.profile
    return {
        "schema": SCHEMA,
        "tool": {"name": "planbuilder", "version": __version__},
        "plan": {"number": facts.number, "revision": facts.revision, "site": plan.site.site.name},
        "profile": {
            "id": profile.id,
            "version": profile.version,
            "recalled_limits": plan.limits.recalled,
        },
        "overlays": [{"id": one.id, "version": one.version} for one in plan.limits.overlays],
        "loosened": [_loosened(one) for one in plan.limits.loosened],
        "on": plan.on.isoformat(),
        "content_hash": plan.content_hash,
        "status": plan.status,
        "counts": counts,
        "findings": [_finding_data(one) for one in plan.findings],
    }


def results_json(plan: Plan) -> str:
    """The results as JSON text, the same bytes for the same plan."""
    return json.dumps(results(plan), indent=2, ensure_ascii=False) + "\n"


def _finding_data(one: Finding) -> dict[str, Any]:
    compared = one.outcome if isinstance(one.outcome, Compared) else None
    return {
        "id": one.rule.id,
        "space": one.space,
        "about": one.about,
        "title": one.rule.title,
        "verdict": one.verdict.value,
        "weight": one.weight.value,
        "blocks": one.blocks,
        "because": "" if isinstance(one.outcome, Compared) else one.outcome.because,
        "result": _value(compared.result) if compared else None,
        "ordinary": _ordinary(compared) if compared and compared.easier else None,
        "relation": compared.relation.value if compared else None,
        "limit": _value(compared.limit) | {"source": _source(compared.limit.source)}
        if compared
        else None,
        "formula": compared.formula if compared else None,
        "inputs": [_input(each) for each in compared.inputs] if compared else [],
        "source": _source(one.source),
        "settle_by": one.settle_by,
        "due": one.due.isoformat() if one.due else None,
        "accepted": one.accepted,
        "keys": list(one.keys),
    }


def _loosened(one: Statement) -> dict[str, str]:
    return {"key": one.key, "layer": one.layer, "approver": one.approver}


def _ordinary(compared: Compared) -> dict[str, Any]:
    """What an ordinary day brings, where the result is the slow one: met then is marginal."""
    sign = -1 if compared.relation.wants_small else 1
    value = compared.result.value + sign * compared.easier
    return {"value": value, "unit": compared.result.unit.value}


def _value(quantity: Quantity) -> dict[str, Any]:
    return {"value": quantity.value, "unit": quantity.unit.value}


def _input(quantity: Quantity) -> dict[str, Any]:
    return {
        "symbol": quantity.symbol,
        "label": quantity.label,
        **_value(quantity),
        "written": quantity.written,
        "source": _source(quantity.source),
    }


def _source(source: Source) -> dict[str, Any]:
    return {
        "mark": source.mark.value,
        "document": source.document,
        "clause": source.clause,
        "bind": source.bind.value if source.bind else None,
        "key": source.key,
        "note": source.note,
    }
