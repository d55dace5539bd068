"""The places of a rescue: how many of each, who is named for them, and how long each is busy."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.scene import Scene, Way, once_a_way
from planbuilder.checks.timing.hazards import classify
from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import Quantity
from planbuilder.response.classes import PlanningClass
from planbuilder.response.matching import Place, Span
from planbuilder.site.equipment import RopeSystem
from planbuilder.site.hazard import HazardKind
from planbuilder.site.method import CrewRole, MethodKind
from planbuilder.site.travel import Carrying

ATTENDANT = "attendant"
WHOLE = Span(float("-inf"), float("inf"))
NOTHING = Span(0.0, 0.0)
_BAD_AIR = (
    HazardKind.OXYGEN,
    HazardKind.INERT_GAS,
    HazardKind.HYDROGEN_SULFIDE,
    HazardKind.CARBON_MONOXIDE,
    HazardKind.FLAMMABLE,
    HazardKind.OTHER_TOXIC,
)
Allowed = Callable[[str, CrewRole | None], bool]


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the rescue: how many are needed in it, and who is named for it."""

    name: str
    role: CrewRole | None  # None: the attendants
    needed: int
    named: tuple[str, ...]


def is_crewed(way: Way) -> bool:
    """Whether the plan names people of its own for this method."""
    method = way.method
    return method.method is not MethodKind.SELF and not (method.service and not method.crew)


def is_bad_air(scene: Scene) -> bool:
    """Whether a hazard of the air leaves minutes or less: treated as immediately dangerous."""
    return any(
        one.kind in _BAD_AIR and classify(one) <= PlanningClass.MINUTES
        for one in scene.space.hazard
    )


def back_ups(scene: Scene) -> Quantity:
    """How many stand by for those who go in."""
    return scene.defaults.of("back-ups-bad-air" if is_bad_air(scene) else "back-ups")


def part_name(role: CrewRole) -> str:
    """The part as a word or two."""
    return role.value if role is CrewRole.BACK_UP else role.replace("-", " ")


def is_hauled(way: Way) -> bool:
    """Whether somebody pulls the casualty: on a line, by a step, or up a part of the route."""
    by_step = any(one.computed == "haul" or one.role is CrewRole.HAUL for one in way.method.step)
    raised = any(one.coming_out is Carrying.RAISED for one in way.scene.space.route)
    enters = way.method.method is MethodKind.ENTRY
    return way.rig is not None or by_step or (enters and raised)


def haulers(way: Way) -> int:
    """People who pull: one at a crank; on a rope, or without a line, as many as are named."""
    device = way.scene.device(way.rig.device) if way.rig else None
    if device is not None and not isinstance(device, RopeSystem):
        return 1
    return max(1 if is_hauled(way) else 0, len(way.crew(CrewRole.HAUL)))


@once_a_way
def parts(way: Way) -> list[Part]:
    """Every part of this method with the people needed and the people named."""
    scene = way.scene
    enters = way.method.method is MethodKind.ENTRY
    needed = {
        CrewRole.LEADER: 1 if enters else 0,
        CrewRole.ENTRY: int(scene.defaults.of("entry-rescuers").value) if enters else 0,
        CrewRole.BACK_UP: int(back_ups(scene).value) if enters else 0,
        CrewRole.HAUL: haulers(way),
        CrewRole.MEDIC: 1 if enters else 0,
        CrewRole.CALLER: 1 if enters else 0,
    }
    relief = [scene.space.relief_attendant] if scene.space.relief_attendant else []
    watching = tuple(dict.fromkeys([*scene.space.attendant, *relief]))
    least = int(scene.limits.of("people.attendants_min").quantity.value)
    crew = [
        Part(
            part_name(role),
            role,
            count,
            tuple(dict.fromkeys(one.person for one in way.method.crew if one.role is role)),
        )
        for role, count in needed.items()
    ]
    return [Part(ATTENDANT, None, least, watching), *crew]


def places(
    way: Way, wanted: Callable[[Part], int], allowed: Allowed, *, unsaid: Span
) -> list[Place]:
    """The places to fill, *wanted* of each part, by those named who are *allowed*.

    *unsaid* stands for the time of a part to which no step of that person belongs.
    """
    found = []
    for part in parts(way):
        offers = {
            who: busy(way, who, part.role, unsaid) for who in part.named if allowed(who, part.role)
        }
        is_leader = part.role is CrewRole.LEADER
        exclusive = (
            part.role in (None, CrewRole.BACK_UP)  # both watch, and must be free to act
            or (is_leader and is_bad_air(way.scene))
        )
        for number in range(wanted(part)):
            name = part.name if number == 0 else f"{part.name} {number + 1}"
            found.append(Place(id=name, part=part.name, exclusive=exclusive, offers=offers))
    return found


def busy(way: Way, person: str, role: CrewRole | None, unsaid: Span) -> Span:
    """From the first to the last step that keeps *person* busy in *role*.

    The timeline lets the steps of one person wait for each other, so earliest times can be kept.
    """
    own = [one.role for one in way.method.crew if one.person == person]
    steps = {
        one.id
        for one in way.method.step
        if person in one.by and (one.role is role or (one.role is None and own == [role]))
    }
    timings = [one for one in timeline(way).timings if one.id in steps]
    if role is None or not timings:
        return WHOLE if role is None else unsaid
    return Span(
        min(one.earliest_start_s for one in timings), max(one.earliest_finish_s for one in timings)
    )
