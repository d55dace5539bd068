"""Whoever is called can be reached: the number absent, stale, yet to be tried, good."""

from datetime import date

import pytest
from broken_crew import put
from broken_haul import nothing
from broken_service import leans
from broken_sites import Break, entry, found, plan_with, rules_of, worst

from planbuilder.checks.people import summons
from planbuilder.findings import Verdict
from planbuilder.view.cards import attendant_card

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
RULE = "plan/number-not-tried"


def tried(day: date | None) -> Break:
    return lambda data: put(data["site"], verified_on=day)


def test_every_rule_has_a_case() -> None:
    assert rules_of(summons) == {RULE}


@pytest.mark.parametrize(
    ("day", "verdict"),
    [
        (None, UNKNOWN),
        (date(2026, 10, 30), FAILS),  # 31 days before the work, which starts on 30 November
        (date(2026, 11, 26), FAILS),  # to come
        (date(2026, 10, 31), MEETS),
    ],
)
def test_a_number_is_tried_within_the_interval(day: date | None, verdict: Verdict) -> None:
    of_the_well = [one for one in found(plan_with(tried(day)), RULE) if one.space == "wet-well"]

    assert worst(of_the_well) is verdict
    assert not any(one.blocks for one in of_the_well)


def test_a_service_that_only_takes_over_is_called_too() -> None:
    def untried(data):
        put(entry(data, "service", "ambulance"), verified_on=None)

    assert worst(found(plan_with(nothing, sample="storage_tank"), RULE)) is MEETS
    assert worst(found(plan_with(untried, sample="storage_tank"), RULE)) is UNKNOWN


def test_the_attendant_has_number_and_channel_of_a_service_relied_on() -> None:
    plan = plan_with(leans(channel="channel 7"))
    calls = [(one.label, one.text) for one in attendant_card(plan, plan.spaces[0]).calls]

    assert ("Weir rescue", "555-0160, channel 7") in calls
    assert ("Number tried", "16 Nov 2026; today at ____") in calls
    assert "Weir rescue" not in [one.label for one in attendant_card(plan, plan.spaces[1]).calls]


def test_nobody_tried_it_is_said_in_capitals() -> None:
    plan = plan_with(tried(None))
    calls = {one.label: one.text for one in attendant_card(plan, plan.spaces[0]).calls}

    assert calls["Number tried"] == "NOT STATED; today at ____"
