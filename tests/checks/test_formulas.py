"""The formula on the page is the formula that ran: worked out again, it gives the result."""

import ast
import math
import operator
from collections.abc import Callable, Mapping

import pytest
from broken_sites import plan_with

from planbuilder.findings import Compared

READABLE = ("pump_station", "shored_trench", "call_and_wait", "half_measured")
OPERATORS: dict[type, Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
FUNCTIONS: dict[str, Callable[..., float]] = {
    "min": min,
    "max": max,
    "sqrt": math.sqrt,
    "ceil": math.ceil,
    "log": math.log,
}


def work_out(formula: str, values: Mapping[str, float]) -> float:
    """The value of a printed formula, which is Python arithmetic over its inputs' symbols."""
    return _value(ast.parse(formula, mode="eval").body, {"pi": math.pi, **values})


def _value(node: ast.expr, values: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return number
        case ast.Name(id=name):
            return values[name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, values)
        case ast.BinOp(left=left, op=op, right=right):
            return OPERATORS[type(op)](_value(left, values), _value(right, values))
        case ast.Call(func=ast.Name(id=name), args=args):
            return FUNCTIONS[name](*(_value(arg, values) for arg in args))
    raise ValueError(ast.dump(node))


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
