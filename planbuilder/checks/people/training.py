"""Is everybody trained and fit for the part they are named for, on every day of the work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.arrangement.records import is_current
from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.method import CrewRole
from planbuilder.site.people import Certificate, CertificateKind, Person
from planbuilder.site.periods import Period

TRAINED = Rule(
    "response/not-trained-for-role",
    "Training for the part that each person is named for",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(g), (k)(2)(ii)-(iii)"),
)
FIT = Rule(
    "response/fit-test-missing",
    "Fit test and medical of those who wear a breathing set",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(e), (f)(2)"),
)
IN_SETS = (CrewRole.ENTRY, CrewRole.BACK_UP)
_KINDS = CertificateKind
ATTENDANT = ((_KINDS.ATTENDANT,),)
ENTRANT = ((_KINDS.ENTRANT,),)
# One of each group. Whoever hauls works from outside, as an attendant may; a caller needs none.
_FOR_ROLE: dict[CrewRole, tuple[tuple[CertificateKind, ...], ...]] = {
    CrewRole.LEADER: ((_KINDS.SUPERVISOR, _KINDS.RESCUER),),
    CrewRole.HAUL: ((_KINDS.RESCUER, _KINDS.ATTENDANT, _KINDS.SUPERVISOR, _KINDS.ROPE),),
    CrewRole.ENTRY: ((_KINDS.RESCUER,),),
    CrewRole.BACK_UP: ((_KINDS.RESCUER,),),
    CrewRole.MEDIC: ((_KINDS.FIRST_AID,), (_KINDS.CPR,)),
    CrewRole.CALLER: (),
}


@dataclass(frozen=True, slots=True)
class Lack:
    """What somebody lacks for a part: a record that is not there, or one that does not count."""

    person: Person
    what: str
    on_record: bool

    @property
    def words(self) -> str:
        """Who lacks what."""
        return f"{self.person.name}: {self.what}"

    @property
    def key(self) -> str:
        """The site-file key to touch."""
        return f"person.{self.person.id}.certificate"


def lacks(way: Way, person: Person, role: CrewRole) -> list[Lack]:
    """What *person* lacks for *role* in this method, training and breathing set together."""
    return lacking(way.scene, person, _FOR_ROLE[role]) + lacking_for_set(way, person, role)


def lacking(
    scene: Scene, person: Person, groups: tuple[tuple[CertificateKind, ...], ...]
) -> list[Lack]:
    """Those *groups* of certificates of which *person* holds none that is current."""
    found = []
    for kinds in groups:
        held = [one for one in person.certificate if one.kind in kinds]
        if any(is_current(one, scene) for one in held):
            continue
        names = " or ".join(kinds).replace("-", " ")
        if held:
            last = max(held, key=lambda one: one.expires)
            names += f", not valid from {day_text(last.issued)} to {day_text(scene.last_day)}"
        found.append(Lack(person, f"no {names} certificate" if not held else names, bool(held)))
    return found


def lacking_for_set(way: Way, person: Person, role: CrewRole) -> list[Lack]:
    """Fit test within the limit and medical, for a role that wears the method's breathing set."""
    scene = way.scene
    if way.method.breathing_set is None or role not in IN_SETS:
        return []
    tests = [one for one in person.certificate if one.kind is _KINDS.FIT_TEST]
    fresh = fresh_fit_tests(scene, person)
    found = lacking(scene, person, ((_KINDS.MEDICAL,),))
    if not fresh:
        last = max((one.issued for one in tests), default=None)
        words = f"fit test of {day_text(last)} too old" if last else "no fit test"
        found.append(Lack(person, words, bool(tests)))
    return found


def fresh_fit_tests(scene: Scene, person: Person) -> list[Certificate]:
    """The fit tests of *person* that are current, and no older than the limit on the last day."""
    months = scene.limits.of("training.fit_test_months").quantity.value
    tests = [one for one in person.certificate if one.kind is _KINDS.FIT_TEST]
    return [one for one in tests if is_current(one, scene) and _is_fresh(one, months, scene)]


def _is_fresh(one: Certificate, months: float, scene: Scene) -> bool:
    return Period(int(months), "month", "").after(one.issued) >= scene.last_day


def check_trained(scene: Scene) -> Iterator[Finding]:
    """Each person holds what the part asks for, not just any certificate."""
    if scene.space.is_confined:
        relief = [scene.space.relief_attendant] if scene.space.relief_attendant else []
        watching = [scene.person(one) for one in (*scene.space.attendant, *relief)]
        found = [one for who in watching for one in lacking(scene, who, ATTENDANT)]
        found += [one for who in scene.entrants for one in lacking(scene, who, ENTRANT)]
        yield _told(TRAINED, scene, found, "attendants and entrants", "attendant and entrant")
    for way in scene.ways():
        parts = [(scene.person(one.person), one.role) for one in way.method.crew]
        if parts:
            found = [one for who, role in parts for one in lacking(scene, who, _FOR_ROLE[role])]
            yield _told(TRAINED, scene, found, way.name, "rescue crew")


def check_fit_test(scene: Scene) -> Iterator[Finding]:
    """Whoever goes in with a breathing set has a current fit test and may wear one."""
    for way in scene.ways():
        wearers = [one for one in way.method.crew if one.role in IN_SETS]
        if way.method.breathing_set is None or not wearers:
            continue
        found = [
            lack
            for one in wearers
            for lack in lacking_for_set(way, scene.person(one.person), one.role)
        ]
        yield _told(FIT, scene, found, way.name, "those who wear a set")


def _told(rule: Rule, scene: Scene, found: list[Lack], about: str, who: str) -> Finding:
    names = dict.fromkeys(one.person.name for one in found)
    each = {name: [one.what for one in found if one.person.name == name] for name in names}
    words = "; ".join(f"{name}: {', '.join(dict.fromkeys(what))}" for name, what in each.items())
    outcome: Stated | Missing = Stated(holds=True, because=f"{who}: on record")
    if found and not any(one.on_record for one in found):
        outcome = Missing(because=words)
    elif found:
        outcome = Stated(holds=False, because=words)
    return finding(
        rule,
        outcome,
        settle_by="Train, test or renew and state the certificate; or name somebody who holds it.",
        keys=tuple(dict.fromkeys(one.key for one in found)) or (scene.key("rescue"),),
        space=scene.space,
        about=about,
    )
