"""The library's error codes in our words: what is wrong, what is allowed, what was found."""

from __future__ import annotations

import difflib
import re
import types
import typing
from collections.abc import Iterator
from typing import Annotated, Any

from pydantic import BaseModel, ValidationError

from planbuilder.errors import Problem
from planbuilder.site.positions import KeyIndex, Path

LONGEST_SHOWN = 60
TOO_LARGE_TO_SHOW = 10**18


def problems_of(
    error: ValidationError,
    model: type[BaseModel],
    data: dict[str, Any],
    index: KeyIndex,
) -> list[Problem]:
    """Every problem of *error*, each with its line and key."""
    rows: list[Problem] = []
    explained: set[Path] = set()
    missing: list[tuple[Path, Problem]] = []
    for one in error.errors(include_url=False):
        path = _key_path(one["loc"], data, is_new_key=one["type"] == "missing")
        if one["type"].startswith("union_tag"):
            path = (*path, "kind")
        text = _text(dict(one), path, model, explained)
        problem = Problem(index.line(path), shown(path), text)
        if one["type"] == "missing":
            missing.append((path, problem))
        else:
            rows.append(problem)
    # A key that is only misspelt is reported once, as misspelt.
    return rows + [problem for path, problem in missing if path not in explained]


def shown(path: Path) -> str:
    """The key as a person would say it: ``space[2].opening.diameter``."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            name = part if re.fullmatch(r"[\w-]{1,60}", part) else f'"{short(part)}"'
            text += f".{name}" if text else name
    return text or "(file)"


def short(value: object) -> str:
    """*value* on one line, cut, with nothing in it that a terminal would act on."""
    text = " ".join(str(value).split())
    text = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def got(value: object) -> str:
    """What was found, for the end of a message."""
    match value:
        case str():
            return f'got "{short(value)}"'
        case bool():
            return f"got {str(value).lower()}"
        case int() if abs(value) >= TOO_LARGE_TO_SHOW:  # str() refuses pages of digits
            return "got a number of more than 18 digits"
        case dict() | list() | tuple():
            return f"got a {'table' if isinstance(value, dict) else 'list'}"
        case _:
            return f"got {short(value)}"


def _text(one: dict[str, Any], path: Path, model: type[BaseModel], explained: set[Path]) -> str:
    code, context, found = one["type"], one.get("ctx", {}), got(one["input"])
    match code:
        case "missing":
            return "is missing"
        case "extra_forbidden":
            return _unknown_key(one["loc"], path, model, explained)
        case "union_tag_invalid" | "enum" | "literal_error":
            tags = context.get("expected_tags") or context["expected"]
            *names, last = re.findall(r"'([^']*)'", tags)
            allowed = f"{', '.join(names)} or {last}" if names else last
            value = one["input"].get("kind") if isinstance(one["input"], dict) else one["input"]
            near = difflib.get_close_matches(str(value), [*names, last], 1, 0.5)
            hint = f', did you mean "{near[0]}"?' if near else ""
            return f"must be one of {allowed}{hint} ({_tag_got(one)})"
        case "union_tag_not_found":
            return "has no kind; state what it is"
        case "too_short" | "too_long":
            return f"{_count_of_entries(code, context)} ({found})"
    words = _PLAIN.get(code) or _BOUNDED.get(code, "").format(**context) or one["msg"]
    return f"{words} ({found})"


def _count_of_entries(code: str, context: dict[str, Any]) -> str:
    if code == "too_short":
        least = context["min_length"]
        return f"must have at least {least} {'entry' if least == 1 else 'entries'}"
    most = context["max_length"]
    if most == 0:
        return "must stay empty"
    return f"must have at most {most} {'entry' if most == 1 else 'entries'}"


def _tag_got(one: dict[str, Any]) -> str:
    value = one["input"]
    return got(value.get("kind") if isinstance(value, dict) else value)


_PLAIN = {
    "string_type": "must be text in quotes",
    "bool_type": "must be true or false",
    "int_type": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a finite number",
    "date_type": "must be a date such as 2026-11-02, without quotes",
    "list_type": "must be a list in [ ]",
    "tuple_type": "must be a list in [ ]",
    "model_type": "must be a table",
    "model_attributes_type": "must be a table",
}
_BOUNDED = {
    "string_too_long": "must have at most {max_length} characters",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be {ge:g} or more",
    "less_than": "must be less than {lt:g}",
    "less_than_equal": "must be {le:g} or less",
}


def _unknown_key(
    loc: tuple[str | int, ...], path: Path, model: type[BaseModel], explained: set[Path]
) -> str:
    known = known_keys(model, loc)
    near = difflib.get_close_matches(str(path[-1]), known, 1, 0.6)
    if near:
        explained.add((*path[:-1], near[0]))
        return f'is not a known key, did you mean "{near[0]}"?'
    return f"is not a known key; known here: {', '.join(known)}"


def _key_path(loc: tuple[str | int, ...], data: Any, *, is_new_key: bool) -> Path:  # noqa: ANN401
    """*loc* without the parts that name a branch of a union instead of a key."""
    path: list[str | int] = []
    here: Any = data
    for number, part in enumerate(loc):
        is_last = number == len(loc) - 1
        is_key = isinstance(here, dict) and part in here
        is_item = isinstance(here, list) and isinstance(part, int) and part < len(here)
        if is_key or is_item:
            here = here[part]
        elif not (is_last and is_new_key):
            continue
        path.append(part)
    return tuple(path)


def known_keys(model: type[BaseModel], loc: tuple[str | int, ...]) -> list[str]:
    """The keys that are legal in the table where the last part of *loc* was met."""
    here: list[Any] = [model]
    for part in loc[:-1]:
        here = [after for one in here for after in _below(one, part)]
    return sorted({key for one in here if _is_model(one) for key in one.model_fields})


def _below(annotation: Any, part: str | int) -> Iterator[Any]:  # noqa: ANN401
    if _is_model(annotation):
        if part in annotation.model_fields:
            yield from _unfold(annotation.model_fields[part].annotation)
        elif any(part in typing.get_args(f.annotation) for f in annotation.model_fields.values()):
            yield annotation  # the part names this branch of a union
    elif typing.get_origin(annotation) is list and isinstance(part, int):
        yield from _unfold(typing.get_args(annotation)[0])


def _unfold(annotation: Any) -> Iterator[Any]:  # noqa: ANN401
    origin = typing.get_origin(annotation)
    if origin is Annotated:
        yield from _unfold(typing.get_args(annotation)[0])
    elif origin in (typing.Union, types.UnionType):
        for one in typing.get_args(annotation):
            yield from _unfold(one)
    else:
        yield annotation


def _is_model(annotation: Any) -> bool:  # noqa: ANN401
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)
