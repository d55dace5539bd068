"""What named people decide: a default changed, a finding accepted, each with reason and date."""

from __future__ import annotations

from dataclasses import replace

from planbuilder.checks import RULES
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene
from planbuilder.defaults import Defaults, tool_defaults
from planbuilder.errors import FileProblemsError, Problem
from planbuilder.findings import Finding, Rule, Verdict, Weight
from planbuilder.site.file import Override, PlanFacts
from planbuilder.site.load import SiteFile
from planbuilder.units import QuantityError


def overridden_defaults(file: SiteFile) -> Defaults:
    """The tool's defaults with those that the site file changes.

    Raises FileProblemsError for an override that names nothing, or something that nobody may
    override.
    """
    defaults, problems = tool_defaults(), []
    rules = {one.id: one for one in RULES}
    for number, override in enumerate(file.site.override):
        text = _problem_with(override, defaults, rules, file.site.plan)
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


def _problem_with(
    override: Override, defaults: Defaults, rules: dict[str, Rule], facts: PlanFacts
) -> str | None:
    if override.what in defaults.by_name:
        return None if override.value else "needs value, the new value of the default"
    rule = rules.get(override.what)
    if rule is None:
        return f'what must name a default or a rule (got "{override.what}")'
    return _problem_with_accepting(override, rule, facts)


def _problem_with_accepting(override: Override, rule: Rule, facts: PlanFacts) -> str | None:
    if override.value is not None:
        return f'value is for a default; a finding is accepted without one (got "{override.value}")'
    if rule.weight is not Weight.BLOCKS:
        return None
    if not rule.judged:
        return f'a blocking rule cannot be overridden, only put right (got "{override.what}")'
    if override.by != facts.competent_person:
        return (
            f"by must be plan.competent_person ({facts.competent_person}): only the competent "
            f'person decides on {override.what} (got "{override.by}")'
        )
    return None


def accepted(scene: Scene, found: Finding) -> Finding:
    """*found*, with who accepted it where somebody did and may.

    What is not known is never accepted where it blocks, and neither is a blocking finding of a
    rule that leaves nothing to judge.
    """
    for one in scene.site.override:
        is_past = one.on <= scene.on
        if not is_past or one.what != found.rule.id or one.space not in (None, found.space):
            continue
        if not found.open:
            return found
        if found.blocks and not _may_be_judged(found):
            words = f"{found.settle_by} It blocks here: the override by {one.by} does not count."
            return replace(found, settle_by=words)
        words = f"accepted by {one.by} on {day_text(one.on)}: {one.reason}"
        return replace(found, accepted=words)
    return found


def _may_be_judged(found: Finding) -> bool:
    """A weight that only the rule set gave leaves nothing to judge either."""
    is_own = found.rule.weight is Weight.BLOCKS and found.rule.judged
    return is_own and found.verdict is not Verdict.UNKNOWN
