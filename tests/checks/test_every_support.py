"""A site with all kinds of support: each is answered, by formulas that give what they say."""

from datetime import date
from functools import cache

import pytest
from every_support import every_support
from printed_formula import work_out

from planbuilder.findings import Compared, Finding, Missing
from planbuilder.plan import Plan, build_plan
from planbuilder.site.supports import SupportKind

ON = date(2026, 11, 25)
# One rule of each kind's own.
OWN_RULE = {
    SupportKind.TRIPOD: "haul/tripod-leg-overloaded",
    SupportKind.LEGGED_BASE_DAVIT: "haul/base-tips-on-slope",
    SupportKind.WALL_CLAMP_SLEEVE: "haul/clamp-overloaded",
    SupportKind.FLOOR_SLEEVE: "haul/bolts-overused",
    SupportKind.WALL_SLEEVE: "haul/bolts-overused",
    SupportKind.OPENING_COLLAR: "haul/collar-does-not-fit",
    SupportKind.VEHICLE_RECEIVER: "haul/vehicle-tips",
    SupportKind.PLATFORM_POST: "haul/post-too-high",
    SupportKind.POST_DAVIT_ARM: "haul/arm-out-of-limits",
    SupportKind.HORIZONTAL_LIFELINE: "haul/lifeline-ends-overloaded",
    SupportKind.STRUCTURE: "haul/sling-leg-overloaded",
}


@cache
def plan() -> Plan:
    """The plan of that site."""
    return build_plan(every_support(), on=ON)


def at(kind: SupportKind) -> list[Finding]:
    """The findings of the space with that kind of support."""
    return [one for one in plan().findings if one.space == f"at-{kind}"]


@pytest.mark.parametrize("kind", SupportKind)
def test_every_kind_of_support_is_asked_about_itself(kind: SupportKind) -> None:
    answers = [one.outcome for one in at(kind) if one.rule.id == OWN_RULE[kind]]

    assert any(isinstance(one, Compared) for one in answers)


@pytest.mark.parametrize("kind", SupportKind)
def test_nothing_is_left_unknown_where_everything_is_stated(kind: SupportKind) -> None:
    unknown = [one for one in at(kind) if isinstance(one.outcome, Missing)]

    assert [(one.rule.id, one.about, one.outcome) for one in unknown] == []


def test_every_printed_formula_gives_its_result() -> None:
    compared = [one for one in plan().findings if isinstance(one.outcome, Compared)]
    wrong = []
    for one in compared:
        assert isinstance(one.outcome, Compared)
        values = {each.symbol: each.value for each in one.outcome.inputs}
        if work_out(one.outcome.formula, values) != pytest.approx(one.outcome.result.value):
            wrong.append((one.space, one.rule.id, one.about))

    assert len(compared) > 200
    assert wrong == []


def test_no_symbol_stands_for_two_inputs() -> None:
    for one in plan().findings:
        if isinstance(one.outcome, Compared):
            symbols = [each.symbol for each in one.outcome.inputs]
            assert len(symbols) == len(set(symbols)), (one.space, one.rule.id)
