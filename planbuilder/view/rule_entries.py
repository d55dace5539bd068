"""Rule sets to be looked at: what holds under each key of a profile with its overlays."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from planbuilder.errors import PlanbuilderError
from planbuilder.findings import Mark, Source
from planbuilder.limits import Limits, limits_for
from planbuilder.profiles.profile import Profile, load_profile, overlay_ids, profile_ids
from planbuilder.profiles.rule_file import EVERY_PROFILE, rule_keys
from planbuilder.profiles.statements import AnyStatement, Duty, Limit

Kind = Literal["limit", "duty", "permission", "silent"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What a rule set says under one key, and which layer of it says so.

    *silent* is where a layer says that it sets no number, though another one does.
    """

    key: str
    label: str
    kind: Kind
    layer: str
    words: str
    source: Source
    text: str = ""
    approver: str = ""
    value: float | None = None
    unit: str = ""
    silent: Source | None = None

    @property
    def is_recalled(self) -> bool:
        """True where it was not confirmed against a text."""
        known = (self.source, self.silent)
        return any(one.mark is Mark.RECALLED for one in known if one)

    @property
    def compared(self) -> tuple[object, ...]:
        """What makes it another than one of another rule set: what is asked, and what binds."""
        value = None if self.value is None else round(self.value, 9)
        asked = self.words.split(" ", 1)[0] if self.value is not None else self.words
        return (asked, value, self.source.bind)


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """A profile with the overlays laid on it, or an overlay by itself."""

    name: str
    facts: Profile
    overlays: tuple[str, ...]
    not_checked: tuple[str, ...]
    clauses: Mapping[str, str]
    entries: Mapping[str, Entry]

    @property
    def title(self) -> str:
        """Its name and title."""
        return f"{self.name}: {self.facts.title}"

    @property
    def recalled(self) -> int:
        """How many of its entries have not been confirmed against a text."""
        return sum(one.is_recalled for one in self.entries.values())


def every_rule_set() -> tuple[RuleSet, ...]:
    """Each shipped profile and overlay by itself: what its own file says."""
    return tuple(by_itself(load_profile(name)) for name in (*profile_ids(), *overlay_ids()))


def chosen(ids: Sequence[str], overlays: Sequence[str], beside: Path) -> tuple[RuleSet, ...]:
    """The rule sets *ids*, each with *overlays* laid on.

    An overlay is shown by itself where it is alone; beside others it is laid on its own profile.
    An overlay of a file of the user's lies in the folder *beside*. Raises PlanbuilderError for an
    id that is not there, and for an overlay that does not fit.
    """
    if len(ids) == 1 and ids[0] in overlay_ids() and not overlays:
        return (by_itself(load_profile(ids[0])),)
    return tuple(_in_force(name, overlays, beside) for name in ids)


def _in_force(name: str, overlays: Sequence[str], beside: Path) -> RuleSet:
    if name not in overlay_ids():
        return laid(limits_for(name, overlays, beside=beside), name, overlays)
    base = load_profile(name).overlay_of
    if base == EVERY_PROFILE:
        message = f"{name} is laid over a profile: name the profile, and --with {name}"
        raise PlanbuilderError(message)
    over = (name, *overlays)
    return laid(limits_for(base, over, beside=beside), f"{base} + {name}", over)


def by_itself(profile: Profile) -> RuleSet:
    """What the file of *profile* says, and nothing else."""
    said = (profile.says.get(key) for key in rule_keys())
    return _rule_set(profile, profile.id, (), [one for one in said if one], (profile,))


def laid(limits: Limits, name: str, overlays: Iterable[str]) -> RuleSet:
    """What holds over all layers of *limits*, the tool's own included."""
    found = [limits.limit(k) or limits.duty(k) or limits.permission(k) for k in rule_keys()]
    given = (limits.profile, *limits.overlays)
    return _rule_set(limits.profile, name, tuple(overlays), [one for one in found if one], given)


def _rule_set(
    facts: Profile,
    name: str,
    overlays: tuple[str, ...],
    said: Iterable[AnyStatement],
    layers: Sequence[Profile],
) -> RuleSet:
    entries = {one.key: _entry(one) for one in said}
    for layer in layers:
        for key, source in layer.silent.items():
            said_all_the_same = entries.get(key)
            entries[key] = (
                replace(said_all_the_same, silent=source)
                if said_all_the_same
                else _no_number(key, layer.id, source)
            )
    return RuleSet(
        name=name,
        facts=facts,
        overlays=overlays,
        not_checked=tuple(dict.fromkeys(text for one in layers for text in one.not_checked)),
        clauses=_joined([one.clauses for one in layers]),
        entries={key: entries[key] for key in rule_keys() if key in entries},
    )


def _joined(clauses: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """Where all layers ask for each element of a plan."""
    texts: dict[str, list[str]] = {}
    for layer in clauses:
        for element, text in layer.items():
            texts.setdefault(element, []).append(text)
    return {one: "; ".join(dict.fromkeys(texts[one])) for one in sorted(texts)}


def _entry(one: AnyStatement) -> Entry:
    return Entry(
        key=one.key,
        label=rule_keys()[one.key].label,
        kind="limit"
        if isinstance(one, Limit)
        else "duty"
        if isinstance(one, Duty)
        else "permission",
        layer=one.layer,
        words=one.words,
        source=one.source,
        text="" if isinstance(one, Limit) else one.text,
        approver=one.approver,
        value=one.quantity.value if isinstance(one, Limit) else None,
        unit=one.quantity.unit if isinstance(one, Limit) else "",
    )


def _no_number(key: str, layer: str, source: Source) -> Entry:
    label = rule_keys()[key].label
    return Entry(key=key, label=label, kind="silent", layer=layer, words="no number", source=source)


def differs(key: str, sets: Sequence[RuleSet]) -> bool:
    """True where *sets* do not all say the same under *key*."""
    found = [one.entries.get(key) for one in sets]
    return len({one.compared if one else None for one in found}) > 1
