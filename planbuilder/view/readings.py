"""The gauge readings that rescuers in sets act on, for the leader's card."""

from __future__ import annotations

from planbuilder.checks.air.lasting import RUNS_OUT
from planbuilder.checks.air.turning_back import TURN_BACK
from planbuilder.checks.scene import Way
from planbuilder.findings import Compared, Finding, Quantity, Relation, Verdict
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import Fact
from planbuilder.view.numbers import amount
from planbuilder.view.scales import Rounding

_SHORT = {
    Verdict.FAILS: "DOES NOT LAST for way in, work and way out: nobody goes in on it",
    Verdict.UNKNOWN: "NOT KNOWN whether it lasts: nobody goes in on it",
}


def air_readings(space: SpacePlan, way: Way, system: UnitSystem) -> tuple[Fact, ...]:
    """When to turn back and when to start out: the lowest gauge of the team decides.

    Where the air does not last, or nobody knows, there is no such reading: the card says so.
    """
    short = tuple(
        Fact("Air", _SHORT[one.verdict])
        for one in _asked(space, way, RUNS_OUT.id)
        if one.verdict in _SHORT
    )
    shown = (one.outcome for one in _asked(space, way, TURN_BACK.id))
    return short or tuple(
        _fact(one.limit, one.relation, system) for one in shown if isinstance(one, Compared)
    )


def _asked(space: SpacePlan, way: Way, rule_id: str) -> list[Finding]:
    """The findings of one rule for one way."""
    ours = (one for one in space.findings if one.about.startswith(way.name))
    return [one for one in ours if one.rule.id == rule_id]


def _fact(limit: Quantity, relation: Relation, system: UnitSystem) -> Fact:
    rounding = Rounding.DOWN if relation.wants_small else Rounding.UP
    reading = amount(limit.value, limit.unit, system, rounding)
    return Fact(limit.label.capitalize(), f"{reading}, lowest gauge")
