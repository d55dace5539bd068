"""Rules on what can happen here: absent, contradicting, unanswered, and good."""

from typing import Any

import pytest
from broken_scenarios import CASES, DECK, as_is, by_self, no_case, told, without
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks import RULES
from planbuilder.checks.arrangement import hanging, scenarios
from planbuilder.findings import Mark, Source, Verdict, Weight
from planbuilder.limits import Limits
from planbuilder.profiles.statements import Permission
from planbuilder.view.pages import view_of

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]
ALONE = "plan/self-rescue-alone"


def test_every_rule_is_here() -> None:
    assert {*CASES, ALONE} == rules_of(scenarios, hanging)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.fires])
def test_a_rule_fires(rule: str) -> None:
    change = CASES[rule].fires
    assert change is not None

    plan = plan_with(change)

    assert worst(found(plan, rule)) is FAILS
    assert (plan.status == "NOT READY") is (rule in BLOCKING)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.unknown])
def test_a_rule_says_what_is_missing(rule: str) -> None:
    change = CASES[rule].unknown
    assert change is not None

    plan = plan_with(change)

    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]
    assert unknown
    assert all(one.settle_by and one.keys for one in unknown)
    assert (plan.status == "NOT READY") is (rule in BLOCKING)


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("sample", ["pump_station", DECK])
def test_a_rule_rests(rule: str, sample: str) -> None:
    assert worst(found(plan_with(as_is, sample=sample), rule)) is MEETS


@pytest.mark.parametrize("what", ["unresponsive", "trapped", "medical"])
def test_a_hazard_that_no_case_stands_for_is_named(what: str) -> None:
    (one,) = [
        one
        for one in found(plan_with(without(what)), "plan/hazard-without-scenario")
        if one.space == "wet-well"
    ]

    assert one.verdict is FAILS
    assert "no case for" in one.outcome.because


@pytest.mark.parametrize(
    "change",
    [
        told("medical", answer="self"),
        told("medical", answer="self", can_help=True),
        told("suspended", answer="self"),
        told("suspended", answer="self", can_help=False),
        lambda data: space(data)["rescue"]["primary"].update(method="self"),
        lambda data: space(data)["rescue"]["primary"].update(method="assisted-self"),
        lambda data: (
            told("medical", answer="fallback")(data),
            space(data)["rescue"].pop("fallback"),
        ),
    ],
)
def test_an_answer_that_needs_the_casualty_or_is_not_planned_is_none(change: Break) -> None:
    assert worst(found(plan_with(change), "plan/scenario-not-answered")) is FAILS


def test_a_casualty_who_can_act_may_answer() -> None:
    rows = found(
        plan_with(told("trapped", answer="self", can_help=True)), "plan/scenario-not-answered"
    )

    assert worst(rows) is MEETS


def test_somebody_unresponsive_who_is_said_to_help_contradicts() -> None:
    plan = plan_with(told("unresponsive", can_help=True))

    assert worst(found(plan, "plan/scenario-not-answered")) is FAILS


def test_no_case_is_asked_more_than_whether_there_is_one() -> None:
    rows = [one.rule.id for one in plan_with(no_case, without_second).findings]

    asked = {one for one in rows if one in CASES}
    assert asked == {"plan/no-scenario", "plan/no-suspended-rescue"}


def without_second(data: dict[str, Any]) -> None:
    """Only the first space is looked at."""
    data["space"] = data["space"][:1]
    data["drill"] = [one for one in data["drill"] if one["space"] == ["wet-well"]]


def test_fall_arrest_without_a_case_of_hanging_blocks_by_the_clause_of_the_rule_set() -> None:
    (one,) = found(plan_with(without("suspended")), "plan/no-suspended-rescue")

    assert one.verdict is UNKNOWN
    assert one.blocks
    assert (one.source.document, one.source.clause) == ("29 CFR 1910.140", "(c)(21)")


def permitted(monkeypatch: pytest.MonkeyPatch, *, allowed: bool) -> None:
    """The rule set says whether workers at height may rescue themselves instead."""
    said = Permission(
        key="rescue.self_rescue_alternative",
        layer="test",
        allowed=allowed,
        text="as the rule set says",
        source=Source(mark=Mark.READ),
    )
    monkeypatch.setattr(Limits, "permission", lambda _, key: said if key == said.key else None)


@pytest.mark.parametrize(
    ("allowed", "helpless", "verdict"),
    [(True, False, MEETS), (True, True, FAILS), (False, False, FAILS), (False, True, FAILS)],
)
def test_self_rescue_alone_at_height(
    monkeypatch: pytest.MonkeyPatch, *, allowed: bool, helpless: bool, verdict: Verdict
) -> None:
    permitted(monkeypatch, allowed=allowed)
    able = told("suspended", can_help=True)
    cases = (able,) if helpless else (able, without("medical"))

    rows = found(plan_with(by_self, *cases, sample=DECK), ALONE)

    assert worst(rows) is verdict


def test_self_rescue_alone_without_cases_is_unknown(monkeypatch: pytest.MonkeyPatch) -> None:
    permitted(monkeypatch, allowed=True)

    assert worst(found(plan_with(by_self, no_case, sample=DECK), ALONE)) is UNKNOWN


def test_nobody_rescues_alone_out_of_a_confined_space(monkeypatch: pytest.MonkeyPatch) -> None:
    permitted(monkeypatch, allowed=True)

    assert worst(found(plan_with(by_self), ALONE)) is FAILS


def test_where_others_come_nothing_is_asked() -> None:
    assert found(plan_with(sample=DECK), ALONE) == []


def test_the_cases_are_printed() -> None:
    space_view = view_of(plan_with()).spaces[0]

    assert [row[0] for row in space_view.scenarios.rows] == [
        "unresponsive",
        "trapped",
        "medical",
        "suspended",
    ]
    assert "Legs: a step loop" in space_view.scenarios.rows[3][4]
