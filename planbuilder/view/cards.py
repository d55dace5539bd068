"""The two cards at the opening: the attendant's, read in ten seconds, and the leader's."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.set_points import flammable_limit, other_toxics
from planbuilder.checks.days import day_text
from planbuilder.checks.kit.communication import spoken
from planbuilder.checks.people.relied_on import relied_on
from planbuilder.checks.scene import Scene, Way
from planbuilder.checks.timing.hazards import air_limit
from planbuilder.findings import Finding
from planbuilder.plan import Plan, SpacePlan
from planbuilder.site.communication import Between
from planbuilder.site.equipment import LoweringDevice, SelfRetractingLine, Winch
from planbuilder.site.file import UnitSystem
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import CrewRole, MethodKind, Posture
from planbuilder.site.people import Person
from planbuilder.site.rig import Attach
from planbuilder.site.space import Contact
from planbuilder.view.chain import weakest
from planbuilder.view.isolation import isolation_line
from planbuilder.view.kit import backup_words
from planbuilder.view.model import AttendantCard, Fact, LeaderCard, MethodView
from planbuilder.view.numbers import minutes
from planbuilder.view.prose import prose
from planbuilder.view.readings import air_readings
from planbuilder.view.scales import Rounding
from planbuilder.view.sheets import worst
from planbuilder.view.surroundings import (
    CARD_ROOM,
    NARROW_ROOM,
    card_stops,
    coordinates_text,
)
from planbuilder.view.timelines import clock_row
from planbuilder.view.words import SHAPES, depth_text, outcome_text

NOT_STATED = "NOT STATED"
_ROLE_WORDS = {
    CrewRole.LEADER: "Leader",
    CrewRole.HAUL: "Haul",
    CrewRole.ENTRY: "Goes in",
    CrewRole.BACK_UP: "Back-up",
    CrewRole.MEDIC: "Medic",
    CrewRole.CALLER: "Caller",
}
_ATTACHED = {
    Attach.DORSAL: "back D-ring",
    Attach.FRONT: "front D-ring",
    Attach.WRISTLETS: "wristlets",
}
_BANS = {
    True: "DO NOT GO IN. DO NOT LEAN IN.",
    False: "DO NOT CLIMB AFTER THE CASUALTY.",
}
_LOST = {
    True: "contact, air, light, ventilation or rescue cover is lost",
    False: "contact, anchor, light or rescue cover is lost, or the wind is too strong",
}
_PLACES = {True: "opening", False: "foot of the structure"}
_BOX = {
    True: ("Everybody OUT", "Who is inside"),
    False: ("Everybody DOWN", "Who is up there"),
}
_LEAVES = {True: "out", False: "down"}
_NOT_READY = {True: "nobody enters", False: "nobody goes up"}
_CALLED = {True: "Confined space rescue", False: "Rescue at height"}
_QUESTIONS = (
    ("Lifts", "haul/device-overloaded"),
    ("Support holds", "haul/support-overloaded"),
    ("Line inside base", "haul/boom-beyond-base"),
    ("Line reaches", "haul/line-too-short"),
    ("Enough haulers", "haul/too-few-haulers"),
    ("Feet clear the rim", "clearance/feet-below-rim"),
    ("Rescuer with set fits", "clearance/rescuer-with-set-too-big"),
)


def attendant_card(plan: Plan, space: SpacePlan) -> AttendantCard:
    """The card for whoever watches the opening."""
    scene = space.scene
    way = next(scene.ways())
    leader = _first(way, CrewRole.LEADER)
    relief = scene.space.relief_attendant
    contact = scene.space.contact
    return AttendantCard(
        space=scene.space.name,
        ban=_BANS[scene.space.is_confined],
        not_ready=_NOT_READY[scene.space.is_confined],
        leave=_BOX[scene.space.is_confined][0],
        roster=_BOX[scene.space.is_confined][1],
        lost=_LOST[scene.space.is_confined],
        sign=scene.space.sign,
        inside=tuple(one.name for one in scene.entrants),
        at_once=str(scene.inside_at_once),
        out_at=_set_points(space),
        stops=card_stops(scene, NARROW_ROOM if plan.blocking else CARD_ROOM),
        contact=f"{contact.means}; {_how_often(contact)}{_if_it_fails(scene)}",
        steps=_attendant_steps(plan, way),
        calls=_calls(plan, scene, leader),
        script=_script(plan, space),
        leader=leader.name if leader else NOT_STATED,
        relief=scene.person(relief).name if relief else "nobody named: do not leave",
    )


def _how_often(contact: Contact) -> str:
    if contact.check_interval is not None:
        return f"every {contact.check_interval.written}"
    return "all the time" if contact.continuous else f"how often: {NOT_STATED}"


def _if_it_fails(scene: Scene) -> str:
    """What is left to speak by with those inside."""
    words = (backup_words(one) for one in spoken(scene) if one.between is Between.ENTRANT)
    backup = next(words, "")
    return f"; if that fails: {backup}" if backup else ""


def _first(way: Way, role: CrewRole) -> Person | None:
    return next(iter(way.crew(role)), None)


# What the attendant asks of the rescuers hangs on where they wait.
_TEAMS = {
    Posture.STANDBY: "{} stand by here: they go in on the leader's word.",
    Posture.ON_SITE: "Radio {} to the opening: they go in on the leader's word.",
    Posture.OFF_SITE: "Call {} to come from off site: nobody else goes in.",
    Posture.NOTIFIED: "Call {}, who do not wait for this call: nobody else goes in.",
}
_READINGS = (
    ("Oxygen below", "oxygen_low", "atmosphere.o2_min", ""),
    ("Oxygen above", "oxygen_high", "atmosphere.o2_max", ""),
    ("Flammable from", "flammable", "atmosphere.lfl_max", " LEL"),
    ("Hydrogen sulfide from", "hydrogen_sulfide", "atmosphere.h2s_max", ""),
    ("Carbon monoxide from", "carbon_monoxide", "atmosphere.co_max", ""),
)
_ASKED_BY = {
    "hydrogen_sulfide": HazardKind.HYDROGEN_SULFIDE,
    "carbon_monoxide": HazardKind.CARBON_MONOXIDE,
}


def _set_points(space: SpacePlan) -> tuple[Fact, ...]:
    """The readings that mean OUT: the plan's own, or the limit where that is stricter."""
    scene = space.scene
    if not scene.space.is_confined:
        return ()
    kinds, rows = {one.kind for one in scene.space.hazard}, []
    for label, name, key, tail in _READINGS:
        point = getattr(scene.space.set_points, name)
        if point is None and name in _ASKED_BY and _ASKED_BY[name] not in kinds:
            continue
        limit = flammable_limit(scene) if name == "flammable" else scene.limits.of(key)
        own, outer = f"{point.written if point else ''}{tail}", f"{limit.quantity.written}{tail}"
        if point is None:
            rows.append(Fact(f"{label} (limit, no set-point is stated)", outer))
        elif not limit.relation.holds(point.ratio, limit.quantity.value):
            rows.append(Fact(f"{label} (limit, the plan says {point.written})", outer))
        else:
            rows.append(Fact(label, own))
    return (*rows, *_other_points(space))


