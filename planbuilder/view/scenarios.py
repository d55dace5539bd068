"""What can happen in a space, and what is done then, case by case."""

from __future__ import annotations

from planbuilder.site.scenario import Scenario
from planbuilder.site.space import Space
from planbuilder.view.model import Table

NOT_STATED = "NOT STATED"


def scenario_table(space: Space) -> Table:
    """One row a case: what happens, the hazards it stands for, its answers, in words."""
    rows = tuple(
        (
            one.what.value,
            ", ".join(kind.replace("-", " ") for kind in one.hazards) or "-",
            one.answer.value if one.answer else NOT_STATED,
            one.then.value if one.then else NOT_STATED,
            _in_words(one),
        )
        for one in space.scenario
    )
    return Table(("What happens", "Stands for", "First answer", "Then", "In words"), rows)


def _in_words(one: Scenario) -> str:
    """The words of the plan, with how somebody who hangs is reached and relieved."""
    parts = [one.describe or "-"]
    parts += [f"Reached by: {one.reach}."] if one.reach else []
    parts += [f"Legs: {one.legs}."] if one.legs else []
    return " ".join(parts)
