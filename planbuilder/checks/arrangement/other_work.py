"""Other work and other employers: named, kept apart, and made harmless for those inside."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.outside import OtherWork
from planbuilder.site.people import EmployerRole

SEVERAL = 2  # employers on the site, from which on somebody must keep them apart
COORDINATOR = Rule(
    "plan/no-coordinator",
    "Several employers: somebody who keeps their work apart",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(11), (c)(8)(iv), (c)(9)(ii)"),
)
UNSAID = Rule(
    "plan/other-work-not-stated",
    "Other work in or near the space, or that there is none",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="somebody else's job can kill whoever is inside"),
)
WHO = Rule(
    "plan/other-work-without-contact",
    "Other work: whose it is, and who answers for it there",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="the attendant must be able to have it stopped"),
)
UNCONTROLLED = Rule(
    "plan/other-work-uncontrolled",
    "Other work does no harm to those inside",
    Weight.WARNS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(11)"),
)


def check_coordinator(scene: Scene) -> Iterator[Finding]:
    """With two employers or more one person co-ordinates; a controlling contractor does so."""
    employers = scene.site.employer
    if len(employers) < SEVERAL:
        return
    person = scene.site.site.coordinator
    leads = next((one for one in employers if one.role is EmployerRole.CONTROLLING), None)
    outcome: Stated | Missing = Missing(because=f"{len(employers)} employers, nobody co-ordinates")
    if person is not None and person in scene.space.entrants:
        words = f"{scene.person(person).name} co-ordinates, and goes in"
        outcome = Stated(holds=False, because=words)
    elif person is not None:
        outcome = Stated(holds=True, because=f"{scene.person(person).name} co-ordinates")
    elif leads is not None:
        words = f"{leads.name}, controlling contractor: {leads.contact}"
        outcome = Stated(holds=True, because=words)
    yield finding(
        COORDINATOR,
        outcome,
        settle_by="Name the person outside the space who knows of everybody's work and can stop "
        "it: site.coordinator.",
        keys=("site.coordinator", "employer"),
        space=scene.space,
        duty=scene.limits.duty("exchange.coordinated"),
    )


def check_stated(scene: Scene) -> Iterator[Finding]:
    """Where others are on the site, the plan says what they do nearby; an empty list is nothing."""
    stated, near = scene.space.other_work, scene.space.nearby
    if stated is None and len(scene.site.employer) < SEVERAL and not near:
        return
    listed = ", ".join(one.what for one in stated or [])
    yield finding(
        UNSAID,
        Missing(because="others are on the site; not said what they do nearby meanwhile")
        if stated is None
        else Stated(holds=True, because=listed or "none while people are inside"),
        settle_by="State other_work: what, by which employer, on which days, what it makes; or "
        "other_work = [] where there is none.",
        keys=(scene.key("other_work"),),
        space=scene.space,
    )


def _meanwhile(scene: Scene) -> list[OtherWork]:
    """Other work on a day of this one; without dates it may be on any day."""
    first, last = scene.space.task.start, scene.work_ends
    return [
        one
        for one in scene.space.other_work or []
        if (one.starts or first) <= last and first <= (one.ends or last)
    ]


def check_who(scene: Scene) -> Iterator[Finding]:
    """Each other work has an employer and somebody on the spot."""
    for one in _meanwhile(scene):
        lacking = [] if one.employer else ["employer"]
        lacking += [] if one.contact else ["contact"]
        outcome: Stated | Missing = Missing(because=f"not stated: {' and '.join(lacking)}")
        if one.contact and not lacking:
            words = f"{scene.person(one.contact).name} answers for it"
            inside = one.contact in scene.space.entrants
            outcome = Stated(holds=not inside, because=words + (", and goes in" if inside else ""))
        yield finding(
            WHO,
            outcome,
            settle_by="State employer and contact: who is on the spot and can stop it.",
            keys=(scene.key("other_work.employer"), scene.key("other_work.contact")),
            space=scene.space,
            about=one.what,
        )


def check_controlled(scene: Scene) -> Iterator[Finding]:
    """Whatever other work makes is kept from the space."""
    for one in _meanwhile(scene):
        outcome: Stated | Missing = Missing(because="not said what it makes")
        if one.makes == []:
            outcome = Stated(holds=True, because="makes nothing that reaches the space")
        elif one.makes is not None:
            made = ", ".join(each.replace("-", " ") for each in one.makes)
            words = f"makes {made}; control: {one.control or 'none'}"
            outcome = Stated(holds=one.control is not None, because=words)
        yield finding(
            UNCONTROLLED,
            outcome,
            settle_by="State what the other work makes and what keeps it from the space; or do it "
            "on another day.",
            keys=(scene.key("other_work.makes"), scene.key("other_work.control")),
            space=scene.space,
            about=one.what,
        )
