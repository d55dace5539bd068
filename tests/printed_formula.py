"""Works out a formula as the plan prints it."""

import ast
import math
import operator
from collections.abc import Callable, Mapping

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
