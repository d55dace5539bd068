"""What applies: the strictest of profile, overlays and tool default for each key, with its winner.

An overlay adds to a profile or tightens it. One that loosens is refused, unless the entry names
who approved that, beside its clause; then it holds, and every plan says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from planbuilder.errors import PlanbuilderError
from planbuilder.profiles.profile import (
    TOOL_LAYER,
    Profile,
    load_profile,
    overlay_ids,
    profile_file,
    profile_ids,
)
from planbuilder.profiles.rule_file import EVERY_PROFILE
from planbuilder.profiles.statements import AnyStatement, Duty, Limit, Permission, Statement
from planbuilder.tables import Document, documents

Said = TypeVar("Said", bound=Statement)


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
    def approach_tables(self) -> tuple[str, ...]:
        """The ids of the tables of approach distances that the layers put in force, each once."""
        return tuple(dict.fromkeys(name for one in self.layers for name in one.approach_tables))

    @property
    def consult_tables(self) -> tuple[str, ...]:
        """The ids of the tables of distances within which an operator is asked, each once."""
        return tuple(dict.fromkeys(name for one in self.layers for name in one.consult_tables))

    @property
    def loosened(self) -> tuple[AnyStatement, ...]:
        """What an overlay loosens in force, with the approver whom it names."""
        return tuple(
            one
            for overlay in self.overlays
            for key, one in overlay.says.items()
            if one.approver and self._holds(key, overlay) and self._loosens(overlay, one)
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
        given = [one.limits.get(key) for one in self.layers]
        found = _strictest(given)
        if found is None or found.binds or not any(one is not None and one.binds for one in given):
            return found
        return replace(found, backed=True)

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

    def _holds(self, key: str, layer: Profile) -> bool:
        found = self.limit(key) or self.duty(key) or self.permission(key)
        return found is not None and found.layer == layer.id


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


def _laid_over(limits: Limits, overlay: Profile) -> Limits:
    """*limits* with one more overlay. FileProblemsError where it does not belong, or loosens."""
    problems = []
    if overlay.overlay_of not in (limits.profile.id, EVERY_PROFILE):
        text = f"must be {limits.profile.id} here, or * (got {overlay.overlay_of or 'no overlay'})"
        problems.append(("profile.overlay_of", text))
    if overlay.id in {one.id for one in limits.layers}:
        problems.append(("profile.id", f"is laid on already (got {overlay.id})"))
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
