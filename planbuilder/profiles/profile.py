"""A rule set as the checks ask it: profile or overlay, shipped or a file of the user's."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from planbuilder.errors import PlanbuilderError
from planbuilder.findings import Bind, Mark, Quantity, Source, Unit
from planbuilder.profiles.rule_file import (
    NO_LIMIT,
    DutyEntry,
    LimitEntry,
    PermissionEntry,
    RuleFile,
    read_rules,
    rule_keys,
)
from planbuilder.profiles.statements import AnyStatement, Duty, Limit, Permission
from planbuilder.site.outside import WorkKind
from planbuilder.tables import Document
from planbuilder.units import Dimension, parse

_UNITS: dict[str, tuple[Unit, Dimension | None]] = {
    "%": (Unit.FRACTION, Dimension.FRACTION),
    "ppm": (Unit.FRACTION, Dimension.FRACTION),
    "ft": (Unit.M, Dimension.LENGTH),
    "m": (Unit.M, Dimension.LENGTH),
    "lb": (Unit.KG, Dimension.MASS),
    "kg": (Unit.KG, Dimension.MASS),
    "lbf": (Unit.N, Dimension.FORCE),
    "kN": (Unit.N, Dimension.FORCE),
    "min": (Unit.S, Dimension.TIME),
    "months": (Unit.MONTHS, None),
    "days": (Unit.DAYS, None),
    "count": (Unit.COUNT, None),
    "1": (Unit.RATIO, None),
}
_PLAIN = ("count", "1")
TOOL_LAYER = "tool"
LARGEST_RULES_BYTES = 200_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A rule set, profile or overlay: its facts, and what it says by key.

    *silent* are the keys for which it says that it sets no number.
    """

    id: str
    title: str
    version: str
    source_date: str
    country: str
    region: str
    units: str
    paper: str
    overlay_of: str
    applies_to: tuple[str, ...]
    excludes: tuple[str, ...]
    excludes_work: tuple[WorkKind, ...]
    entry_routes: tuple[str, ...]
    defers_to: tuple[str, ...]
    not_checked: tuple[str, ...]
    host_gives: tuple[str, ...]
    contractor_gives: tuple[str, ...]
    approach_tables: tuple[str, ...]
    consult_tables: tuple[str, ...]
    documents: tuple[Document, ...]
    clauses: Mapping[str, str]
    limits: Mapping[str, Limit]
    duties: Mapping[str, Duty]
    permissions: Mapping[str, Permission]
    silent: Mapping[str, Source]
    text: str
    rules: RuleFile

    @property
    def says(self) -> Mapping[str, AnyStatement]:
        """Everything that it says, by key."""
        return {**self.limits, **self.duties, **self.permissions}

    @property
    def recalled(self) -> int:
        """How many of its entries have not been confirmed against a text."""
        marks = [one.source.mark for one in self.says.values()]
        marks += [one.mark for one in self.silent.values()]
        return sum(mark is Mark.RECALLED for mark in marks)


def profile_ids() -> tuple[str, ...]:
    """The ids of the profiles that are shipped, without overlays and the tool's own layer."""
    return _shipped("profiles")


def overlay_ids() -> tuple[str, ...]:
    """The ids of the overlays that are shipped."""
    return _shipped("profiles.overlays")


@functools.cache
def _shipped(where: str) -> tuple[str, ...]:
    folder = resources.files(f"planbuilder.{where}")
    names = (one.name for one in folder.iterdir() if one.name.endswith(".toml"))
    return tuple(sorted({name.removesuffix(".toml") for name in names} - {TOOL_LAYER}))


def profile_file(path: Path) -> Profile:
    """The rule set in a file of the user's.

    Raises PlanbuilderError where it cannot be read, and FileProblemsError for what is wrong in it.
    """
    try:
        if path.is_symlink():
            message = f"{path}: is a link; an overlay is a file of its own, beside the site file"
            raise PlanbuilderError(message)
        if path.stat().st_size > LARGEST_RULES_BYTES:
            message = f"{path}: is larger than {LARGEST_RULES_BYTES // 1000} kB"
            raise PlanbuilderError(message)
        text = path.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        message = f"{path}: is not UTF-8 text (byte {error.start})"
        raise PlanbuilderError(message) from error
    except OSError as error:
        message = f"{path}: cannot be read ({error.strerror})"
        raise PlanbuilderError(message) from error
    rules = read_rules(path, text)
    shipped = (*profile_ids(), *overlay_ids(), TOOL_LAYER)
    if rules.facts.id in shipped:  # two layers of one name: nobody could tell whose limit holds
        rules.refuse(
            [("profile.id", f"must not be that of a rule set that ships ({rules.facts.id})")]
        )
    return _profile(rules)


