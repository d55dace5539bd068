"""Is there a rescue arrangement at all: people, posture, device, backup, fallback."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.arrangement.retrieval_rig import mechanical_device
from planbuilder.checks.people.places import is_hauled, part_name
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Way,
    Working,
    counted,
    finding,
    output,
)
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.site.method import CrewRole, MethodKind, Posture
from planbuilder.site.people import ServiceKind
from planbuilder.site.rig import Rig
from planbuilder.site.supports import PostDavitArm, Support

GENERAL = "29 CFR 1910.146"
APP_F = "29 CFR 1910.146 App F"
MECHANICAL = Rule(
    "plan/no-mechanical-device",
    "Mechanical device beyond the depth limit",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)(ii)"),
)
NOTIFIED = Rule(
    "plan/notified-only",
    "A rescue arrangement, not only a number to call",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=APP_F, clause="A.I"),
)
ATTENDANT = Rule(
    "plan/attendant-counted-twice",
    "The attendant has no other duty in the rescue",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(i)(4), (i)(10)"),
)
ROLES = Rule(
    "plan/role-not-filled",
    "Somebody named for each part of the rescue",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(2)(ii)"),
)
RIG = Rule(
    "plan/no-rig",
    "Support and device of a retrieval from outside",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)(i)-(ii)"),
)
ATTENDANTS = Rule(
    "plan/no-attendant",
    "Attendants outside for the whole entry",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(6)"),
)
BACKUP = Rule(
    "plan/no-independent-backup",
    "Independent backup for the lifting line",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a single line for a lift needs a second one that holds alone"),
)
FALLBACK = Rule(
    "plan/no-fallback",
    "A second way out if the first one fails",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="law in US construction; kept for every plan"),
)
REASON = Rule(
    "plan/no-retrieval-reason",
    "Reason for anything else instead of retrieval",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)"),
)
AIR_SUPPLY = Rule(
    "plan/no-breathing-set",
    "Breathing set for those who go in",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.134", clause="(g)(3)"),
)
FOR_PEOPLE = Rule(
    "plan/not-rated-for-people",
    "Device and support marked for lifting people",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="2006/42/EC", clause="Annex I 6.1.1, by analogy"),
)


TO_ENTER = [CrewRole.ENTRY, CrewRole.BACK_UP, CrewRole.MEDIC, CrewRole.CALLER]


def check_mechanical_device(scene: Scene) -> Iterator[Finding]:
    """Deeper than the limit, a mechanical device is at hand for the lift."""
    if not scene.space.is_confined:
        return
    limit, depth = scene.limits.of("retrieval.mech_device_depth"), scene.space.shape.depth
    names = [name for way in scene.ways() if (name := mechanical_device(way))]
    outcome: Compared | Stated | Missing = Missing(because="the depth is not measured")
    if names:
        outcome = Stated(holds=True, because=f"at hand: {', '.join(names)}")
    elif depth is not None:
        given = scene.given("z", "depth", depth, Unit.M, "shape.depth")
        outcome = Working(depth.m, "z", (given,)).against(
            limit.relation,
            limit.quantity,
            result=output("z_max", "depth without mechanical device", Unit.M),
            slack=0.01,
        )
    deep = f"a depth of more than {limit.quantity.written}"
    device = "a winch, a self-retracting line with retrieval, or a rope system over the opening"
    yield finding(
        MECHANICAL,
        outcome,
        settle_by=f"Measure the depth and state it; {deep} asks for {device}."
        if isinstance(outcome, Missing)
        else f"Plan {device}.",
        keys=(scene.key("rescue.primary.rig"), scene.key("shape.depth")),
        space=scene.space,
    )


def check_notified_only(scene: Scene) -> Iterator[Finding]:
    """Somebody has agreed to come; a number written down is no arrangement, first or second."""
    for way in scene.ways():
        first = way.name == "primary"
        if not first and way.method.posture is not Posture.NOTIFIED:
            continue
        service = scene.service(way.method.service) if way.method.service else None
        by = f" by {service.name}" if service else ""
        words = f"{way.name} rescue is {way.method.posture}{by}"
        yield finding(
            NOTIFIED,
            Stated(holds=not _only_called(way), because=words),
            settle_by="Plan retrieval by your own crew, or a service that has agreed to stand by. "
            "Published estimates for public-service rescue are 48 to 173 minutes (Public response "
            "study).",
            keys=(way.key("posture"),),
            space=scene.space,
            about="" if first else way.name,
            duty=scene.limits.duty("rescue.notified_only"),
        )


def _only_called(way: Way) -> bool:
    """Whether nobody but a public service comes, which has agreed to nothing."""
    method = way.method
    service = way.scene.service(method.service) if method.service else None
    asked = service is None or service.kind is not ServiceKind.PUBLIC or bool(service.agreed_on)
    return method.posture is Posture.NOTIFIED or not (asked or method.crew)


def check_attendant_double(scene: Scene) -> Iterator[Finding]:
    """Whoever watches the opening is not counted on for anything else, unless relieved."""
    busy: set[str | None] = {one.person for way in scene.ways() for one in way.method.crew}
    busy |= {*scene.space.entrants, scene.site.site.escort}
    twice = [one for one in scene.space.attendant if one in busy]
    relief = scene.space.relief_attendant
    relieved = relief is not None and relief not in busy | set(scene.space.attendant)
    names = ", ".join(scene.person(one).name for one in twice)
    if not twice:
        words = "the attendant has no other duty"
    else:
        words = f"{names} also in the crew, inside or escort" + (
            f", relieved by {scene.person(relief).name}" if relieved and relief else ""
        )
    yield finding(
        ATTENDANT,
        Stated(holds=not twice or (relieved and len(twice) == 1), because=words),
        settle_by="Name an attendant who is in no rescue role, or a relief attendant with no "
        "other duty.",
        keys=(scene.key("attendant"), scene.key("relief_attendant")),
        space=scene.space,
    )


def check_roles(scene: Scene) -> Iterator[Finding]:
    """Every part of the rescue has somebody: to lead, haul, go in, stand by, give care, call."""
    for way in scene.ways():
        method = way.method
        if method.method is MethodKind.SELF or (method.service and not method.crew):
            continue  # nobody has a part, or the service brings its own people
        parts = [CrewRole.LEADER]
        parts += [CrewRole.HAUL] if is_hauled(way) else []
        parts += TO_ENTER if method.method is MethodKind.ENTRY else []
        empty = [one for one in parts if not way.crew(one)]
        listed = ", ".join(part_name(one) for one in empty or parts)
        words = f"nobody is named for: {listed}" if empty else f"somebody is named for: {listed}"
        yield finding(
            ROLES,
            Missing(because=words) if empty else Stated(holds=True, because=words),
            settle_by="Name a person for each part of this rescue.",
            keys=(way.key("crew"),),
            space=scene.space,
            about=way.name,
        )


def check_rig_stated(scene: Scene) -> Iterator[Finding]:
    """Whoever is pulled out from outside is pulled by something, from something."""
    for way in scene.ways():
        if way.method.method is not MethodKind.NON_ENTRY:
            continue
        outcome: Stated | Missing = Missing(because="neither support nor device is stated")
        if way.rig is not None:
            names = scene.device(way.rig.device).name, scene.support(way.rig.support).name
            outcome = Stated(holds=True, because=f"{names[0]} on {names[1]}")
        yield finding(
            RIG,
            outcome,
            settle_by="State the rig: support and device, hook height and what is attached.",
            keys=(way.key("rig"),),
            space=scene.space,
            about=way.name,
        )


def check_attendants(scene: Scene) -> Iterator[Finding]:
    """At least as many attendants as the limit asks for."""
    limit, count = scene.limits.of("people.attendants_min"), len(scene.space.attendant)
    attendants = counted("n_att", "attendants named", count, scene.key("attendant"))
    yield finding(
        ATTENDANTS,
        Working(count, "n_att", (attendants,)).against(
            limit.relation, limit.quantity, result=output("n", "attendants", Unit.COUNT)
        ),
        settle_by="Name the attendant who stays outside for the whole entry.",
        keys=(scene.key("attendant"),),
        space=scene.space,
    )


def check_backup(scene: Scene) -> Iterator[Finding]:
    """A second device holds the casualty if the lifting line lets go."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or way.name != "primary":
            continue
        words, holds = _backup(way)
        yield finding(
            BACKUP,
            Stated(holds=holds, because=words),
            settle_by="Name a backup device on its own support, or on a support that is marked "
            "for two lines (lines = 2).",
            keys=(way.key("rig.backup"), f"support.{rig.support}.lines"),
            space=scene.space,
            about=way.name,
        )


