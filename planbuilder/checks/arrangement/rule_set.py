"""The rule sets in force: are they of this place, how well known are they, what is loosened."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.standing import WallKind

UNVERIFIED = Rule(
    "plan/profile-unverified",
    "Limits of the profile confirmed against the text",
    Weight.NOTES,
    Source(mark=Mark.CHOICE, note="a limit written from memory says so"),
)
ELSEWHERE = Rule(
    "plan/profile-elsewhere",
    "Rule set of the country and region of the site",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a rule set holds in its own country only"),
)
LOOSENED = Rule(
    "plan/limit-loosened",
    "No limit loosened by an overlay",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="whoever approves a looser limit answers for it"),
)

OTHER_WORK = Rule(
    "plan/work-not-covered",
    "Rule set made for this kind of work",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a rule set leaves some kinds of work to others"),
)


def check_profile(scene: Scene) -> Iterator[Finding]:
    """Says how many limits of the profile rest on memory."""
    titles = " + ".join(one.title for one in scene.limits.layers[:-1])
    count = scene.limits.recalled
    plural = "" if count == 1 else "s"
    words = f"{titles}: {count} limit{plural} not confirmed against a text"
    yield finding(
        UNVERIFIED,
        Stated(holds=scene.limits.recalled == 0, because=words),
        settle_by="Have a named checker confirm the limits marked recalled.",
        keys=("plan.profile",),
        space=scene.space,
    )


def check_place(scene: Scene) -> Iterator[Finding]:
    """Profile and overlays are those of the place where the site is."""
    site = scene.site.site
    wrong = [
        f"{one.title} is for {one.country}"
        for one in scene.limits.layers
        if one.country and one.country != site.country.strip().upper()
    ]
    regions = [one for one in scene.limits.overlays if one.region]
    wrong += [
        f"{one.title} is for {one.region}"
        for one in regions
        if site.region is not None and one.region != site.region
    ]
    words = f"the site is in {', '.join(filter(None, (site.region, site.country)))}"
    outcome: Stated | Missing = Stated(holds=not wrong, because="; ".join((words, *wrong)))
    if not wrong and regions and site.region is None:
        outcome = Missing(because=f"{words}, region not stated; {regions[0].title} is in force")
    yield finding(
        ELSEWHERE,
        outcome,
        settle_by="Choose the profile and overlays of the place (planbuilder profiles lists them), "
        "or write site.country by its two letters and site.region as the overlay has it.",
        keys=("site.country", "site.region", "plan.profile", "plan.overlays"),
        space=scene.space,
    )


def check_loosened(scene: Scene) -> Iterator[Finding]:
    """Every limit that an overlay loosens is told, with who answers for it."""
    if not scene.limits.overlays:
        return
    loosened = [
        f"{one.key} {one.words} by {one.layer}, approved by {one.approver}"
        for one in scene.limits.loosened
    ]
    yield finding(
        LOOSENED,
        Stated(holds=not loosened, because="; ".join(loosened) or "no limit is loosened"),
        settle_by="Confirm the clause and the approver of each, or take the entry out of the "
        "overlay.",
        keys=("plan.overlays",),
        space=scene.space,
    )


def check_work(scene: Scene) -> Iterator[Finding]:
    """The profile does not leave this kind of work to another rule set.

    Asked where the kind is stated, and where shoring says that somebody has dug.
    """
    stated, profile = scene.space.task.work, scene.limits.profile
    dug = any(way.rig and way.rig.stand.wall is WallKind.SHORING_PANEL for way in scene.ways())
    if (stated is None and not dug) or not profile.excludes_work:
        return
    left_out = [one for one in stated or [] if one in profile.excludes_work]
    listed = ", ".join(profile.excludes)
    outcome: Stated | Missing = Missing(
        because=f"shored, kind of work not stated; {profile.title} leaves out: {listed}"
    )
    if stated is not None:
        words = ", ".join(one.replace("-", " ") for one in stated)
        if left_out:
            words += f"; {profile.title} leaves out: {listed}"
        outcome = Stated(holds=not left_out, because=words)
    yield finding(
        OTHER_WORK,
        outcome,
        settle_by="Choose the rule set of this work; or have somebody accept, as an override, "
        "that this one is used by analogy, and look up what the other one asks besides.",
        keys=(scene.key("task.work"), "plan.profile"),
        space=scene.space,
    )
