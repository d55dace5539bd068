"""What applies: the strictest of profile, overlays and tool default for each key, with its winner.

An overlay adds to a profile or tightens it. One that loosens is refused, unless the entry names
who approved that, beside its clause; then it holds, and every plan says so.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import TypeVar

from planbuilder.errors import PlanbuilderError
from planbuilder.findings import Bind, Mark, Quantity, Relation, Source, Unit
from planbuilder.profiles.rule_file import (
    EVERY_PROFILE,
    NO_LIMIT,
    DutyEntry,
    LimitEntry,
    Need,
    PermissionEntry,
    RuleFile,
    read_rules,
    rule_keys,
)
from planbuilder.site.outside import WorkKind
from planbuilder.tables import Document, documents
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
TOOL_LAYER = "tool"
LARGEST_RULES_BYTES = 200_000
_NEEDS = tuple(Need)
_BINDS = tuple(Bind)
_BINDING = (Bind.LAW, Bind.ACOP, Bind.HOST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """What a layer says under a key. *approver* answers for it where it loosens a layer below."""

    key: str
    layer: str
    approver: str = ""

    @property
    def strictness(self) -> tuple[float, ...]:
        """Orders what layers say under one key, the strictest first."""
        raise NotImplementedError

    def stricter_than(self, other: Statement) -> bool:
        """True if whatever meets this meets *other*, and not the other way round."""
        return self.strictness < other.strictness


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Statement):
    """A number that a result is held against."""

    relation: Relation
    quantity: Quantity

    @property
    def strictness(self) -> tuple[float, ...]:
        """By the number; of two equal ones that is stricter which the number itself fails."""
        value = self.quantity.value
        is_open = self.relation in (Relation.LESS_THAN, Relation.MORE_THAN)
        return (value if self.relation.wants_small else -value, not is_open)

    @property
    def source(self) -> Source:
        """Where the number comes from."""
        return self.quantity.source

    @property
    def binds(self) -> bool:
        """True where law, a code that law stands behind, or the host sets the number."""
        return self.source.bind in _BINDING

    @property
    def words(self) -> str:
        """In short."""
        return f"{self.relation} {self.quantity.written}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Duty(Statement):
    """Something that a layer asks for, how firmly, and in whose words."""

    need: Need
    text: str
    source: Source

    @property
    def binds(self) -> bool:
        """True where it must be done: by law, by a code that law stands behind, or by the host."""
        return self.need is Need.REQUIRED and self.source.bind in _BINDING

    @property
    def strictness(self) -> tuple[float, ...]:
        """By how firmly it is asked for, then by what binds."""
        bind = _BINDS.index(self.source.bind) if self.source.bind else len(_BINDS)
        return (_NEEDS.index(self.need), bind)

    @property
    def words(self) -> str:
        """In short."""
        return self.need.replace("-", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Permission(Statement):
    """Something that a layer allows, or does not."""

    allowed: bool
    text: str
    source: Source

    @property
    def strictness(self) -> tuple[float, ...]:
        """What is not allowed is stricter."""
        return (self.allowed,)

    @property
    def words(self) -> str:
        """In short."""
        return "allowed" if self.allowed else "not allowed"


AnyStatement = Limit | Duty | Permission
Said = TypeVar("Said", bound=Statement)


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


@dataclass(frozen=True, slots=True)
class Limits:
    """The layers in force, and the strictest statement over them."""

    profile: Profile
    tool: Profile
    overlays: tuple[Profile, ...] = ()

    @property
    def layers(self) -> tuple[Profile, ...]:
        """Profile, overlays and the tool's own layer."""
        return (self.profile, *self.overlays, self.tool)

    @property
    def recalled(self) -> int:
        """How many entries of all layers have not been confirmed against a text."""
        return sum(one.recalled for one in self.layers)

    @property
    def documents(self) -> dict[str, Document]:
        """Every document that a layer may cite, by id."""
        return documents() | {one.id: one for layer in self.layers for one in layer.documents}

    @property
    def loosened(self) -> tuple[AnyStatement, ...]:
        """What an overlay loosens in force, with the approver whom it names."""
        return tuple(
            one
            for overlay in self.overlays
            for key, one in overlay.says.items()
            if one.approver and self._in_force(key) is one and self._loosens(overlay, one)
        )

    @property
    def own_files(self) -> tuple[tuple[str, str], ...]:
        """Name and text of each overlay that does not ship with the tool."""
        own = (one for one in self.overlays if one.id not in overlay_ids())
        return tuple((one.rules.path.name, one.text) for one in own)

    def of(self, key: str) -> Limit:
        """The effective limit of *key*; the profile wins a tie. KeyError if no layer has it."""
        found = self.limit(key)
        if found is None:
            raise KeyError(key)
        return found

    def limit(self, key: str) -> Limit | None:
        """The effective limit of *key*, or None where no layer sets a number."""
        return _strictest([one.limits.get(key) for one in self.layers])

    def duty(self, key: str) -> Duty | None:
        """The firmest duty of *key*; None where no layer states it, which is not "no"."""
        return _strictest([one.duties.get(key) for one in self.layers])

    def permission(self, key: str) -> Permission | None:
        """What is allowed under *key*; None where no layer states it."""
        return _strictest([one.permissions.get(key) for one in self.layers])

    def clause(self, element: str) -> str:
        """Where the rule sets ask for the plan element of that id, such as A15."""
        found = [one.clauses[element] for one in self.layers if element in one.clauses]
        return "; ".join(dict.fromkeys(found))

    def _loosens(self, overlay: Profile, one: Statement) -> bool:
        below = (layer.says.get(one.key) for layer in self.layers if layer is not overlay)
        return any(under is not None and under.stricter_than(one) for under in below)

    def _in_force(self, key: str) -> AnyStatement | None:
        return self.limit(key) or self.duty(key) or self.permission(key)


