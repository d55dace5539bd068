"""Site, profile and day in; every finding, timeline and the status out."""

from __future__ import annotations

import hashlib
from collections import Counter
from dataclasses import dataclass
from datetime import date

from planbuilder import __version__
from planbuilder.checks import CHECKS
from planbuilder.checks.scene import Scene
from planbuilder.checks.timing.timeline import Timeline, timeline
from planbuilder.defaults import Defaults
from planbuilder.errors import FileProblemsError, PlanbuilderError, Problem
from planbuilder.findings import Finding, Verdict, Weight
from planbuilder.limits import Limits, limits_for
from planbuilder.overrides import accepted, overridden_defaults
from planbuilder.profiles.profile import profile_ids
from planbuilder.site.file import Site
from planbuilder.site.load import SiteFile

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
        """Every finding in order of repair.

        Blocking ones first, then by weight; among those what unlocks most, by how many open
        findings wait for one of the same keys; then what runs out first; then by verdict, rule
        and place.
        """
        everything = [one for space in self.spaces for one in space.findings]
        waiting = Counter(key for one in everything if one.open for key in set(one.keys))

        def order(one: Finding) -> tuple[int, int, int, date, int, str, str]:
            unlocks = max((waiting[key] for key in one.keys), default=0) if one.open else 0
            return (
                0 if one.blocks else 1 if one.open else 2,
                _WEIGHT_ORDER.index(one.weight),
                -unlocks,
                one.due or date.max,
                _VERDICT_ORDER.index(one.verdict),
                one.rule.id,
                one.space or "",
            )

        return tuple(sorted(everything, key=order))

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
        rules = [part for one in self.limits.layers for part in (one.id, one.version, one.text)]
        parts = (self.text, *rules, __version__, self.on.isoformat())
        return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def build_plan(file: SiteFile, *, on: date, profile: str | None = None) -> Plan:
    """Run every check over every space of *file*.

    Raises PlanbuilderError for an unknown profile and FileProblemsError for an override that
    names nothing, or something that nobody may override.
    """
    limits = _limits(file, profile or _own_profile(file))
    defaults = overridden_defaults(file)
    spaces = []
    for space in file.site.space:
        scene = Scene(file.site, space, limits, defaults, on)
        found = [accepted(scene, one) for check in CHECKS for one in check(scene)]
        times = tuple(timeline(way) for way in scene.ways())
        spaces.append(SpacePlan(scene, tuple(found), times))
    return Plan(file.site, file.text, limits, defaults, on, tuple(spaces))


def _limits(file: SiteFile, profile: str) -> Limits:
    """Profile and overlays; what is wrong with the name of an overlay stands in the site file."""
    overlays = file.site.plan.overlays
    if not overlays:
        return limits_for(profile)
    try:
        return limits_for(profile, overlays, beside=file.path.parent)
    except FileProblemsError:
        raise
    except PlanbuilderError as error:
        problem = Problem(file.line("plan", "overlays"), "plan.overlays", str(error))
        raise FileProblemsError(file.path, [problem]) from error


def _own_profile(file: SiteFile) -> str:
    own = file.site.plan.profile
    if own not in profile_ids():
        text = f'must be one of {", ".join(profile_ids())} (got "{own}")'
        problem = Problem(file.line("plan", "profile"), "plan.profile", text)
        raise FileProblemsError(file.path, [problem])
    return own