def _other_points(space: SpacePlan) -> Iterator[Fact]:
    """Gases that only this plan names: the point or the limit, whichever is stricter."""
    for name, hazard in other_toxics(space.scene):
        known = [one for one in (hazard.set_point, hazard.limit) if one is not None]
        least = min(known, key=lambda one: one.ratio, default=None)
        yield Fact(f"{name} from", least.written if least else NOT_STATED)


def _attendant_steps(plan: Plan, way: Way) -> tuple[str, ...]:
    scene = way.scene
    relief = scene.space.relief_attendant
    stay = f"until {scene.person(relief).name} relieves you" if relief else "to the end"
    leaves = _LEAVES[scene.space.is_confined]
    return (
        f"Shout and radio: RESCUE. All work stops; everybody else comes {leaves}.",
        _rescue_step(way),
        _call_step(plan, way),
        f"Keep contact with the casualty; count who is {leaves}; write down the time.",
        f"Stay at the {_PLACES[way.scene.space.is_confined]} {stay}. Tell the leader what you see.",
    )


def _rescue_step(way: Way) -> str:
    kind = way.method.method
    if kind in (MethodKind.NON_ENTRY, MethodKind.ASSISTED_SELF) and way.rig is not None:
        device = way.scene.device(way.rig.device)
        who = ", ".join(one.name for one in way.crew(CrewRole.HAUL)) or NOT_STATED
        handle = device.handle if isinstance(device, Winch | SelfRetractingLine) else None
        verb = "lowers" if isinstance(device, LoweringDevice) else "raises"
        how = f" {handle.rstrip('.')}." if handle else ""
        return f"{who} {verb} with {device.name}.{how}"
    if kind is MethodKind.ENTRY and (team := way.crew(CrewRole.ENTRY)):
        return _TEAMS[way.method.posture].format(", ".join(one.name for one in team))
    if kind is MethodKind.ENTRY and way.method.service and way.method.posture is Posture.OFF_SITE:
        service = way.scene.service(way.method.service)
        return _TEAMS[Posture.OFF_SITE].format(f"{service.name}, {service.phone},")
    if kind is MethodKind.SELF:
        leaves = _LEAVES[way.scene.space.is_confined]
        return f"Talk the casualty {leaves}; throw nothing, lower nothing loose."
    return "NO RESCUE TEAM IS NAMED: nobody enters before that is settled."