def _strictest(layers: Sequence[Said | None]) -> Said | None:
    """The strictest of what *layers* say, the tool's own last; the first of equals.

    What an overlay loosens with an approver sets aside whatever lies below it, and our own choice.
    """
    *given, ours = layers
    found: Said | None = None
    for one in given:
        if one is not None and (found is None or one.approver or one.stricter_than(found)):
            found = one
    if ours is None or (found is not None and found.approver):
        return found
    return ours if found is None or ours.stricter_than(found) else found


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


def limits_for(
    profile_id: str, overlays: Iterable[str] = (), *, beside: Path | None = None
) -> Limits:
    """The limits of a plan under the profile *profile_id* with its *overlays*.

    An overlay is the id of a shipped one, or the name of a TOML file in the folder *beside*.
    Raises PlanbuilderError for one that is not there, does not belong to the profile, or loosens
    without an approver.
    """
    if profile_id not in profile_ids():
        message = f'no profile "{profile_id}"; profiles: {", ".join(profile_ids())}'
        raise PlanbuilderError(message)
    limits = Limits(load_profile(profile_id), load_profile(TOOL_LAYER))
    for name in overlays:
        limits = _laid_over(limits, _overlay(name, beside))
    return limits


def _overlay(name: str, beside: Path | None) -> Profile:
    if name in overlay_ids():
        return load_profile(name)
    if beside is None or not name.endswith(".toml") or Path(name).name != name:
        message = (
            f'no overlay "{name}"; overlays: {", ".join(overlay_ids())}, or the name of a TOML '
            "file beside the site file"
        )
        raise PlanbuilderError(message)
    return profile_file(beside / name)


def profile_file(path: Path) -> Profile:
    """The rule set in a file of the user's.

    Raises PlanbuilderError where it cannot be read, and FileProblemsError for what is wrong in it.
    """
    try:
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
    return _profile(read_rules(path, text))


def _laid_over(limits: Limits, overlay: Profile) -> Limits:
    """*limits* with one more overlay. FileProblemsError where it does not belong, or loosens."""
    problems = []
    if overlay.overlay_of not in (limits.profile.id, EVERY_PROFILE):
        text = f"must be {limits.profile.id} here, or * (got {overlay.overlay_of or 'no overlay'})"
        problems.append(("profile.overlay_of", text))
    for key, one in overlay.says.items():
        below = [layer.says.get(key) for layer in (limits.profile, *limits.overlays)]
        for under in below:
            if under is None or one.approver or not under.stricter_than(one):
                continue
            text = (
                f"loosens what {under.layer} says ({under.words}, here {one.words}): an overlay "
                "may only tighten, unless approver names who answers for it"
            )
            problems.append((key, text))
    overlay.rules.refuse(problems)
    return Limits(limits.profile, limits.tool, (*limits.overlays, overlay))


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
    written = f"{entry.value:g} {entry.unit}"
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
