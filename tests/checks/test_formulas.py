"""The formula on the page is the formula that ran: worked out again, it gives the result."""

import pytest
from broken_sites import plan_with
from printed_formula import work_out

from planbuilder.findings import Compared

READABLE = ("pump_station", "call_and_wait", "half_measured")

COMPARED = [
    pytest.param(one.outcome, id=f"{sample} {one.rule.id} {one.space} {one.about}")
    for sample in READABLE
    for one in plan_with(sample=sample).findings
    if isinstance(one.outcome, Compared)
]


@pytest.mark.parametrize("compared", COMPARED)
def test_printed_formula_gives_the_result(compared: Compared) -> None:
    values = {one.symbol: one.value for one in compared.inputs}

    assert work_out(compared.formula, values) == pytest.approx(compared.result.value, rel=1e-9)


@pytest.mark.parametrize("compared", COMPARED)
def test_every_input_is_used_once_and_has_its_own_symbol(compared: Compared) -> None:
    symbols = [one.symbol for one in compared.inputs]

    assert len(symbols) == len(set(symbols))


@pytest.mark.parametrize("sample", READABLE)
def test_computed_times_follow_from_their_printed_formula(sample: str) -> None:
    steps = [
        step
        for space in plan_with(sample=sample).spaces
        for times in space.timelines
        for step in times.steps
        if step.working is not None
    ]

    for step in steps:
        assert step.working is not None
        values = {one.symbol: one.value for one in step.working.inputs}
        result = work_out(step.working.formula, values)
        assert result == pytest.approx(step.working.value, rel=1e-9)


def test_a_wrong_formula_would_be_noticed() -> None:
    compared = next(one.values[0] for one in COMPARED if isinstance(one.values[0], Compared))
    values = {one.symbol: one.value for one in compared.inputs}

    assert work_out(f"({compared.formula})*1.01", values) != pytest.approx(compared.result.value)