def _call_step(plan: Plan, way: Way) -> str:
    caller, escort = _first(way, CrewRole.CALLER), plan.site.site.escort
    who = f"{caller.name} calls" if caller else "You call"
    gate = f"; {way.scene.person(escort).name} opens the gate" if escort else ""
    return f"{who} {plan.site.site.emergency_number}, words below{gate}."


def _calls(plan: Plan, scene: Scene, leader: Person | None) -> tuple[Fact, ...]:
    site = plan.site.site
    tried = day_text(site.verified_on) if site.verified_on else NOT_STATED
    services = (
        (one.name, ", ".join(filter(None, (one.phone, one.channel)))) for one in relied_on(scene)
    )
    return (
        Fact("Emergency", site.emergency_number),
        *(Fact(name, number) for name, number in services),
        Fact("Leader", f"{leader.name} {leader.phone or ''}".strip() if leader else NOT_STATED),
        Fact("Competent person", plan.site.plan.competent_person_phone),
        Fact("Number tried", f"{tried}; today at ____"),
    )


def _script(plan: Plan, space: SpacePlan) -> tuple[str, ...]:
    site, scene = plan.site.site, space.scene
    facts, depth = scene.space, scene.space.shape.depth
    deep = f", {depth_text(facts, depth.written if depth else '')}" if facts.is_confined else ""
    hazards = ", ".join(one.kind.replace("-", " ") for one in facts.hazard)
    at = f", position {coordinates_text(site.coordinates)}" if site.coordinates else ""
    escort = f" {scene.person(site.escort).name} meets you there." if site.escort else ""
    return (
        f"{_CALLED[facts.is_confined]} at {site.name}, {site.address}{at}.",
        f"Come to: {site.gate}.{escort}",
        f"{facts.sign}: {facts.where}{deep}.",
        f"____ person(s); awake yes / no; breathing yes / no. Hazards: {hazards}.",
        f"My name is ____. Call back {site.call_back}.",
    )


def leader_card(space: SpacePlan, system: UnitSystem) -> LeaderCard:
    """The card for whoever leads the rescue."""
    scene = space.scene
    readings = tuple(air_readings(space, way, system) for way in scene.ways())
    return LeaderCard(
        clocks=tuple(
            clock_row(space, times, one) for times in space.timelines[:1] for one in times.clocks
        ),
        answers=tuple(_answers(space, system)),
        methods=tuple(_method(*one) for one in zip(scene.ways(), readings, strict=True)),
        abort=_abort(space, any_reading=any(readings)),
        cautions=prose(scene.space.cautions),
        hazards=tuple(
            Fact(
                one.kind.replace("-", " ") + (f", up to {one.level.written}" if one.level else ""),
                one.control,
            )
            for one in scene.space.hazard
        ),
    )


