"""Reference tables as data, each value with its document and mark."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib import resources
from typing import Any


@functools.cache
def table(name: str) -> dict[str, Any]:
    """The table file *name*, read once a process."""
    path = resources.files("planbuilder.tables").joinpath(f"{name}.toml")
    return tomllib.loads(path.read_text(encoding="utf-8"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A document that the tool cites: what it is, which edition, how it was seen."""

    id: str
    title: str
    edition: str
    seen: str


@functools.cache
def documents() -> dict[str, Document]:
    """Every document that the tool may cite, by id."""
    rows = table("documents")["document"]
    return {one["id"]: Document(**one) for one in rows}
