"""A rule-set file, profile or overlay, validated like a site file: every problem with its line."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, ValidationError, create_model, model_validator

from planbuilder.errors import FileProblemsError, Problem
from planbuilder.findings import Bind, Mark, Relation
from planbuilder.site.fields import Id, Strict, Text, refusal
from planbuilder.site.outside import WorkKind
from planbuilder.site.positions import KeyIndex
from planbuilder.site.wording import problems_of
from planbuilder.tables import table


class Need(StrEnum):
    """How firmly a rule set asks for something, firmest first."""

    REQUIRED = "required"
    IF_LIKELY = "if-likely"
    IF_FEASIBLE = "if-feasible"
    BY_DEMONSTRATION = "by-demonstration"
    BY_ASSESSMENT = "by-assessment"
    NOT_REQUIRED = "not-required"


LimitUnit = Literal["%", "ppm", "ft", "m", "lb", "kg", "lbf", "kN", "min", "months", "days"]
NO_LIMIT = "none"
EVERY_PROFILE = "*"


class _Entry(Strict):
    """What every entry says: where it comes from, what binds, how well it is known.

    *bind* "none" says that the rule set gives no number: only then may the number be left out.
    *approver* is who lets an overlay loosen something.
    """

    document: Text | None = None
    clause: Text | None = None
    bind: Bind | Literal["none"]
    mark: Literal[Mark.READ, Mark.RECALLED, Mark.CHOICE]
    note: Text | None = None
    approver: Text | None = None

    @model_validator(mode="after")
    def _from_somewhere(self) -> _Entry:
        if self.bind is not Bind.TOOL and not (self.document and self.clause):
            raise refusal("no_source", "needs document and clause, unless bind is tool")
        return self


class LimitEntry(_Entry):
    """A number that a result is held against, in the unit of its rule."""

    value: float | None = Field(default=None, ge=0, strict=True)
    unit: LimitUnit | Literal["count", "1"] | None = None
    op: Relation | None = None

    @model_validator(mode="after")
    def _whole_or_none(self) -> LimitEntry:
        given = [one is not None for one in (self.value, self.unit, self.op)]
        if any(given) if self.bind == NO_LIMIT else not all(given):
            text = 'needs value, unit and op together, and none of them where bind is "none"'
            raise refusal("half_limit", text)
        return self


class _Worded(_Entry):
    """What is said in words. A rule set that asks for nothing leaves the key out, or says so."""

    bind: Bind


class DutyEntry(_Worded):
    """Something to be done, in the words of the rule set."""

    text: Text
    need: Need = Need.REQUIRED


class PermissionEntry(_Worded):
    """Something that is allowed, or is not."""

    text: Text
    allowed: bool = Field(strict=True)


class Facts(Strict):
    """What the rule set is. *overlay_of* is empty for a profile, which stands alone."""

    id: Id
    title: Text
    version: Text
    source_date: Text
    country: str = Field(strict=True, max_length=2)
    region: Text | None = None
    units: Literal["si", "us"] | None = None
    paper: Literal["a4", "letter"] | None = None
    overlay_of: Text | None = None
    checker: Text | None = None

    @model_validator(mode="after")
    def _stands_alone(self) -> Facts:
        if self.overlay_of is None and not (self.units and self.paper):
            raise refusal("no_units", "needs units and paper, or overlay_of for an overlay")
        return self


class Scope(Strict):
    """Where the rule set applies, and what it leaves to others, in words and by kind of work."""

    applies_to: list[Text] = Field(default_factory=list)
    excludes: list[Text] = Field(default_factory=list)
    excludes_work: list[WorkKind] = Field(default_factory=list)
    entry_routes: list[Id] = Field(default_factory=list)
    approach_tables: list[Id] = Field(default_factory=list)
    consult_tables: list[Id] = Field(default_factory=list)
    defers_to: list[Text] = Field(default_factory=list)


class Words(Strict):
    """Rules that it was not checked against, and what host and contractor tell each other."""

    not_checked: list[Text] = Field(default_factory=list)
    host_gives: list[Text] = Field(default_factory=list)
    contractor_gives: list[Text] = Field(default_factory=list)


class OwnDocument(Strict):
    """A document that only this rule set cites, such as the rules of a host employer."""

    id: Text
    title: Text
    edition: Text
    seen: Text


_KINDS = {"least": LimitEntry, "most": LimitEntry, "duty": DutyEntry, "permission": PermissionEntry}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleKey:
    """A key that a rule set may give: in words, and what kind it is."""

    key: str
    label: str
    kind: Literal["least", "most", "duty", "permission"]
    unit: str = ""


@functools.cache
def rule_keys() -> dict[str, RuleKey]:
    """Every key that a rule set may give, in printing order."""
    return {
        f"{group}.{name}": RuleKey(key=f"{group}.{name}", **entry)
        for group, entries in table("rule_keys").items()
        for name, entry in entries.items()
    }


@functools.cache
def _model() -> type[Strict]:
    """The whole file: one table a group of keys, so that a misspelt key is met like any other."""
    groups: dict[str, Any] = {}
    for group, entries in table("rule_keys").items():
        fields: dict[str, Any] = {
            name: (_KINDS[entry["kind"]] | None, None) for name, entry in entries.items()
        }
        groups[group] = (create_model(group, __base__=Strict, **fields) | None, None)
    elements: dict[str, Any] = {f"A{number:02}": (Text | None, None) for number in range(1, 51)}
    groups["clauses"] = (create_model("clauses", __base__=Strict, **elements) | None, None)
    return create_model(
        "RuleFile",
        __base__=Strict,
        profile=(Facts, ...),
        scope=(Scope, Scope()),
        text=(Words, Words()),
        document=(list[OwnDocument], Field(default_factory=list, max_length=50)),
        **groups,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleFile:
    """A valid rule-set file: its parts, and its text as read."""

    path: Path
    text: str
    facts: Facts
    scope: Scope
    words: Words
    documents: tuple[OwnDocument, ...]
    clauses: Mapping[str, str]
    entries: Mapping[str, LimitEntry | DutyEntry | PermissionEntry]

    def refuse(self, problems: list[tuple[str, str]]) -> None:
        """Raise FileProblemsError for *problems*, each a key and what is wrong with it."""
        index = KeyIndex(self.text)
        rows = [Problem(index.line(tuple(key.split("."))), key, words) for key, words in problems]
        if rows:
            raise FileProblemsError(self.path, rows)


def read_rules(path: Path, text: str) -> RuleFile:
    """The rule set in *text*, which was read from *path*.

    Raises FileProblemsError with every problem: not TOML, an unknown key, half a limit, a limit in
    the wrong sense, a unit of another kind.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FileProblemsError(path, [Problem(1, "(file)", f"is not TOML: {error}")]) from error
    model = _model()
    try:
        read: Any = model.model_validate(data)
    except ValidationError as error:
        rows = problems_of(error, model, data, KeyIndex(text))
        raise FileProblemsError(path, rows) from error
    rules = RuleFile(
        path=path,
        text=text,
        facts=read.profile,
        scope=read.scope,
        words=read.text,
        documents=tuple(read.document),
        clauses={name: one for name, one in read.clauses if one} if read.clauses else {},
        entries={
            key: one for key in rule_keys() if (one := _entry(read, *key.split("."))) is not None
        },
    )
    rules.refuse([*_wrong_sense(rules)])
    return rules


def _entry(read: Any, group: str, name: str) -> Any:  # noqa: ANN401 - a model made from the keys
    entries = getattr(read, group)
    return getattr(entries, name) if entries else None


_SENSE = {
    "least": (Relation.AT_LEAST, Relation.MORE_THAN),
    "most": (Relation.AT_MOST, Relation.LESS_THAN),
}
_LIKE = ({"%", "ppm"}, {"ft", "m"}, {"lb", "kg"}, {"lbf", "kN"})


def _wrong_sense(rules: RuleFile) -> list[tuple[str, str]]:
    """Limits whose comparison or unit is not that of their key."""
    problems = []
    for key, one in rules.entries.items():
        if not isinstance(one, LimitEntry) or one.op is None:
            continue
        known = rule_keys()[key]
        if one.op not in _SENSE[known.kind]:
            allowed = " or ".join(_SENSE[known.kind])
            problems.append((f"{key}.op", f"must be {allowed}: {known.label} (got {one.op})"))
        units = next((like for like in _LIKE if known.unit in like), {known.unit})
        if one.unit not in units:
            listed = ", ".join(sorted(units))
            problems.append((f"{key}.unit", f"must be one of {listed} (got {one.unit})"))
    return problems
