"""The usual steps of a rescue, for a method that asks for them with steps_from = "usual"."""

from __future__ import annotations

import functools
import tomllib
from importlib import resources
from typing import Any

STATED = frozenset(("usual", "one_in_ten", "best", "worst", "computed"))


@functools.cache
def usual_steps() -> dict[str, list[dict[str, Any]]]:
    """The usual steps by method kind, as raw tables of a site file."""
    path = resources.files("planbuilder.site").joinpath("usual_steps.toml")
    return tomllib.loads(path.read_text(encoding="utf-8"))


def with_usual_steps(data: dict[str, Any]) -> dict[str, Any]:
    """The parsed site file with the usual steps in every method that asks for them.

    A step of the same id keeps what it states and takes the rest from the usual one. Own steps
    stay first and in order, so that line numbers of messages hold. What is not of the right form
    is left as it is: validation reports it.
    """
    spaces = data.get("space")
    if not isinstance(spaces, list):
        return data
    return data | {"space": [_in_space(one) for one in spaces]}


def _in_space(space: object) -> object:
    rescue = space.get("rescue") if isinstance(space, dict) else None
    if not isinstance(space, dict) or not isinstance(rescue, dict):
        return space
    ways = {
        name: _in_method(rescue[name])
        for name in ("primary", "fallback")
        if isinstance(rescue.get(name), dict)
    }
    return space | {"rescue": rescue | ways}


def _in_method(method: dict[str, Any]) -> dict[str, Any]:
    own, kind = method.get("step", []), method.get("method")
    if method.get("steps_from") != "usual" or not isinstance(own, list) or type(kind) is not str:
        return method
    usual = {one["id"]: one for one in usual_steps().get(kind, [])}
    merged = [_merged(one, usual) for one in own]
    ids = {one.get("id") for one in own if isinstance(one, dict) and type(one.get("id")) is str}
    rest = [_shipped(one) for name, one in usual.items() if name not in ids]
    return {**method, "step": merged + rest}


def _merged(own: object, usual: dict[str, dict[str, Any]]) -> object:
    if not isinstance(own, dict):
        return own
    name = own.get("id")
    base = usual.get(name) if isinstance(name, str) else None
    if base is None:
        return own
    if STATED & own.keys():  # a time of the site's own: nothing of the tool's is left in it
        return {key: value for key, value in base.items() if key not in STATED | {"grade"}} | own
    return _shipped(base) | own


def _shipped(step: dict[str, Any]) -> dict[str, Any]:
    """A usual step whose time is the tool's own, and says so."""
    return step | {"source": "tool"} if "usual" in step else step