def _backup(way: Way) -> tuple[str, bool]:
    rig = way.rig
    if rig is None or rig.backup is None:
        return "no backup device is named", False
    backup = way.scene.device(rig.backup)
    if rig.backup == rig.device:
        return f"{backup.name} is both lifting device and backup", False
    support = way.scene.support(rig.backup_support or rig.support)
    if support.id != rig.support:
        return f"{backup.name} on {support.name}", True
    two_lines = support.lines is not None and support.lines > 1
    said = f"marked for {support.lines} lines" if support.lines else "lines not stated"
    return f"{backup.name} on the same {support.name}, {said}", two_lines


def check_fallback(scene: Scene) -> Iterator[Finding]:
    """The plan has a fallback that the failure of the primary method leaves whole."""
    ways = list(scene.ways())
    shared, words = [], "no fallback is planned"
    if len(ways) > 1:
        shared = _shared(*ways)
        same = f", with the same {', '.join(shared)}" if shared else ""
        words = f"fallback: {ways[1].method.method}{same}"
    yield finding(
        FALLBACK,
        Stated(holds=len(ways) > 1 and not shared, because=words),
        settle_by="Plan a fallback on another device and another anchor; where both methods go "
        "in, with other people to go in.",
        keys=(scene.key("rescue.fallback"),),
        space=scene.space,
    )


