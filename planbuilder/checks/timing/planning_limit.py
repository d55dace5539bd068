"""The planning limit itself: who must own it, and what can never make it longer."""

from __future__ import annotations

import re
from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Working, finding, output
from planbuilder.checks.timing.hazards import fastest, governing, scene_limit
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.classes import IDLH_HYDROGEN_SULFIDE_FRACTION, PlanningClass
from planbuilder.response.oxygen import DEFER_ABOVE_M
from planbuilder.site.hazard import HazardKind, Suspended

DEFERRED = Rule(
    "response/limit-needs-competent-person",
    "A limit that no figure covers, accepted by a named person",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="mixed gases, height, load over time: beyond planning classes"),
)
IDLH = Rule(
    "response/idlh-is-no-allowance",
    "The planning limit is never longer than the hazard leaves",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="IDLH is a value for escape, no allowance of 30 minutes"),
)
CONTINUOUS = Rule(
    "response/contact-not-continuous",
    "Contact without a break where harm takes seconds or minutes",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a check now and then uses up the limit by itself"),
)
_GASES = (
    HazardKind.OXYGEN,
    HazardKind.INERT_GAS,
    HazardKind.HYDROGEN_SULFIDE,
    HazardKind.CARBON_MONOXIDE,
    HazardKind.FLAMMABLE,
    HazardKind.OTHER_TOXIC,
)
_ESCAPE = re.compile(r"\bIDLH\b|immediately dangerous", re.IGNORECASE)


def check_limit_deferred(scene: Scene) -> Iterator[Finding]:
    """Where the figures of this tool end, a named person has accepted the limit."""
    reasons = _beyond(scene)
    if not reasons:
        return
    rescue, why = scene.space.rescue, "; ".join(reasons)
    outcome: Stated | Missing = Missing(because=f"nobody accepted the limit, for: {why}")
    if rescue.limit_accepted_by and rescue.limit_accepted_on:
        on = rescue.limit_accepted_on
        words = f"{why}: accepted by {rescue.limit_accepted_by} on {day_text(on)}"
        outcome = Stated(holds=on <= scene.on, because=words)
    yield finding(
        DEFERRED,
        outcome,
        settle_by="Have a competent person set or accept the planning limit for this; state "
        "limit_accepted_by and limit_accepted_on.",
        keys=(scene.key("rescue.limit_accepted_by"), scene.key("rescue.limit_accepted_on")),
        space=scene.space,
    )


def _beyond(scene: Scene) -> list[str]:
    """Why no figure of this tool decides alone here."""
    hazards, altitude = scene.space.hazard, scene.site.site.altitude
    gases = list(dict.fromkeys(one.kind for one in hazards if one.kind in _GASES))
    reasons = [one.replace("-", " ") for one in scene.space.rescue.special]
    if len(gases) > 1:
        reasons.append("mixed gases: " + ", ".join(one.replace("-", " ") for one in gases))
    if altitude is not None and altitude.m > DEFER_ABOVE_M:
        reasons.append(f"{altitude.written} above the sea")
    if altitude is None and any(one.kind is HazardKind.OXYGEN for one in hazards):
        reasons.append("oxygen at an altitude that is not stated")
    for one in hazards:
        if one.kind is HazardKind.OTHER_TOXIC:
            reasons.append(f"{one.substance or 'a toxic gas'}, for which this tool has no figure")
        if one.kind is HazardKind.CARBON_MONOXIDE and one.level is not None:
            reasons.append("load of carbon monoxide worked out over time")
        if (
            one.kind is HazardKind.HYDROGEN_SULFIDE
            and one.level is not None
            and one.level.ratio < IDLH_HYDROGEN_SULFIDE_FRACTION
        ):
            reasons.append("load of hydrogen sulfide worked out over time")
        if one.suspended is Suspended.MOVING_LEGS:
            reasons.append("suspended casualty counted on to move the legs")
    return reasons


def check_idlh(scene: Scene) -> Iterator[Finding]:
    """An own limit is stricter than that of the hazard, and not taken from an escape value."""
    rescue, worst = scene.space.rescue, governing(scene)
    if rescue.air_limit is None and rescue.limit_because is None:
        return
    outcome: Compared | Stated
    if rescue.limit_because and _ESCAPE.search(rescue.limit_because):
        words = f"the limit rests on a value for escape: {rescue.limit_because}"
        outcome = Stated(holds=False, because=words)
    elif rescue.air_limit is not None:
        own = scene.given("L_own", "limit", rescue.air_limit, Unit.S, "rescue.air_limit")
        label = f"planning limit for {worst.hazard.kind.replace('-', ' ')}"
        outcome = Working(own.value, "L_own", (own,)).against(
            Relation.AT_MOST,
            scene_limit(worst.limit_s, worst.source, label),
            result=output("L", "planning limit of the site", Unit.S),
        )
    else:
        outcome = Stated(holds=True, because=f"{rescue.limit_because}")
    yield finding(
        IDLH,
        outcome,
        settle_by="Leave the limit out, or state one no longer than the hazard leaves. IDLH is "
        "the level that one may escape from; it allows no time for rescue.",
        keys=(scene.key("rescue.air_limit"), scene.key("rescue.limit_because")),
        space=scene.space,
    )


def check_contact_continuous(scene: Scene) -> Iterator[Finding]:
    """Where harm takes seconds or minutes, the attendant never loses contact."""
    worst, contact = fastest(scene), scene.space.contact
    if worst.planning_class > PlanningClass.MINUTES:
        return
    hazard = worst.hazard.kind.replace("-", " ")
    outcome: Stated | Missing = Missing(because=f"{hazard}: continuous contact is not stated")
    if contact.continuous or contact.check_interval is not None:
        how = "without a break" if contact.continuous else "by checks now and then only"
        words = f"{hazard}: contact is kept {how}"
        outcome = Stated(holds=contact.continuous, because=words)
    yield finding(
        CONTINUOUS,
        outcome,
        settle_by="Keep voice, sight, line tension or a motion alarm all the time, and state "
        "continuous = true.",
        keys=(scene.key("contact.continuous"),),
        space=scene.space,
    )
