"""The limit that applies: the strictest of code profile and tool default, with its winner."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Any

from planbuilder.errors import PlanbuilderError
from planbuilder.findings import Bind, Mark, Quantity, Relation, Source, Unit
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
    "count": (Unit.COUNT, None),
    "1": (Unit.RATIO, None),
}
TOOL_LAYER = "tool"
_NOT_LIMITS = frozenset(("profile", "scope", "terms", "text"))


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that a result is held against, and the layer it comes from."""

    key: str
    relation: Relation
    quantity: Quantity
    layer: str

    def stricter_than(self, other: Limit) -> bool:
        """True if whatever meets this limit meets *other*, and not the other way round."""
        mine, theirs = self.quantity.value, other.quantity.value
        return mine < theirs if self.relation.wants_small else mine > theirs


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """A code profile: facts about the rule set, its limits and its duties by key."""

    id: str
    title: str
    version: str
    source_date: str
    units: str
    paper: str
    applies_to: tuple[str, ...]
    excludes: tuple[str, ...]
    entry_routes: tuple[str, ...]
    not_checked: tuple[str, ...]
    approach_tables: tuple[str, ...] = ()
    consult_tables: tuple[str, ...] = ()
    limits: Mapping[str, Limit]
    duties: Mapping[str, Source]

    @property
    def recalled(self) -> int:
        """How many limits and duties have not been confirmed against a text."""
        marks = [one.quantity.source.mark for one in self.limits.values()]
        marks += [one.mark for one in self.duties.values()]
        return sum(mark is Mark.RECALLED for mark in marks)


@dataclass(frozen=True, slots=True)
class Limits:
    """The layers in force, and the strictest limit over them."""

    profile: Profile
    tool: Profile

    @property
    def recalled(self) -> int:
        """How many limits and duties of all layers have not been confirmed against a text."""
        return self.profile.recalled + self.tool.recalled

    def of(self, key: str) -> Limit:
        """The effective limit of *key*; the profile wins a tie. KeyError if no layer has it."""
        ours, theirs = self.tool.limits.get(key), self.profile.limits.get(key)
        if theirs is None or ours is None:
            found = theirs or ours
            if found is None:
                raise KeyError(key)
            return found
        return ours if ours.stricter_than(theirs) else theirs


def profile_ids() -> tuple[str, ...]:
    """The ids of the profiles that are shipped, without the tool's own layer."""
    folder = resources.files("planbuilder.profiles")
    names = (one.name for one in folder.iterdir() if one.name.endswith(".toml"))
    return tuple(sorted({name.removesuffix(".toml") for name in names} - {TOOL_LAYER}))


def limits_for(profile_id: str) -> Limits:
    """The limits of a plan under the profile *profile_id*.

    Raises PlanbuilderError, naming the shipped profiles, when there is none of that id.
    """
    if profile_id not in profile_ids():
        message = f'no profile "{profile_id}"; profiles: {", ".join(profile_ids())}'
        raise PlanbuilderError(message)
    return Limits(load_profile(profile_id), load_profile(TOOL_LAYER))


@functools.cache
def load_profile(profile_id: str) -> Profile:
    """The profile of that id, read once a process."""
    path = resources.files("planbuilder.profiles").joinpath(f"{profile_id}.toml")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    facts, scope = data["profile"], data["scope"]
    entries = [
        (f"{group}.{name}", entry)
        for group, entries in data.items()
        if group not in _NOT_LIMITS
        for name, entry in entries.items()
    ]
    return Profile(
        id=facts["id"],
        title=facts["title"],
        version=facts["version"],
        source_date=facts["source_date"],
        units=facts["units"],
        paper=facts["paper"],
        applies_to=tuple(scope["applies_to"]),
        excludes=tuple(scope["excludes"]),
        entry_routes=tuple(scope["entry_routes"]),
        not_checked=tuple(data["text"]["not_checked"]),
        approach_tables=tuple(scope.get("approach_tables", ())),
        consult_tables=tuple(scope.get("consult_tables", ())),
        limits={key: _limit(key, one, facts["id"]) for key, one in entries if "value" in one},
        duties={key: _source(one) for key, one in entries if "text" in one},
    )


def _limit(key: str, entry: Mapping[str, Any], layer: str) -> Limit:
    unit, dimension = _UNITS[entry["unit"]]
    value = float(entry["value"])
    written = f"{entry['value']:g} {entry['unit']}"
    if dimension is not None:
        value = parse(written, dimension).value
    quantity = Quantity(
        symbol="limit",
        label=entry["label"],
        value=value,
        unit=unit,
        source=_source(entry),
        written=written,
    )
    return Limit(key, Relation(entry["op"]), quantity, layer)


def _source(entry: Mapping[str, Any]) -> Source:
    return Source(
        mark=Mark(entry["mark"]),
        document=entry.get("document", ""),
        clause=entry.get("clause", ""),
        bind=Bind(entry["bind"]),
        note=entry.get("note", ""),
    )