@functools.cache
def load_profile(profile_id: str) -> Profile:
    """The shipped rule set of that id, profile or overlay, read once a process."""
    where = "profiles.overlays" if profile_id in overlay_ids() else "profiles"
    path = resources.files(f"planbuilder.{where}").joinpath(f"{profile_id}.toml")
    text = path.read_text(encoding="utf-8")
    return _profile(read_rules(Path(f"{profile_id}.toml"), text))


def _profile(rules: RuleFile) -> Profile:
    facts, scope, words = rules.facts, rules.scope, rules.words
    layer, said = facts.id, rules.entries.items()
    return Profile(
        id=facts.id,
        title=facts.title,
        version=facts.version,
        source_date=facts.source_date,
        country=facts.country,
        region=facts.region or "",
        units=facts.units or "",
        paper=facts.paper or "",
        overlay_of=facts.overlay_of or "",
        applies_to=tuple(scope.applies_to),
        excludes=tuple(scope.excludes),
        excludes_work=tuple(scope.excludes_work),
        entry_routes=tuple(scope.entry_routes),
        defers_to=tuple(scope.defers_to),
        not_checked=tuple(words.not_checked),
        host_gives=tuple(words.host_gives),
        contractor_gives=tuple(words.contractor_gives),
        approach_tables=tuple(scope.approach_tables),
        consult_tables=tuple(scope.consult_tables),
        documents=tuple(Document(**one.model_dump()) for one in rules.documents),
        clauses=rules.clauses,
        limits={
            key: _limit(key, one, layer)
            for key, one in said
            if isinstance(one, LimitEntry) and one.bind != NO_LIMIT
        },
        duties={key: _duty(key, one, layer) for key, one in said if isinstance(one, DutyEntry)},
        permissions={
            key: _permission(key, one, layer)
            for key, one in said
            if isinstance(one, PermissionEntry)
        },
        silent={key: _source(one) for key, one in said if one.bind == NO_LIMIT},
        text=rules.text,
        rules=rules,
    )


def _limit(key: str, entry: LimitEntry, layer: str) -> Limit:
    if entry.value is None or entry.unit is None or entry.op is None:
        message = f"{key} of {layer} was let through half given"
        raise AssertionError(message)
    unit, dimension = _UNITS[entry.unit]
    value = entry.value
    written = f"{entry.value:g}" + (f" {entry.unit}" if entry.unit not in _PLAIN else "")
    if dimension is not None:
        value = parse(written, dimension).value
    quantity = Quantity(
        symbol="limit",
        label=rule_keys()[key].label,
        value=value,
        unit=unit,
        source=_source(entry),
        written=written,
    )
    return Limit(
        key=key,
        layer=layer,
        approver=entry.approver or "",
        relation=entry.op,
        quantity=quantity,
    )


def _duty(key: str, entry: DutyEntry, layer: str) -> Duty:
    return Duty(
        key=key,
        layer=layer,
        approver=entry.approver or "",
        need=entry.need,
        text=entry.text,
        source=_source(entry),
    )


def _permission(key: str, entry: PermissionEntry, layer: str) -> Permission:
    return Permission(
        key=key,
        layer=layer,
        approver=entry.approver or "",
        allowed=entry.allowed,
        text=entry.text,
        source=_source(entry),
    )


def _source(entry: LimitEntry | DutyEntry | PermissionEntry) -> Source:
    return Source(
        mark=entry.mark,
        document=entry.document or "",
        clause=entry.clause or "",
        bind=None if entry.bind == NO_LIMIT else Bind(entry.bind),
        note=entry.note or "",
    )
