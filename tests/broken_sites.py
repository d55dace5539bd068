"""The complete sample site as data, to break one thing at a time."""

import copy
import tomllib
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from planbuilder.findings import Finding, Rule, Verdict
from planbuilder.plan import Plan, build_plan
from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.load import SiteFile, declared_ids
from planbuilder.site.usual import with_usual_steps

SAMPLES = Path(__file__).parents[1] / "sample_sites"
ON = date(2026, 11, 25)
Break = Callable[[dict[str, Any]], None]
WORST_FIRST = (Verdict.FAILS, Verdict.UNKNOWN, Verdict.MARGINAL, Verdict.MEETS)


@cache
def _data(sample: str) -> dict[str, Any]:
    return tomllib.loads((SAMPLES / f"{sample}.toml").read_text(encoding="utf-8"))


def plan_with(*breaks: Break, sample: str = "pump_station", on: date = ON) -> Plan:
    """The plan of a sample after each of *breaks* has changed its data."""
    data = copy.deepcopy(_data(sample))
    for one in breaks:
        one(data)
    data = with_usual_steps(data)
    site = Site.model_validate(data, context=FileIds(declared_ids(data)))
    return build_plan(SiteFile(Path(f"{sample}.toml"), repr(data), site), on=on)


def found(plan: Plan, rule: str) -> list[Finding]:
    """Every finding of *rule*."""
    return [one for one in plan.findings if one.rule.id == rule]


def worst(findings: list[Finding]) -> Verdict:
    """The worst verdict among *findings*."""
    return min((one.verdict for one in findings), key=WORST_FIRST.index)


def space(data: dict[str, Any], number: int = 0) -> dict[str, Any]:
    """One space of the site."""
    return data["space"][number]


def way(data: dict[str, Any], name: str = "primary", number: int = 0) -> dict[str, Any]:
    """One method of one space."""
    return space(data, number)["rescue"][name]


def entry(data: dict[str, Any], table: str, entry_id: str) -> dict[str, Any]:
    """The entry of that id in one of the site's tables."""
    return next(one for one in data[table] if one["id"] == entry_id)


def rules_of(*modules: ModuleType) -> set[str]:
    """The ids of the rules that checks modules hold."""
    return {one.id for module in modules for one in vars(module).values() if isinstance(one, Rule)}
