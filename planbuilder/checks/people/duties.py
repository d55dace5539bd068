"""Nobody is counted on twice: the escort, those whom a step keeps busy, those who come second."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.method import MethodKind

TOGETHER = 2  # inside at once: what hurts one may hurt the other
ESCORT = Rule(
    "plan/escort-counted-twice",
    "The escort at the gate has no other duty in the rescue",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="whoever walks to the gate is not at the opening"),
)
WITHOUT_PART = Rule(
    "plan/busy-without-part",
    "Everybody whom a step keeps busy has a part in the rescue",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(k)(2)(ii)"),
)
SECOND = Rule(
    "plan/second-casualty",
    "Two inside: what is done for a second casualty",
    Weight.NOTES,
    Source(mark=Mark.CHOICE, note="what hurts one may hurt whoever is beside"),
)


def check_escort(scene: Scene) -> Iterator[Finding]:
    """Whoever meets the ambulance at the gate is away from the opening meanwhile."""
    escort = scene.site.site.escort
    outcome: Stated | Missing = Missing(because="nobody is named as escort: it may be one of these")
    if escort is not None:
        also, name = _duties(scene, escort), scene.person(escort).name
        words = f"{name}, escort: {f'also {also}' if also else 'no other duty here'}"
        outcome = Stated(holds=not also, because=words)
    yield finding(
        ESCORT,
        outcome,
        settle_by="Name somebody as escort who is not needed at the opening.",
        keys=("site.escort", scene.key("rescue")),
        space=scene.space,
    )


def _duties(scene: Scene, escort: str) -> str:
    """What else the escort is named for here."""
    space = scene.space
    duties = {
        "attendant": escort in space.attendant,
        "relief attendant": escort == space.relief_attendant,
        "entrant": escort in space.entrants,
        **{
            f"crew, {way.name}": any(one.person == escort for one in way.method.crew)
            for way in scene.ways()
        },
    }
    return ", ".join(name for name, has in duties.items() if has)


def check_busy_has_part(scene: Scene) -> Iterator[Finding]:
    """Whoever acts in a step is named in the crew, so that training and shift are looked at."""
    for way in scene.ways():
        if not any(one.by for one in way.method.step):
            continue
        strangers = _strangers(way)
        names = ", ".join(scene.person(one).name for one in strangers)
        yield finding(
            WITHOUT_PART,
            Missing(because=f"kept busy by steps, with no part in the crew: {names}")
            if strangers
            else Stated(holds=True, because="everybody in the steps has a part"),
            settle_by="Name them in the crew with their role (who pulls or takes the casualty: "
            "haul), or take them out of by.",
            keys=(way.key("crew"),),
            space=scene.space,
            about=way.name,
        )


def _strangers(way: Way) -> list[str]:
    """Those in steps who are neither crew nor attendant, nor entrants who help themselves."""
    space = way.scene.space
    known = {one.person for one in way.method.crew} | {*space.attendant}
    known |= {space.relief_attendant} if space.relief_attendant else set()
    if way.method.method in (MethodKind.SELF, MethodKind.ASSISTED_SELF):
        known |= {*space.entrants}
    busy = dict.fromkeys(who for one in way.method.step for who in one.by)
    escort = way.scene.site.site.escort  # has a duty of its own, at the gate
    return [one for one in busy if one not in known and one != escort]


def check_second_casualty(scene: Scene) -> Iterator[Finding]:
    """With two or more inside the plan says that a second casualty is possible, and what then."""
    if scene.inside_at_once < TOGETHER:
        return
    said, inside = scene.space.rescue.second_casualty, f"{scene.inside_at_once} inside at once"
    outcome: Stated | Missing = Missing(
        because=f"{inside}: a second casualty is possible; the plan says nothing of it"
    )
    if said is not None:
        outcome = Stated(holds=True, because=f"{inside}, a second casualty is possible: {said}")
    yield finding(
        SECOND,
        outcome,
        settle_by="State second_casualty: who is brought out first, by whom, and what the second "
        "one gets meanwhile; or let one in at a time and state inside_at_once.",
        keys=(scene.key("rescue.second_casualty"), scene.key("task.inside_at_once")),
        space=scene.space,
    )
