"""Is the equipment where it is needed, and is there enough of it for what goes on at once."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.breathing import goers
from planbuilder.checks.kit.gear import Gear, is_built_in, serving, used_by, used_here
from planbuilder.checks.people.openings import open_together
from planbuilder.checks.scene import Scene, Way, Working, counted, derived, finding, output
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
from planbuilder.site.equipment import Serves
from planbuilder.site.method import MethodKind, Posture

GENERAL = "29 CFR 1910.146"
AWAY = Rule(
    "plan/gear-not-at-opening",
    "Equipment ready at the opening, or somebody who fetches it",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a standby team without its equipment stands by for nothing"),
)
TWICE = Rule(
    "plan/gear-at-two-openings",
    "One thing at one opening at a time",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="one winch cannot stand over two openings"),
)
HARNESSES = Rule(
    "plan/too-few-harnesses",
    "A harness for everybody who goes in",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)(i)"),
)
USUAL = Rule(
    "plan/usual-gear-not-listed",
    "Light, barriers and ladder where the place asks for them",
    Weight.WARNS,
    Source(mark=Mark.READ, document=GENERAL, clause="(d)(4)(v)-(vii)"),
)


def check_at_opening(scene: Scene) -> Iterator[Finding]:
    """A standby team has everything beside it; another team has somebody who brings it."""
    for way in scene.ways():
        gear = tuple(one for one in used_by(way) if not is_built_in(one))
        if not gear or (way.method.service and not way.method.crew):
            continue  # nothing in hand, or the service brings its own
        outcome, keys = _at_hand(way, gear)
        yield finding(
            AWAY,
            outcome,
            settle_by="Bring it to the opening before anybody enters and state at_opening; where "
            "the rescuers come from elsewhere on the site, name who brings it: fetched_by.",
            keys=keys,
            space=scene.space,
            about=way.name,
        )


def _at_hand(way: Way, gear: tuple[Gear, ...]) -> tuple[Stated | Missing, tuple[str, ...]]:
    standby = way.method.posture is Posture.STANDBY
    inside = {*way.scene.space.entrants, *way.scene.space.attendant}
    away, unsaid = [], []
    for one in gear:
        if one.item.at_opening:
            continue
        if standby and one.item.at_opening is False:
            away.append((one, f"{one.item.name}, {one.item.kept_at or 'place not stated'}"))
        elif standby or one.item.fetched_by is None:
            unsaid.append(one)
        elif one.item.fetched_by in inside:
            who = way.scene.person(one.item.fetched_by).name
            away.append((one, f"{one.item.name}, fetched by {who}, who is inside or watches"))
    keys = tuple(one.key("at_opening") for one in (*(pair[0] for pair in away), *unsaid))
    if away:
        return Stated(holds=False, because="; ".join(words for _, words in away)), keys
    if unsaid:
        names = ", ".join(one.item.name for one in unsaid)
        lacks = "at the opening or not" if standby else "at the opening, or fetched by whom"
        return Missing(because=f"not stated whether {lacks}: {names}"), keys
    words = f"{', '.join(one.item.name for one in gear)}: at the opening, or fetched"
    return Stated(holds=True, because=words), tuple(one.key("at_opening") for one in gear)


def check_one_place(scene: Scene) -> Iterator[Finding]:
    """Nothing is counted on at more openings at once than there are pieces of it.

    Every opening that may be open together with this one counts, as if they all were at once.
    """
    others = [
        one
        for one in scene.site.space
        if one is not scene.space and open_together(scene.space, one)
    ]
    if not others:
        return
    wanted: dict[tuple[str, str], list[str]] = {}
    for other in others:
        there = Scene(scene.site, other, scene.limits, scene.defaults, scene.on)
        for one in used_here(there):
            wanted.setdefault((one.table, one.id), []).append(other.name)
    short = [
        one
        for one in used_here(scene)
        if not is_built_in(one) and 1 + len(wanted.get((one.table, one.id), ())) > one.count
    ]
    words = "; ".join(
        f"{one.item.name}: {one.count} in all, also counted on at "
        f"{', '.join(wanted[one.table, one.id])}"
        for one in short
    )
    names = ", ".join(one.name for one in others)
    yield finding(
        TWICE,
        Stated(holds=not short, because=words or f"enough for {names}, open at the same time"),
        settle_by="Work there at other hours and state enter_from and out_by of each, or bring "
        "another one and state it.",
        keys=tuple(one.key("quantity") for one in short) or (scene.key("task"),),
        space=scene.space,
        about=names,
    )


def check_harnesses(scene: Scene) -> Iterator[Finding]:
    """Everybody who is inside on a line, and everybody who goes in for them, wears a harness."""
    if scene.space.fall is None and not any(way.rig for way in scene.ways()):
        return
    listed = tuple(serving(scene, Serves.HARNESS))
    outcome: Compared | Missing = Missing(
        because='no equipment with serves = ["harness"] is listed'
    )
    if listed:
        inside = counted(
            "n_in", "inside at once", scene.inside_at_once, scene.key("task.inside_at_once")
        )
        rescuers = derived(
            "n_go", "rescuers who go in or stand by to", _most_goers(scene), Unit.COUNT,
            "of the method that sends most",
        )  # fmt: skip
        count = sum(one.count for one in listed)
        outcome = Working(inside.value + rescuers.value, "n_in + n_go", (inside, rescuers)).against(
            Relation.AT_MOST,
            counted("n_harness", "harnesses", count, f"equipment.{listed[0].id}.quantity"),
            result=output("n", "people in a harness", Unit.COUNT),
        )
    yield finding(
        HARNESSES,
        outcome,
        settle_by="List a harness for each of them, with its number and inspection.",
        keys=tuple(one.key("quantity") for one in listed) or ("equipment",),
        space=scene.space,
    )


def _most_goers(scene: Scene) -> float:
    entered = [way for way in scene.ways() if way.method.method is MethodKind.ENTRY]
    return max((goers(way).value for way in entered), default=0.0)


def check_usual_gear(scene: Scene) -> Iterator[Finding]:
    """Light in a space, a barrier round a hole in the floor, a ladder where somebody climbs in."""
    wanted = [
        name for name, asked in _asked(scene).items() if asked and not _is_listed(scene, name)
    ]
    if not any(_asked(scene).values()):
        return
    outcome: Stated | Missing = Stated(holds=True, because="listed, as the place asks")
    if wanted:
        outcome = Missing(because=f"not listed: {', '.join(wanted)}")
    asked = ", ".join(f'"{one}"' for one in wanted) or '"light"'
    yield finding(
        USUAL,
        outcome,
        settle_by=f"List it as equipment with serves = [{asked}], where it is kept and when it "
        "was inspected.",
        keys=("equipment",),
        space=scene.space,
    )


def _is_listed(scene: Scene, name: Serves) -> bool:
    return any(one.count for one in serving(scene, name))


def _asked(scene: Scene) -> dict[Serves, bool]:
    """What the place asks for: it is dark inside, a hole in the floor, a way down without a line.

    The ladder is asked where a rescuer enters through the top and the method has no rig to go by.
    """
    space = scene.space
    from_top = space.is_confined and not space.opening.from_side
    climbs = any(
        way.method.method is MethodKind.ENTRY and way.rig is None and way.method.crew
        for way in scene.ways()
    )
    return {
        Serves.LIGHT: space.is_confined,
        Serves.BARRIER: from_top,
        Serves.LADDER: from_top and climbs,
    }
