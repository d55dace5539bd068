"""Site, profile and day in; every finding, timeline and the status out."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from datetime import date

from planbuilder import __version__
from planbuilder.checks import CHECKS, RULES
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene
from planbuilder.checks.timing.timeline import Timeline, timeline
from planbuilder.defaults import Defaults, tool_defaults
from planbuilder.errors import FileProblemsError, Problem
from planbuilder.findings import Finding, Verdict, Weight
from planbuilder.limits import Limits, limits_for, profile_ids
from planbuilder.site.file import Override, Site
from planbuilder.site.load import SiteFile
from planbuilder.units import QuantityError

READY, NOT_READY = "READY FOR REVIEW", "NOT READY"
_WEIGHT_ORDER = tuple(Weight)
_VERDICT_ORDER = tuple(Verdict)


@dataclass(frozen=True, slots=True)
class SpacePlan:
    """What was found out about one space."""

    scene: Scene
    findings: tuple[Finding, ...]
    timelines: tuple[Timeline, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """A site worked out under one profile on one day."""

    site: Site
    text: str
    limits: Limits
    defaults: Defaults
    on: date
    spaces: tuple[SpacePlan, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding, worst first: blocking ones, then by weight, verdict and place."""
        everything = [one for space in self.spaces for one in space.findings]
        return tuple(sorted(everything, key=_worst_first))

    @property
    def blocking(self) -> tuple[Finding, ...]:
        """The findings that keep the plan from being ready."""
        return tuple(one for one in self.findings if one.blocks)

    @property
    def status(self) -> str:
        """READY FOR REVIEW if nothing blocks, else NOT READY. It follows from findings alone."""
        return NOT_READY if self.blocking else READY

    @property
    def content_hash(self) -> str:
        """A fingerprint of the data, rule set, tool and day; the same wherever it is computed."""
        parts = (self.text, self.limits.profile.id, self.limits.profile.version, __version__)
        return hashlib.sha256("\0".join((*parts, self.on.isoformat())).encode()).hexdigest()


def _worst_first(one: Finding) -> tuple[int, int, int, str, str]:
    return (
        0 if one.blocks else 1 if one.open else 2,
        _WEIGHT_ORDER.index(one.weight),
        _VERDICT_ORDER.index(one.verdict),
        one.rule.id,
        one.space or "",
    )


def build_plan(file: SiteFile, *, on: date, profile: str | None = None) -> Plan:
    """Run every check over every space of *file*.

    Raises PlanbuilderError for an unknown profile and FileProblemsError for an override that
    names nothing, or something that nobody may override.
    """
    limits = limits_for(profile or _own_profile(file))
    defaults = _overridden_defaults(file)
    spaces = []
    for space in file.site.space:
        scene = Scene(file.site, space, limits, defaults, on)
        found = [_accepted(scene, one) for check in CHECKS for one in check(scene)]
        times = tuple(timeline(way) for way in scene.ways())
        spaces.append(SpacePlan(scene, tuple(found), times))
    return Plan(file.site, file.text, limits, defaults, on, tuple(spaces))


def _own_profile(file: SiteFile) -> str:
    own = file.site.plan.profile
    if own not in profile_ids():
        text = f'must be one of {", ".join(profile_ids())} (got "{own}")'
        problem = Problem(file.line("plan", "profile"), "plan.profile", text)
        raise FileProblemsError(file.path, [problem])
    return own


def _overridden_defaults(file: SiteFile) -> Defaults:
    defaults, problems = tool_defaults(), []
    weights = {one.id: one.weight for one in RULES}
    for number, override in enumerate(file.site.override):
        text = _problem_with(override, defaults, weights)
        if text is None and override.what in defaults.by_name:
            note = f"{override.reason} ({override.by}, {day_text(override.on)})"
            try:
                defaults = defaults.overridden(override.what, override.value or "", note)
            except QuantityError as error:
                text = f'{error} (got "{override.value}")'
        if text is not None:
            problems.append(Problem(file.line("override", number), f"override[{number + 1}]", text))
    if problems:
        raise FileProblemsError(file.path, problems)
    return defaults


def _problem_with(override: Override, defaults: Defaults, weights: dict[str, Weight]) -> str | None:
    if override.what in defaults.by_name:
        return None if override.value else "needs value, the new value of the default"
    weight = weights.get(override.what)
    if weight is None:
        return f'what must name a default or a rule (got "{override.what}")'
    if weight is Weight.BLOCKS:
        return f'a blocking rule cannot be overridden, only put right (got "{override.what}")'
    return None


def _accepted(scene: Scene, found: Finding) -> Finding:
    for one in scene.site.override:
        if one.what != found.rule.id or one.space not in (None, found.space):
            continue
        if one.on <= scene.on and found.open and not found.blocks:
            words = f"accepted by {one.by} on {day_text(one.on)}: {one.reason}"
            return replace(found, accepted=words)
    return found
