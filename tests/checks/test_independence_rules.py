"""An anchor that catches a fall, or that rescue hangs on, holds up nothing else."""

import pytest
from broken_haul import put
from broken_sites import found, plan_with, rules_of, worst

from planbuilder.checks.supports import independence
from planbuilder.findings import Verdict

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
RULE = "plan/anchor-also-suspends"


def test_every_rule_is_here() -> None:
    assert {RULE} == rules_of(independence)


@pytest.mark.parametrize("also", ["people", "platform"])
@pytest.mark.parametrize("support", ["davit-2", "gantry", "tripod-1"])
def test_an_anchor_that_also_suspends_fails(support: str, also: str) -> None:
    plan = plan_with(put("support", support, also_suspends=also))

    rows = found(plan, RULE)
    assert worst(rows) is FAILS
    assert plan.status == "NOT READY"
    assert rows[0].source.document == "29 CFR 1910.140"
    assert rows[0].source.clause == "(c)(12)"


def test_the_clause_is_that_of_the_rule_set() -> None:
    plan = plan_with(
        put("support", "excavator-eye", also_suspends="platform"), sample="shored_trench"
    )

    (one, *_) = [one for one in found(plan, RULE) if one.verdict is FAILS]
    assert one.source.document == "29 CFR 1926.502"


def test_an_anchor_that_catches_a_fall_is_asked() -> None:
    plan = plan_with(put("support", "davit-2", also_suspends=None))

    assert worst(found(plan, RULE)) is UNKNOWN
    assert plan.status == "NOT READY"


def test_an_anchor_that_catches_no_fall_is_asked_only_where_it_is_stated() -> None:
    asked = {one.about for one in found(plan_with(), RULE)}

    assert len(asked) == 1


@pytest.mark.parametrize("sample", ["pump_station", "transformer_deck"])
def test_an_anchor_for_itself_meets(sample: str) -> None:
    assert worst(found(plan_with(sample=sample), RULE)) is MEETS


def test_a_post_that_carries_the_arm_is_looked_at_too() -> None:
    plan = plan_with(put("support", "post-1", also_suspends="people"), sample="transformer_deck")

    assert worst(found(plan, RULE)) is FAILS
