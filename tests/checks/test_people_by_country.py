"""What Canada and Great Britain ask of people, against the United States: one plan, three ways.

The duties stand in the rule sets: helpers stated, yearly refresher, everybody signs (Canada);
resuscitation gear where the breath can stop (Great Britain).
"""

import pytest
from broken_crew import in_space
from broken_sites import Break, entry, found, plan_with

from planbuilder.findings import Finding, Verdict


def under(profile: str) -> Break:
    return lambda data: data["plan"].update(profile=profile)


def in_chamber(rule: str, profile: str, *breaks: Break) -> list[Finding]:
    plan = plan_with(under(profile), *breaks)
    return [one for one in found(plan, rule) if one.space == "valve-chamber"]


def state(findings: list[Finding]) -> set[tuple[Verdict, bool]]:
    return {(one.verdict, one.blocks) for one in findings}


@pytest.mark.parametrize("rule", ["plan/briefing-not-signed", "plan/helpers-not-stated"])
def test_canada_blocks_what_the_others_do_not_ask(rule: str) -> None:
    assert state(in_chamber(rule, "ca-federal")) == {(Verdict.UNKNOWN, True)}
    assert in_chamber(rule, "us-osha-gi") == []
    assert in_chamber(rule, "uk-gb") == []


def test_a_canadian_helper_is_refreshed_each_year() -> None:
    (one,) = in_chamber("plan/refresher-overdue", "ca-federal")

    assert one.source.clause == "11.06(2)(a)"
    assert (one.verdict, one.blocks) == (Verdict.UNKNOWN, True)  # the leader holds no rescuer's
    assert in_chamber("plan/refresher-overdue", "us-osha-gi") == []


def test_great_britain_is_cited_for_gear_that_gives_breath() -> None:
    bare: Break = lambda data: entry(data, "equipment", "aid-kit").update(care=["first-aid"])  # noqa: E731
    air = in_space(
        1, hazard=[{"kind": "oxygen-deficiency", "level": "12 %", "control": "ventilation"}]
    )
    (one,) = in_chamber("response/no-resuscitation-gear", "uk-gb", bare, air)

    assert (one.verdict, one.blocks) == (Verdict.UNKNOWN, True)
    assert one.source.clause == "reg 5(2)(b)"
