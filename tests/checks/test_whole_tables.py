"""A table that the rest of the plan speaks of cannot be left out whole."""

from __future__ import annotations

from typing import Any

import pytest
from broken_sites import found, plan_with, space

from planbuilder.findings import Verdict

TRENCH = "shored_trench"


@pytest.mark.parametrize(
    ("table", "beside", "rule"),
    [
        ("fall", "scenario", "clearance/fall-hits-something"),
        ("traffic", "trigger", "clearance/traffic-not-stated"),
    ],
)
def test_what_another_table_speaks_of_is_asked_for(table, beside, rule):
    def cut(data: dict[str, Any]) -> None:
        del space(data)[table]

    def both(data: dict[str, Any]) -> None:
        cut(data)
        space(data)[beside] = [
            one
            for one in space(data)[beside]
            if "suspended" not in one.values() and "traffic" not in one.values()
        ]

    told = [one for one in found(plan_with(cut, sample=TRENCH), rule) if one.space == "valve-pit"]
    silent = [
        one for one in found(plan_with(both, sample=TRENCH), rule) if one.space == "valve-pit"
    ]

    assert [(one.verdict, one.blocks) for one in told] == [(Verdict.UNKNOWN, True)]
    assert silent == []
