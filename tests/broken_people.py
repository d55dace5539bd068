"""Ways of changing leaders, rosters, records and briefings of a sample site."""

import copy
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

from broken_sites import ON, SAMPLES, Break, space, way

from planbuilder.plan import Plan, build_plan
from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.load import SiteFile, declared_ids

OWN_RULES = """
[profile]
id = "own-rules"
title = "Rules of the quarry"
version = "4"
source_date = "issue 4"
country = "US"
overlay_of = "*"

[[document]]
id = "Quarry rules"
title = "Rescue rules of the quarry"
edition = "issue 4"
seen = "official text"
"""


def rule_entry(key: str, rows: str, bind: str = "host") -> str:
    """One entry of the quarry's rules."""
    said = f'document = "Quarry rules"\nclause = "3"\nmark = "read"\nbind = "{bind}"\n'
    return f"\n[{key}]\n{said}{rows}\n"


def plan_under(
    folder: Path, entries: str, *breaks: Break, sample: str = "pump_station", on: date = ON
) -> Plan:
    """The plan of a changed sample under the quarry's rules as well."""
    (folder / "own.toml").write_text(OWN_RULES + entries, encoding="utf-8")
    data = tomllib.loads((SAMPLES / f"{sample}.toml").read_text(encoding="utf-8"))
    data["plan"]["overlays"] = ["own.toml"]
    for one in breaks:
        one(data)
    site = Site.model_validate(data, context=FileIds(declared_ids(data)))
    return build_plan(SiteFile(folder / f"{sample}.toml", repr(data), site), on=on)


def in_crew(who: str, role: str, name: str = "primary", number: int = 0) -> Break:
    """Somebody has one more part in a method."""
    return lambda data: way(data, name, number)["crew"].append({"person": who, "role": role})


def same_hours(**procedure: Any) -> Break:
    """The valve chamber is open while the wet well is, under the same attendant."""

    def change(data: dict[str, Any]) -> None:
        space(data, 1)["task"].update(enter_from="09:00", out_by="11:00")
        for number in (0, 1):
            space(data, number).update(copy.deepcopy(procedure))

    return change