def _shared(first: Way, second: Way) -> list[str]:
    """What both methods fail with: device, anchor, or those who go in."""
    names: list[str] = []
    if first.rig and second.rig:
        if first.rig.device == second.rig.device:
            names.append(first.scene.device(first.rig.device).name)
        both = set(_anchors(first, first.rig)) & set(_anchors(second, second.rig))
        names += [first.scene.support(one).name for one in sorted(both)]
    goers = [one.name for one in first.crew(CrewRole.ENTRY)]
    again = {one.name for one in second.crew(CrewRole.ENTRY)}
    return names + [one for one in dict.fromkeys(goers) if one in again]


def _anchors(way: Way, rig: Rig) -> list[str]:
    """The support that the lifting line hangs on, and what that stands on."""
    support = way.scene.support(rig.support)
    return [support.id, *([support.post] if isinstance(support, PostDavitArm) else [])]


def check_retrieval_reason(scene: Scene) -> Iterator[Finding]:
    """No retrieval first, by entry or left to the casualty: a lawful reason and a name."""
    way = next(scene.ways())
    alone = way.method.method in (MethodKind.SELF, MethodKind.ASSISTED_SELF)
    if way.method.method is MethodKind.NON_ENTRY or (alone and not scene.space.is_confined):
        return
    reason, name = way.method.no_retrieval_because, way.method.no_retrieval_decided_by
    blank = [
        words
        for words, value in (("why nobody is pulled out", reason), ("who decided that", name))
        if value is None
    ]
    outcome: Stated | Missing = Missing(because=f"not stated: {' and '.join(blank)}")
    if reason and name:
        outcome = Stated(holds=True, because=f"{reason}, decided by {name}")
    yield finding(
        REASON,
        outcome,
        settle_by="Plan retrieval from outside, or state no_retrieval_because and who decided.",
        keys=(way.key("no_retrieval_because"), way.key("no_retrieval_decided_by")),
        space=scene.space,
        duty=scene.limits.duty("retrieval.required"),
    )


def check_breathing_set(scene: Scene) -> Iterator[Finding]:
    """Nobody goes into a bad atmosphere without air of their own, or without saying why not."""
    for way in scene.ways():
        if way.method.method is not MethodKind.ENTRY or not scene.space.is_confined:
            continue
        item = scene.equipment(way.method.breathing_set) if way.method.breathing_set else None
        outcome: Stated | Missing = Missing(because="no breathing set is named for the rescuers")
        if item is not None:
            outcome = Stated(holds=True, because=f"{item.name}, {item.quantity} of them")
        yield finding(
            AIR_SUPPLY,
            outcome,
            settle_by="Name the breathing set that the rescuers wear, with width and depth.",
            keys=(way.key("breathing_set"),),
            space=scene.space,
            about=way.name,
        )


def check_rated_for_people(scene: Scene) -> Iterator[Finding]:
    """Every part that lifts, holds or backs up is marked for people."""
    for way in scene.ways():
        parts: list[tuple[str, Support | AnyDevice]] = [
            *(("support", one) for one in scene.supports_of(way)),
            *(("device", one) for one in scene.devices_of(way)),
        ]
        if scene.space.fall and scene.space.fall.device and way.name == "primary":
            parts.append(("device", scene.device(scene.space.fall.device)))
        for table, part in parts:
            outcome: Stated | Missing = Missing(because=f"{part.name}: not stated")
            if part.for_people is not None:
                word = "marked for people" if part.for_people else "not marked for people"
                outcome = Stated(holds=part.for_people, because=f"{part.name}: {word}")
            yield finding(
                FOR_PEOPLE,
                outcome,
                settle_by="Use equipment marked by its maker for lifting or holding people; "
                "goods hoists are out.",
                keys=(f"{table}.{part.id}.for_people",),
                space=scene.space,
                about=f"{way.name}, {part.name}",
            )
