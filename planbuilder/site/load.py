"""A TOML path to a Site, or every problem of the file at once, each with its line."""

from __future__ import annotations

import graphlib
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from planbuilder.errors import FileProblemsError, PlanbuilderError, Problem
from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.positions import KeyIndex
from planbuilder.site.positions import Path as KeyPath
from planbuilder.site.usual import with_usual_steps
from planbuilder.site.wording import got, problems_of, short, shown

LARGEST_FILE_BYTES = 2_000_000
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"  # some editors put it before UTF-8; it says nothing
TABLES_WITH_IDS = (
    "person",
    "employer",
    "support",
    "device",
    "equipment",
    "service",
    "space",
    "drill",
)


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A valid site file: what it says, and its text as read."""

    path: Path
    text: str
    site: Site

    def line(self, *key: str | int) -> int:
        """The line on which *key* stands."""
        return KeyIndex(self.text).line(key)


def load_site(path: Path) -> SiteFile:
    """Read and validate the site file at *path*.

    Raises FileProblemsError with every problem of the file, or PlanbuilderError when it cannot
    be read at all.
    """
    text = _read(path)
    data = with_usual_steps(_parse(path, text))
    problems: list[Problem] = []
    index: KeyIndex | None = None
    try:
        site = Site.model_validate(data, context=FileIds(declared_ids(data)))
    except ValidationError as error:
        index = KeyIndex(text)
        problems += problems_of(error, Site, data, index)
    for key, words in _timeline_problems(data):
        index = index or KeyIndex(text)
        problems.append(Problem(index.line(key), shown(key), words))
    if problems:
        raise FileProblemsError(path, problems)
    return SiteFile(path, text, site)


def _read(path: Path) -> str:
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            message = f"{path}: is larger than {LARGEST_FILE_BYTES // 1000} kB; split the site"
            raise PlanbuilderError(message)
        return path.read_bytes().removeprefix(_BYTE_ORDER_MARK).decode("utf-8")
    except UnicodeDecodeError as error:
        message = f"{path}: is not UTF-8 text (byte {error.start})"
        raise PlanbuilderError(message) from error
    except OSError as error:
        message = f"{path}: cannot be read ({error.strerror})"
        raise PlanbuilderError(message) from error


def _parse(path: Path, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\s*\(at (?:line (\d+), column \d+|end of document)\)$", str(error))
        line = int(found[1]) if found and found[1] else text.count("\n") + 1
        words = str(error)[: found.start()] if found else str(error)
        words += _usual_slip(words, text.splitlines(), line)
        raise FileProblemsError(path, [Problem(line, "(file)", f"is not TOML: {words}")]) from error
    except ValueError as error:  # the library passes on what int() says of a page of digits
        problem = Problem(1, "(file)", "holds a number of more digits than any measurement")
        raise FileProblemsError(path, [problem]) from error
    except RecursionError as error:
        raise FileProblemsError(path, [Problem(1, "(file)", "is nested too deeply")]) from error


def _usual_slip(words: str, lines: list[str], line: int) -> str:
    """What is mostly behind a refusal in *words*, where the line shows it; else ""."""
    if words == "Illegal character '\\n'":
        return "; a quote is not closed"
    if line <= len(lines) and words.startswith("Expected newline") and _BARE.match(lines[line - 1]):
        return "; text, and a number with its unit, stand in quotes"
    return ""


_BARE = re.compile(r"\s*[\w.-]+\s*=\s*(?![\[{\"'])\S")


def declared_ids(data: dict[str, Any]) -> dict[str, tuple[str, ...]]:
    """The ids that each table of a parsed site file declares."""
    return {
        table: tuple(
            entry["id"] for entry in _tables(data.get(table)) if isinstance(entry.get("id"), str)
        )
        for table in TABLES_WITH_IDS
    }


def _tables(value: Any) -> list[dict[str, Any]]:  # noqa: ANN401 - raw TOML
    return [one for one in value if isinstance(one, dict)] if isinstance(value, list) else []


def _timeline_problems(data: dict[str, Any]) -> Iterator[tuple[KeyPath, str]]:
    """Steps that are named twice, follow an unknown step, or wait for each other.

    Looked for in the raw data, so that they are reported even when other keys are wrong.
    """
    for number, space in enumerate(_tables(data.get("space"))):
        rescue = space.get("rescue")
        for way in ("primary", "fallback"):
            method = rescue.get(way) if isinstance(rescue, dict) else None
            steps = _tables(method.get("step")) if isinstance(method, dict) else []
            yield from _step_problems(("space", number, "rescue", way, "step"), steps)


def _step_problems(where: KeyPath, steps: list[dict[str, Any]]) -> Iterator[tuple[KeyPath, str]]:
    ids = [step.get("id") for step in steps]
    graph: dict[str, list[str]] = {}
    for number, step in enumerate(steps):
        own = step.get("id")
        if not isinstance(own, str):
            continue
        after = step.get("after")
        links = [one for one in after if isinstance(one, str)] if isinstance(after, list) else []
        for one in links:
            if one not in ids:
                known = ", ".join(short(name) for name in ids)
                words = f"names no step of that id; steps: {known} ({got(one)})"
                yield (*where, number, "after"), words
        if own in graph:
            yield (*where, number, "id"), f"is used by two steps ({got(own)})"
        graph[own] = links
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        circle = [short(one) for one in error.args[1]]
        words = f"must not wait for itself (circle: {' -> '.join(circle)})"
        yield (*where, ids.index(error.args[1][0]), "after"), words
