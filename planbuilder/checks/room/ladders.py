"""Clearance: a ladder in the column that ends short, and the cage or well round it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.aside import is_raised_from_above
from planbuilder.checks.room.bodies import Body, arms_down, size_of, with_set
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.column import Ladder
from planbuilder.site.method import CrewRole

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
CAGES = Source(mark=Mark.READ, document="WAC 296-876-60070")
WELLS = Source(mark=Mark.READ, document="WAC 296-876-60075")
INCH_M = 0.0254
SHORT = Rule("clearance/ladder-ends-short", "Foot of the ladder", Weight.WARNS, GEOMETRY)
PUBLISHED = Rule(
    "clearance/cage-off-published", "Cage or well against published sizes", Weight.NOTES, CAGES
)
TIGHT = Rule(
    "clearance/cage-too-tight", "Person on the line in cage or well", Weight.BLOCKS, GEOMETRY
)
PAIR = Rule("clearance/cage-blocks-pair", "Two people in cage or well", Weight.BLOCKS, GEOMETRY)
ADVICE = "Raise the casualty beside the cage, open the cage, or lift one at a time; then state it."


def _ladders(scene: Scene) -> Iterator[tuple[Way, Ladder]]:
    """The ladder, for every way out whose lift it shares the column with."""
    if scene.space.ladder is not None:
        yield from ((way, scene.space.ladder) for way in scene.ways() if is_raised_from_above(way))


def check_ladder_end(scene: Scene) -> Iterator[Finding]:
    """The ladder goes down to the floor: below its foot nothing guides, and it catches the head."""
    for way, ladder in _ladders(scene):
        needs, key, (down, tail) = Needs(), scene.key("ladder.to_depth"), scene.down
        floor = needs.take("z", "depth", down, Unit.M, scene.key(tail))
        foot = needs.take("z_foot", "lowest rung", ladder.to_depth, Unit.M, key)
        gap = scene.defaults.of("ladder-gap")
        yield compare(
            SHORT,
            way,
            needs,
            partial(
                Working, max(0.0, floor.value - foot.value), "max(0, z - z_foot)", (floor, foot)
            ),
            Relation.AT_MOST,
            gap,
            result=("g_foot", "column without a guide below the ladder", Unit.M),
            settle_by=f"Lengthen the ladder to {floor.value - gap.value:.2f} m down, or guide the "
            "casualty past its foot from below.",
            keys=(key,),
        )


def _guards(scene: Scene) -> Iterator[tuple[Way, Ladder, Needs]]:
    """The cage or well, or what is not said of it."""
    for way, ladder in _ladders(scene):
        needs = Needs()
        needs.say(ladder.guard, scene.key("ladder.guard"))
        if ladder.guard != "none":
            yield way, ladder, needs


def check_cage_published(scene: Scene) -> Iterator[Finding]:
    """Cage and well have the sizes of a published rule; a note, whichever rule holds here."""
    for way, ladder, needs in list(_guards(scene))[:1]:
        wide, deep = _sizes(scene, ladder, needs)
        inches = 30 if ladder.guard == "well" else 27
        for size, relation, limit, about in (
            (wide, Relation.AT_LEAST, inches, "width"),
            (deep, Relation.AT_LEAST, 27, "least depth"),
            (deep, Relation.AT_MOST, 30, "most depth"),
        ):
            yield compare(
                PUBLISHED,
                way,
                needs,
                partial(Working, size.value, size.symbol, (size,)),
                relation,
                _published(ladder, limit),
                result=("s_guard", size.label, Unit.M),
                settle_by="Compare with the rule that holds here; "
                f"{limit * INCH_M:.3f} m ({limit} in) is Washington's.",
                keys=(scene.key("ladder.guard_width"), scene.key("ladder.guard_depth")),
                about=about,
            )


def _published(ladder: Ladder, inches: int) -> Quantity:
    source = WELLS if ladder.guard == "well" else CAGES
    label = f"{ladder.guard}, published"
    written = f"{inches} in"
    return Quantity(
        symbol="s_pub",
        label=label,
        value=inches * INCH_M,
        unit=Unit.M,
        source=source,
        written=written,
    )


def _sizes(scene: Scene, ladder: Ladder, needs: Needs) -> tuple[Quantity, Quantity]:
    key = scene.key("ladder.guard")
    return (
        needs.take("w_g", "clear width", ladder.guard_width, Unit.M, f"{key}_width"),
        needs.take("d_g", "rungs to the far side", ladder.guard_depth, Unit.M, f"{key}_depth"),
    )


def check_cage_fit(scene: Scene) -> Iterator[Finding]:
    """Whoever is on the line inside a cage or well has room there, alone and in pairs.

    The section is taken as a rectangle; hoops that narrow it are measured where they do.
    """
    for way, ladder, needs in _guards(scene):
        needs.say(ladder.lift_inside, scene.key("ladder.lift_inside"))
        if ladder.lift_inside is not False:
            yield from _fits(way, ladder, needs)


def _fits(way: Way, ladder: Ladder, needs: Needs) -> Iterator[Finding]:
    scene = way.scene
    wide, deep = _sizes(scene, ladder, needs)
    for who, body in _people(way):
        allowance, carried = body.allowance, body.carried[1:] if body.carried else ()
        yield _held_against(TIGHT, way, needs, (*body.inputs, allowance), wide, f"{who}, width")
        parts = (body.depth, *carried, allowance)
        yield _held_against(TIGHT, way, needs, parts, deep, f"{who}, depth")
    yield from _pair(way, needs, deep)


def _people(way: Way) -> Iterator[tuple[str, Body]]:
    """Everybody who may hang in the line there: entrants, and rescuers in their sets."""
    scene = way.scene
    for person in scene.entrants:
        yield person.name, arms_down(scene, person)
    for person in way.crew(CrewRole.ENTRY):
        body = arms_down(scene, person)
        yield f"{person.name} as rescuer", with_set(body, way) if way.method.breathing_set else body


def _pair(way: Way, needs: Needs, deep: Quantity) -> Iterator[Finding]:
    """Somebody rides along, front to back with the thickest entrant."""
    rig, scene = way.rig, way.scene
    if rig is None or rig.rides_along is None:
        return
    rider = arms_down(scene, scene.person(rig.rides_along))
    carried = with_set(rider, way).carried if way.method.breathing_set else None
    thick = max(
        (size_of(scene, one, "body-depth") for one in scene.entrants), key=lambda one: one.value
    )
    front = derived("D_c", "depth of the casualty", thick.value, Unit.M, "the thickest", (thick,))
    parts = (rider.depth, front, *(carried[1:] if carried else ()), rider.allowance)
    yield _held_against(PAIR, way, needs, parts, deep, "depth")


def _held_against(
    rule: Rule, way: Way, needs: Needs, parts: tuple[Quantity, ...], size: Quantity, about: str
) -> Finding:
    total_m, key = sum(one.value for one in parts), way.scene.key("ladder")
    return compare(
        rule,
        way,
        needs,
        partial(Working, total_m, " + ".join(one.symbol for one in parts), parts),
        Relation.AT_MOST,
        size,
        result=("s_need", f"{about.rpartition(', ')[2]} needed", Unit.M),
        settle_by=f"{ADVICE} It needs {total_m:.3f} m clear.",
        keys=(f"{key}.guard_width", f"{key}.guard_depth", f"{key}.lift_inside"),
        about=about,
        slack=way.scene.defaults.of("opening-warning").value,
    )
