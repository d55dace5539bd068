"""Under which route people go in, whether the hazards allow it, and who decided that."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.hazard import Hazard, HazardKind

ROUTE = Rule(
    "plan/entry-route-unknown",
    "Entry route that the rule set knows",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="what must be done hangs on the route"),
)
ALTERNATE = Rule(
    "plan/alternate-route-hazard",
    "Alternate route: the air is the only hazard, and ventilation alone holds it",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(c)(5)(i)(A)-(B)"),
)
RECLASSIFIED = Rule(
    "plan/reclassified-hazard",
    "Reclassified space: no hazard is left",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(c)(7)"),
)
DECIDED = Rule(
    "plan/assessment-not-signed",
    "Who decided on hazards, class and entry route, and when",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="somebody answers for the decision"),
)
_ALTERNATE, _RECLASSIFIED = "alternate", "reclassified"
_AIR = frozenset(
    (
        HazardKind.OXYGEN,
        HazardKind.INERT_GAS,
        HazardKind.HYDROGEN_SULFIDE,
        HazardKind.CARBON_MONOXIDE,
        HazardKind.FLAMMABLE,
        HazardKind.DUST,
    )
)
_OF_THE_PERSON = frozenset((HazardKind.COLLAPSE,))  # people bring it along into any space


def _takes(scene: Scene, route: str) -> bool:
    """Whether the space is entered by that route; a rule set may add its clause to the word."""
    return scene.space.is_confined and scene.space.entry_route.startswith(route)


def _names(hazards: list[Hazard]) -> str:
    return ", ".join(one.kind.replace("-", " ") for one in hazards)


def check_route(scene: Scene) -> Iterator[Finding]:
    """The route is one of those that the rule sets in force know."""
    known = [route for one in scene.limits.layers for route in one.entry_routes]
    if not scene.space.is_confined or not known:
        return
    route = scene.space.entry_route
    yield finding(
        ROUTE,
        Stated(holds=route in known, because=f"{route}; known here: {', '.join(known)}"),
        settle_by=f"State one of: {', '.join(known)}.",
        keys=(scene.key("entry_route"),),
        space=scene.space,
    )


def check_alternate(scene: Scene) -> Iterator[Finding]:
    """By the alternate route nothing but the air may hurt, and a blower keeps it good."""
    if not _takes(scene, _ALTERNATE):
        return
    duty = scene.limits.duty("entry.alternate_air_only")
    fits = _AIR | _OF_THE_PERSON
    other = [one for one in scene.space.hazard if one.kind not in fits]
    words = f"{scene.space.entry_route}: {duty.text if duty else 'the air is the only hazard'}"
    outcome: Stated | Missing = Stated(holds=True, because=words)
    if other:
        outcome = Stated(holds=False, because=f"hazards besides the air: {_names(other)}")
    elif scene.space.ventilation is None:
        outcome = Missing(because="the ventilation that holds the air is not stated")
    yield finding(
        ALTERNATE,
        outcome,
        settle_by="Enter under a full permit, or take the other hazards away and state the "
        "ventilation.",
        keys=(scene.key("entry_route"), scene.key("hazard"), scene.key("ventilation")),
        space=scene.space,
        duty=duty,
    )


def check_reclassified(scene: Scene) -> Iterator[Finding]:
    """A space is reclassified only when each hazard is gone; held down is not gone."""
    if not _takes(scene, _RECLASSIFIED):
        return
    asked = [one for one in scene.space.hazard if one.kind not in _OF_THE_PERSON]
    left = [one for one in asked if one.kind in _AIR or one.eliminated is False]
    unsaid = [one for one in asked if one.eliminated is None]
    outcome: Stated | Missing = Stated(holds=True, because="every hazard is eliminated")
    if left:
        outcome = Stated(holds=False, because=f"hazards left: {_names(left)}")
    elif unsaid:
        outcome = Missing(because=f"not said whether it is eliminated: {_names(unsaid)}")
    yield finding(
        RECLASSIFIED,
        outcome,
        settle_by="Enter under a full permit; or state eliminated = true for each hazard that is "
        "gone. Air that ventilation keeps good is a hazard held down, not one that is gone.",
        keys=(scene.key("hazard.eliminated"), scene.key("entry_route")),
        space=scene.space,
        duty=scene.limits.duty("entry.reclassified_clear"),
    )


def check_decided(scene: Scene) -> Iterator[Finding]:
    """Somebody put name and day to it, most of all where it spares a full permit."""
    by, on = scene.space.assessed_by, scene.space.assessed_on
    outcome: Stated | Missing
    if by and on:
        outcome = Stated(holds=on <= scene.on, because=f"by {by}, {day_text(on)}")
    else:
        lacking = [word for word, one in (("name", by), ("day", on)) if one is None]
        outcome = Missing(because=f"not stated: {' and '.join(lacking)}")
    spared = _takes(scene, _ALTERNATE) or _takes(scene, _RECLASSIFIED)
    yield finding(
        DECIDED,
        outcome,
        settle_by="State assessed_by and assessed_on, once it is done.",
        keys=(scene.key("assessed_by"), scene.key("assessed_on")),
        space=scene.space,
        duty=scene.limits.duty(f"entry.{'decision' if spared else 'assessment'}_signed"),
    )
