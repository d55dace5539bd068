"""Tables to fill in, on paper or on screen: what is printed, what is ticked, what is written.

A field keeps its name from one build to the next: it is made of the ids of the site file, so that
what was typed into one revision can be read against the next. A name holds no full stop, which
would make a tree of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FormCell:
    """What is printed, or the name of a field: a box to tick, a line, or room for an answer.

    *label* is the name that a reader who hears the page is told.
    """

    text: str = ""
    tick: str = ""
    line: str = ""
    answer: str = ""
    label: str = ""


@dataclass(frozen=True, slots=True)
class FormRow:
    """One row under its own head."""

    head: str
    cells: tuple[FormCell, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """Rows to fill in under headings."""

    heads: tuple[str, ...]
    rows: tuple[FormRow, ...]


@dataclass(frozen=True, slots=True)
class DrilledWay:
    """One way out: its steps, and its clocks, planned and taken."""

    title: str
    steps: Form
    clocks: Form
    noticed: str


@dataclass(frozen=True, slots=True)
class DrillRecord:
    """The record of one drill, to be filled in while it runs."""

    about: Form
    ways: tuple[DrilledWay, ...]
    outcome: Form
    learned: Form
    signed: Form


@dataclass(frozen=True, slots=True)
class DebriefSheet:
    """The talk after work, drill or rescue."""

    about: Form
    asked: Form
    actions: Form
    signed: Form


def form(
    name: str,
    heads: tuple[str, ...],
    rows: Iterable[tuple[str, tuple[str, ...]]],
    *,
    ticks: tuple[str, ...] = (),
    answers: tuple[str, ...] = (),
) -> Form:
    """A form of that *name*: *rows* are a key and the texts of the first columns.

    A column without text is a line to write on, or as *ticks* and *answers* say.
    """
    made, seen = [], dict[str, int]()
    for key, texts in rows:
        seen[key] = seen.get(key, 0) + 1
        own = f"{name}/{key}" if seen[key] == 1 else f"{name}/{key}-{seen[key]}"
        blanks = ("",) * (len(heads) - len(texts))
        cells = tuple(
            FormCell(text=text) if text else _field(own, head, texts[0], ticks, answers)
            for head, text in zip(heads[1:], (*texts[1:], *blanks), strict=True)
        )
        made.append(FormRow(texts[0], cells))
    return Form(heads, tuple(made))


def _field(
    row: str, head: str, of: str, ticks: tuple[str, ...], answers: tuple[str, ...]
) -> FormCell:
    name, label = f"{row}/{key_of(head)}", f"{of}: {head}"
    if head in ticks:
        return FormCell(tick=name, label=label)
    if head in answers:
        return FormCell(answer=name, label=label)
    return FormCell(line=name, label=label)


def key_of(text: str) -> str:
    """Words as part of a name: ``Date, time`` is ``date-time``; what stands in brackets is left."""
    return "-".join(re.findall(r"[a-z0-9]+", re.sub(r"\(.*?\)", "", text).lower()))
