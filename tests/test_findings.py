"""Verdicts follow from what was compared, stated or missing; nothing else can set them."""

from __future__ import annotations

import dataclasses
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.findings import (
    Bind,
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Verdict,
    Weight,
)

DEMO = Source(mark=Mark.READ, document="Demo Code 1", clause="4.2", bind=Bind.LAW)


def metres(value: float) -> Quantity:
    """A length without a story."""
    return Quantity(symbol="x", label="a length", value=value, unit=Unit.M, source=DEMO)


def compared(value: float, relation: Relation, limit: float, slack: float = 0.0) -> Compared:
    """*value* held against *limit*."""
    return Compared(
        result=metres(value),
        relation=relation,
        limit=metres(limit),
        formula="x",
        inputs=(),
        slack=slack,
    )


def found(outcome: Compared | Stated | Missing, weight: Weight) -> Finding:
    """A finding of a rule of that weight."""
    rule = Rule("haul/demo", "Demo", weight, DEMO)
    return Finding(rule=rule, outcome=outcome, settle_by="Measure.", keys=("a.b",))


@pytest.mark.parametrize(
    ("relation", "below", "equal", "above"),
    [
        (Relation.AT_MOST, True, True, False),
        (Relation.LESS_THAN, True, False, False),
        (Relation.AT_LEAST, False, True, True),
        (Relation.MORE_THAN, False, False, True),
    ],
)
def test_each_relation_holds_where_its_sign_says(relation, below, equal, above):
    assert [relation.holds(value, 5.0) for value in (4.9, 5.0, 5.1)] == [below, equal, above]


@pytest.mark.parametrize(
    ("relation", "holds"),
    [
        (Relation.AT_MOST, True),
        (Relation.AT_LEAST, True),
        (Relation.LESS_THAN, False),
        (Relation.MORE_THAN, False),
    ],
)
def test_a_binary_fraction_is_no_difference(relation, holds):
    """0.1 + 0.2 is 0.30000000000000004."""
    assert relation.holds(0.1 + 0.2, 0.3) is holds
    assert relation.holds(0.3, 0.1 + 0.2) is holds


@pytest.mark.parametrize("relation", Relation)
@pytest.mark.parametrize(("value", "limit"), [(math.nan, 1.0), (1.0, math.nan)])
def test_nan_never_holds(relation, value, limit):
    assert not relation.holds(value, limit)
    assert compared(value, relation, limit).verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("relation", "value"), [(Relation.AT_MOST, math.inf), (Relation.AT_LEAST, -math.inf)]
)
def test_an_infinite_result_on_the_wrong_side_fails(relation, value):
    assert compared(value, relation, 5.0).verdict is Verdict.FAILS


@pytest.mark.parametrize(
    ("value", "relation", "verdict"),
    [
        (3.9, Relation.AT_MOST, Verdict.MEETS),
        (4.0, Relation.AT_MOST, Verdict.MEETS),  # as much slack as was wanted
        (4.1, Relation.AT_MOST, Verdict.MARGINAL),
        (5.0, Relation.AT_MOST, Verdict.MARGINAL),
        (5.1, Relation.AT_MOST, Verdict.FAILS),
        (6.1, Relation.AT_LEAST, Verdict.MEETS),
        (6.0, Relation.AT_LEAST, Verdict.MEETS),
        (5.9, Relation.AT_LEAST, Verdict.MARGINAL),
        (5.0, Relation.AT_LEAST, Verdict.MARGINAL),
        (4.9, Relation.AT_LEAST, Verdict.FAILS),
    ],
)
def test_less_slack_than_wanted_is_marginal(value, relation, verdict):
    """The limit is 5 m and the slack wanted is 1 m."""
    assert compared(value, relation, 5.0, slack=1.0).verdict is verdict


@given(
    value=st.floats(-1e6, 1e6),
    worse=st.floats(0, 1e6),
    limit=st.floats(-1e6, 1e6),
    slack=st.floats(0, 1e3),
    relation=st.sampled_from(Relation),
)
def test_a_worse_result_never_has_a_better_verdict(value, worse, limit, slack, relation):
    order = (Verdict.FAILS, Verdict.MARGINAL, Verdict.MEETS)
    shift = worse if relation.wants_small else -worse

    before = compared(value, relation, limit, slack).verdict
    after = compared(value + shift, relation, limit, slack).verdict

    assert order.index(after) <= order.index(before)


def test_what_is_missing_is_unknown_and_never_met():
    assert Missing(because="not measured").verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(("holds", "verdict"), [(True, Verdict.MEETS), (False, Verdict.FAILS)])
def test_what_is_stated_meets_or_fails(holds, verdict):
    assert Stated(holds=holds, because="so").verdict is verdict


@pytest.mark.parametrize("weight", Weight)
@pytest.mark.parametrize(
    ("outcome", "is_open", "can_block"),
    [
        (Stated(holds=True, because=""), False, False),
        (Stated(holds=False, because=""), True, True),
        (Missing(because=""), True, True),
        (compared(4.9, Relation.AT_MOST, 5.0, slack=1.0), True, False),
        (compared(5.1, Relation.AT_MOST, 5.0), True, True),
    ],
    ids=["meets", "fails by statement", "unknown", "marginal", "fails"],
)
def test_unknown_blocks_like_a_failure_and_only_where_the_rule_blocks(
    outcome, is_open, can_block, weight
):
    one = found(outcome, weight)

    assert one.open is is_open
    assert one.blocks is (can_block and weight is Weight.BLOCKS)
    assert one.weight is weight


@pytest.mark.parametrize("kind", [Compared, Stated, Missing, Finding])
def test_no_verdict_is_stored_anywhere(kind):
    assert "verdict" not in {one.name for one in dataclasses.fields(kind)}


def test_a_finding_cannot_be_changed_afterwards():
    one = found(Missing(because=""), Weight.BLOCKS)

    with pytest.raises(dataclasses.FrozenInstanceError):
        one.settle_by = "nothing"  # type: ignore[misc]


@pytest.mark.parametrize(("rule_id", "area"), [("haul/a", "haul"), ("plan/b-c", "plan")])
def test_the_area_of_a_rule_stands_before_the_stroke(rule_id, area):
    assert Rule(rule_id, "Demo", Weight.WARNS, DEMO).area == area


def test_a_site_value_names_its_key_and_a_derived_one_says_how():
    assert Source.site("space.x.depth") == Source(mark=Mark.SITE, key="space.x.depth")
    assert Source.derived("a + b") == Source(mark=Mark.DERIVED, note="a + b")