def _answers(space: SpacePlan, system: UnitSystem) -> list[Fact]:
    rows = []
    for way in space.scene.ways():
        part = weakest(space, way.name)
        if part is not None:
            label = f"{SHAPES[part.verdict]} Weakest link, {way.name}"
            rows.append(Fact(label, f"{part.rule.title}: {outcome_text(part, system)}"))
    passes = worst(space.findings, "clearance/casualty-too-wide", "")
    if passes:
        rows.append(Fact(f"{SHAPES[passes.verdict]} Casualty fits", _line(passes, system)))
    for way in space.scene.ways():
        for question, rule in _QUESTIONS:
            found = worst(space.findings, rule, way.name)
            if found:
                label = f"{SHAPES[found.verdict]} {question}, {way.name}"
                rows.append(Fact(label, _line(found, system)))
    return rows


def _line(found: Finding, system: UnitSystem) -> str:
    return f"{found.verdict.upper()}: {outcome_text(found, system)}"


def _method(way: Way, readings: tuple[Fact, ...]) -> MethodView:
    method = way.method
    roles = tuple(
        Fact(
            _ROLE_WORDS[one.role],
            _named(way.scene.person(one.person)),
        )
        for one in method.crew
    )
    return MethodView(
        name=way.name.capitalize(),
        kind=method.method.replace("-", " "),
        posture=method.posture.replace("-", " "),
        describe=prose(method.describe),
        free_first=prose(method.free_first),
        roles=roles or (Fact("Crew", "NOBODY IS NAMED"),),
        gear=(*_gear(way), *readings),
    )


def _named(person: Person) -> str:
    return f"{person.name} {person.phone}" if person.phone else person.name


def _gear(way: Way) -> list[Fact]:
    rig, scene, rows = way.rig, way.scene, []
    if rig is not None:
        support, device = scene.support(rig.support), scene.device(rig.device)
        rows.append(Fact("Anchor", f"{support.name}; {support.kept_at or 'place not stated'}"))
        rows.append(Fact("Device", f"{device.name}; {device.kept_at or 'place not stated'}"))
        backup = scene.device(rig.backup).name if rig.backup else "none"
        rows.append(Fact("Backup", backup))
        attached = _ATTACHED[rig.attachment] if rig.attachment else NOT_STATED
        decided = f", decided by {rig.wristlets_decided_by}" if rig.wristlets_decided_by else ""
        rows.append(Fact("Attached at", f"{attached}{decided}"))
    if way.method.breathing_set:
        item = scene.equipment(way.method.breathing_set)
        rows.append(Fact("Breathing set", f"{item.name}; {item.kept_at or 'place not stated'}"))
    if way.method.service:
        service = scene.service(way.method.service)
        rows.append(Fact("Service", f"{service.name} {service.phone}"))
    if way.method.if_it_stops:
        rows.append(Fact("If it stops", way.method.if_it_stops))
    return rows


_LINE = "The line does not move when it should: stop, find out why, never pull harder."
_GAUGE = "The lowest gauge reads turn back or start out: everybody in sets comes out."


def _abort(space: SpacePlan, *, any_reading: bool) -> tuple[str, ...]:
    """When to stop: only what can happen by the methods of this space."""
    confined, limit = space.scene.space.is_confined, air_limit(space.scene)
    points = ", ".join(f"{one.label.lower()} {one.text}" for one in _set_points(space))
    reading = f"Any reading at or beyond: {points}: nobody goes in without air of their own."
    has_fallback = space.scene.space.rescue.fallback is not None
    change = "go to the fallback now if you have not" if has_fallback else "no fallback is planned"
    return (
        f"No air to the casualty after {minutes(limit.value, Rounding.DOWN)}: {change}.",
        *((reading,) if points else ()),
        *((_GAUGE,) if any_reading else ()),
        *((_LINE,) if any(way.rig for way in space.scene.ways()) else ()),
        *filter(None, (isolation_line(space.scene),)),
        f"{_LOST[confined].capitalize()}: everybody {_LEAVES[confined]}.",
    )
