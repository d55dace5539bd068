"""What every plan says about its own limits. None of it can be switched off."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.findings import Finding
from planbuilder.plan import Plan

USUAL_CAUTIONS = (
    "Do not enter to help unless you are a named rescuer and relieved of your post.",
    "If contact, alarm, air, ventilation or rescue cover is lost: everybody out.",
    "Test the air again before a rescuer enters; the earlier reading is history.",
    "Never lift people with gear that is in use for goods.",
    "Gear that has held a fall is out of use until a competent person clears it.",
    "Anchors judged on structure, bolts in concrete, walls and horizontal lifelines: engineer to "
    "confirm.",
    "A casualty who may be stuck in sludge, grain or a narrow place is freed first, not pulled.",
    "A number in this plan is a planning figure, not a promise of survival.",
    "Lay the casualty down as medical guidance says, without delay.",
)

_US_LAW = ("CFR", "WAC", "California Title 8")


def short_notice(plan: Plan) -> str:
    """The notice on the cover."""
    count = sum(one.open for one in plan.findings)
    items = "1 open item" if count == 1 else f"{count} open items"
    return (
        f"Checked against {plan.limits.profile.title}; local rules and site rules govern. "
        f"Not a permit. {items}: see Findings."
    )


def long_notice(plan: Plan) -> tuple[tuple[str, str], ...]:
    """The deferral notice, as headed paragraphs."""
    facts, profile = plan.site.plan, plan.limits.profile
    layers = plan.limits.layers
    unchecked = listed_once(*(one.not_checked for one in layers)) or "any other rules"
    return (
        (
            "Local rules come first.",
            f"This plan was checked on {day_text(plan.on)} against the rule set “{profile.title}”, "
            f"version {profile.version} ({profile.source_date}), {overlays_text(plan)}. It was not "
            f"checked against: {unchecked}. If a law, the authority having jurisdiction, the host "
            "employer's site rules or the instructions of an equipment maker ask for more than "
            "this plan, do the stricter thing. If two of them disagree, do not enter; ask "
            f"{facts.competent_person}, {facts.competent_person_phone}.",
        ),
        *([("Citations from elsewhere.", words)] if (words := taken_over(plan)) else []),
        (
            "What this plan is.",
            "A planning document made by software from what named people entered. It is no permit, "
            "no approval and no certificate, and it rates no equipment: marked ratings were taken "
            "as entered. It is no substitute for licensed practice: where a structure, a wall, a "
            "bolt or a horizontal lifeline carries a person, an engineer confirms it.",
        ),
        (
            "Who decided.",
            f"The hazards were entered by {facts.author}. Whether rescue is quick enough for them "
            f"is a decision of people: {_owners(plan)}. {_judged(plan)}",
        ),
        (
            "What is estimated.",
            f"{estimates(plan)} {plan.limits.recalled} limits have not been confirmed "
            "against a text. Defaults and their marks are listed on this page.",
        ),
        (
            "When it stops being valid.",
            f"After {day_text(facts.valid_until)}; when crew, equipment, space or hazards change; "
            "when a test fails, a record runs out or the rescue team is not available; when any "
            "box of the checklist cannot be ticked.",
        ),
    )


def taken_over(plan: Plan) -> str:
    """What a citation of US law means in a plan for another country; "" where it is at home."""
    country = plan.limits.profile.country
    cited = [one.source.document for one in plan.findings]
    if country == "US" or not any(word in one for one in cited for word in _US_LAW):
        return ""
    return (
        "A rule cited from US law (CFR) is not law here: it is this tool's own, taken over from "
        "there, until a rule set names a clause of its own."
    )


def overlays_text(plan: Plan) -> str:
    """The overlays in force, with their versions."""
    if not plan.limits.overlays:
        return "without overlays"
    return "with " + ", ".join(
        f"{one.title}, version {one.version}" for one in plan.limits.overlays
    )


def listed_once(*lists: tuple[str, ...]) -> str:
    """The entries of all *lists*, each once."""
    return ", ".join(dict.fromkeys(one for each in lists for one in each))


def estimates(plan: Plan) -> str:
    """How many of the times were measured in drills, and how many are guesses."""
    steps = [
        step for space in plan.spaces for way in space.scene.ways() for step in way.method.step
    ]
    stated = [one for one in steps if one.computed is None]
    drilled = sum(one.source == "drill" for one in stated)
    computed = len(steps) - len(stated)
    return (
        f"Of {len(steps)} times, {drilled} come from drills, {computed} are computed and "
        f"{len(stated) - drilled} are estimates or published figures, not measured here."
    )


def _owners(plan: Plan) -> str:
    rows = []
    for space in plan.site.space:
        owner = space.rescue.limit_accepted_by
        on = space.rescue.limit_accepted_on
        said = f"{owner} on {day_text(on)}" if owner and on else "NOBODY YET"
        rows.append(f"{space.name}: {said}")
    return "; ".join(rows)


def _judged(plan: Plan) -> str:
    rows = [f"{one.name}: {one.judged_by}" for one in plan.site.support if one.judged_by]
    return f"Anchors answered for: {'; '.join(rows)}." if rows else ""


def accepted(findings: tuple[Finding, ...]) -> int:
    """How many warnings a named person has accepted."""
    return sum(bool(one.accepted) for one in findings)
