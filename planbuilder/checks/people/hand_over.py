"""Medical hand-over: data sheets, what the hospital is told, hospital and landing place."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.hazard import HazardKind

SHEET = Rule(
    "plan/no-data-sheet",
    "Data sheet of each substance, for the hospital",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(4)"),
)
EXPOSURE = Rule(
    "plan/exposure-not-told",
    "What the hospital is told of the exposure",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="treatment depends on the substance, its level and the time"),
)
HOSPITAL = Rule(
    "plan/no-hospital",
    "Hospital named",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="where the casualty goes, and how far that is"),
)
LANDING = Rule(
    "plan/no-landing-place",
    "Landing place for aircraft named",
    Weight.NOTES,
    Source(mark=Mark.CHOICE, note="or said that there is none"),
)
_CHEMICAL = (
    HazardKind.INERT_GAS,
    HazardKind.HYDROGEN_SULFIDE,
    HazardKind.CARBON_MONOXIDE,
    HazardKind.FLAMMABLE,
    HazardKind.OTHER_TOXIC,
)


def check_substances(scene: Scene) -> Iterator[Finding]:
    """Each substance has a sheet to go with the casualty, and words for the exposure."""
    asked = (
        (SHEET, "sheet", "Get the data sheet, say where it lies at the site, and state sheet."),
        (
            EXPOSURE,
            "tell_hospital",
            "Say what the medic tells: substance, highest reading, minutes in it, air given since "
            "when; state tell_hospital.",
        ),
    )
    for hazard in scene.space.hazard:
        if hazard.kind not in _CHEMICAL:
            continue
        name = hazard.substance or hazard.kind.replace("-", " ")
        for rule, key, settle_by in asked:
            said = getattr(hazard, key)
            outcome = Stated(holds=True, because=said) if said else None
            yield finding(
                rule,
                outcome or Missing(because=f"{name}: not stated"),
                settle_by=settle_by,
                keys=(scene.key(f"hazard.{hazard.kind}.{key}"),),
                space=scene.space,
                about=name,
            )


def check_hospital(scene: Scene) -> Iterator[Finding]:
    """The plan says where the casualty goes, by road and by air."""
    site = scene.site.site
    for rule, key, said, settle_by in (
        (HOSPITAL, "hospital", site.hospital, "Name the hospital and the way to it."),
        (LANDING, "landing_place", site.landing_place, "Name a landing place, or say none near."),
    ):
        outcome = Stated(holds=True, because=said) if said else None
        yield finding(
            rule,
            outcome or Missing(because="not stated"),
            settle_by=settle_by,
            keys=(f"site.{key}",),
            space=scene.space,
        )
