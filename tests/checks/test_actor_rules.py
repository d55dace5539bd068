"""Who does each step, and how long the list of one part gets."""

from typing import Any

import pytest
from broken_sites import Break, found, plan_with, rules_of, way, worst

from planbuilder.checks.people import actors
from planbuilder.findings import Compared, Verdict
from planbuilder.view.pages import view_of

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
NOBODY, LONG = "plan/step-without-actor", "plan/too-many-steps"
TANK = "storage_tank"


def test_every_rule_is_here() -> None:
    assert {NOBODY, LONG} == rules_of(actors)


def step(name: str, **values: Any) -> Break:
    """Facts of one step of the wet well; None takes a key away."""

    def change(data: dict[str, Any]) -> None:
        one = next(one for one in way(data)["step"] if one["id"] == name)
        one.update(values)
        for key in [key for key, value in values.items() if value is None]:
            del one[key]

    return change


@pytest.mark.parametrize("name", ["alarm", "call", "lay-down", "clear", "hand-over"])
def test_a_step_that_nobody_does_blocks(name: str) -> None:
    plan = plan_with(step(name, who=None))

    assert worst(found(plan, NOBODY)) is UNKNOWN
    assert plan.status == "NOT READY"
    assert any(name in key for one in found(plan, NOBODY) for key in one.keys)


@pytest.mark.parametrize("name", ["recognise", "raise"])
def test_what_is_computed_says_who_by_itself(name: str) -> None:
    assert worst(found(plan_with(step(name, who=None)), NOBODY)) is MEETS


@pytest.mark.parametrize(
    "values", [{"by": ["dagny"]}, {"role": "medic"}, {"who": "the night shift at the gate"}]
)
def test_people_a_role_or_words_will_do(values: dict[str, Any]) -> None:
    change = step("lay-down", **{"who": None, **values})

    assert worst(found(plan_with(change), NOBODY)) is MEETS


@pytest.mark.parametrize(
    "values",
    [{"who": "back-up"}, {"who": "Entry rescuer and medic"}, {"who": None, "role": "back-up"}],
)
def test_a_part_that_nobody_has_contradicts(values: dict[str, Any]) -> None:
    assert worst(found(plan_with(step("clear", **values)), NOBODY)) is FAILS


@pytest.mark.parametrize("sample", ["pump_station", "shored_trench", "transformer_deck", TANK])
def test_every_step_of_the_samples_has_somebody(sample: str) -> None:
    plan = plan_with(sample=sample)

    assert worst(found(plan, NOBODY)) is MEETS
    assert worst(found(plan, LONG)) is MEETS


def more(count: int, who: str) -> Break:
    """That many more steps for somebody, after everything else."""

    def change(data: dict[str, Any]) -> None:
        way(data)["step"] += [
            {"id": f"more-{n}", "what": "Wait", "after": ["clear"], "usual": "1 s", "who": who}
            for n in range(count)
        ]

    return change


@pytest.mark.parametrize(
    # the medic of the wet well has three steps already
    ("count", "expected"),
    [(9, MEETS), (10, FAILS)],
)
def test_twelve_steps_fit_a_card(count: int, expected: Verdict) -> None:
    plan = plan_with(more(count, "medic"))

    rows = [one for one in found(plan, LONG) if one.space == "wet-well" and one.about == "primary"]
    assert worst(rows) is expected
    assert isinstance(rows[0].outcome, Compared)
    assert rows[0].outcome.result.value == 3 + count


def test_a_long_list_warns_and_no_more() -> None:
    (one, *_) = [one for one in found(plan_with(more(30, "medic")), LONG) if one.open]

    assert not one.blocks


def test_steps_of_many_parts_are_no_long_list() -> None:
    change: Break = lambda data: [  # noqa: E731
        more_(data) for more_ in (more(4, "leader"), _renamed(more(4, "caller")))
    ]

    assert worst(found(plan_with(change), LONG)) is MEETS


def _renamed(change: Break) -> Break:
    """The same, with ids that do not meet those of an earlier change."""

    def renamed(data: dict[str, Any]) -> None:
        before = len(way(data)["step"])
        change(data)
        for one in way(data)["step"][before:]:
            one["id"] += "-again"

    return renamed


def test_the_steps_are_printed_part_by_part() -> None:
    rows = view_of(plan_with(sample=TANK)).spaces[0].role_steps.rows

    parts = [row.cells[1].text.partition(":")[0] for row in rows]
    assert {*parts} >= {"attendant", "leader", "entry rescuer", "caller", "medic"}
    assert all(
        row.head.startswith("1. ")
        for row, part, last in zip(rows, parts, ["", *parts], strict=False)
        if part != last
    )
