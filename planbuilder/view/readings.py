"""The gauge readings that rescuers in sets act on, for the leader's card."""

from __future__ import annotations

from planbuilder.checks.scene import Way
from planbuilder.checks.turning_back import TURN_BACK
from planbuilder.findings import Compared, Quantity, Relation
from planbuilder.plan import SpacePlan
from planbuilder.site.file import UnitSystem
from planbuilder.view.model import Fact
from planbuilder.view.numbers import amount
from planbuilder.view.scales import Rounding


def air_readings(space: SpacePlan, way: Way, system: UnitSystem) -> tuple[Fact, ...]:
    """When to turn back and when to start out: the lowest gauge of the team decides.

    Where the air does not last there is no such reading, and the plan is not ready.
    """
    shown = [
        one.outcome
        for one in space.findings
        if one.rule is TURN_BACK
        and one.about.startswith(way.name)
        and isinstance(one.outcome, Compared)
    ]
    return tuple(_fact(one.limit, one.relation, system) for one in shown)


def _fact(limit: Quantity, relation: Relation, system: UnitSystem) -> Fact:
    rounding = Rounding.DOWN if relation.wants_small else Rounding.UP
    reading = amount(limit.value, limit.unit, system, rounding)
    return Fact(limit.label.capitalize(), f"{reading}, lowest gauge")
