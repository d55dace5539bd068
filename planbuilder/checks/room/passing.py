"""Clearance: do casualty and rescuer pass the opening."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.casualty import body_size
from planbuilder.checks.scene import (
    Scene,
    Way,
    Working,
    derived,
    finding,
    output,
    stated,
)
from planbuilder.clearance.outline import Outline, enclosing_diameter_m, short_side_needed_m
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.people import Person
from planbuilder.site.space import CrewRole, MethodKind, OpeningShape

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
CASUALTY = Rule(
    "clearance/casualty-too-wide", "Casualty through the opening", Weight.BLOCKS, GEOMETRY
)
RESCUER = Rule(
    "clearance/rescuer-with-set-too-big",
    "Rescuer with breathing set through the opening",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.146 App F", clause="A.II.7, B.8"),
)


def check_casualty_passes(scene: Scene) -> Iterator[Finding]:
    """The broadest entrant, arms down and clothed, passes the smallest clear opening."""
    if not scene.space.is_confined:
        return
    needs = [_passage(scene, person, None) for person in scene.entrants]
    yield from _worst_passage(scene, CASUALTY, needs, "")


def check_rescuer_passes(scene: Scene) -> Iterator[Finding]:
    """Whoever must go in with a set on the back passes the opening with it."""
    for way in scene.ways():
        if way.method.method is not MethodKind.ENTRY or not scene.space.is_confined:
            continue
        team = way.crew(CrewRole.ENTRY) + way.crew(CrewRole.BACK_UP)
        needs = [_passage(scene, person, way) for person in team or (None,)]
        yield from _worst_passage(scene, RESCUER, needs, way.name)


def _worst_passage(
    scene: Scene, rule: Rule, needs: list[Working | tuple[str, ...]], about: str
) -> Iterator[Finding]:
    opening = scene.space.opening
    missing = next((one for one in needs if isinstance(one, tuple)), None)
    name = "diameter" if opening.shape is OpeningShape.ROUND else "width"
    keys = missing or (scene.key(f"opening.{name if opening.shape else 'shape'}"),)
    available = _available(scene)
    outcome: Compared | Missing
    if missing or available is None:
        outcome = Missing(because="the smallest clear opening is not measured")
    else:
        worst = max((one for one in needs if isinstance(one, Working)), key=lambda n: n.value)
        outcome = worst.against(
            Relation.AT_MOST,
            available,
            result=output("d_need", "opening needed", Unit.M),
            slack=scene.defaults.of("opening-warning").value,
        )
    yield finding(
        rule,
        outcome,
        settle_by="Measure the smallest clear opening inside gasket, hinge and ladder stub; if "
        "it is too small, plan another way out or other people.",
        keys=keys,
        space=scene.space,
        about=about,
    )


def _available(scene: Scene) -> Quantity | None:
    opening = scene.space.opening
    if opening.shape is OpeningShape.ROUND:
        if opening.diameter is None:
            return None
        return scene.given(
            "d_clear", "clear diameter", opening.diameter, Unit.M, "opening.diameter"
        )
    if opening.shape is None or opening.width is None or opening.length is None:
        return None
    short, key = min((opening.width, "width"), (opening.length, "length"), key=lambda o: o[0].m)
    return scene.given("d_clear", "clear short side", short, Unit.M, f"opening.{key}")


def _passage(scene: Scene, person: Person | None, way: Way | None) -> Working | tuple[str, ...]:
    """The clear diameter or short side that one person needs, with a set where *way* is given."""
    breadth, depth = (_size(scene, person, name) for name in ("shoulder-breadth", "body-depth"))
    allowance = scene.defaults.of("opening-allowance")
    width, thickness = _breathing_set(way) if way else (None, None)
    outline = Outline(
        breadth_m=breadth.value + allowance.value,
        depth_m=depth.value + allowance.value,
        set_width_m=width.value if width else 0.0,
        set_depth_m=thickness.value if thickness else 0.0,
    )
    body = (breadth, depth, allowance)
    if scene.space.opening.shape is OpeningShape.ROUND:
        if width is None or thickness is None:
            return Working(enclosing_diameter_m(outline), "max(B, D) + c", body)
        return _round_with_set(outline, (*body, width, thickness))
    return _rectangular(scene, outline, body, width, thickness)


def _round_with_set(outline: Outline, inputs: tuple[Quantity, ...]) -> Working:
    bare = Outline(
        breadth_m=inputs[0].value,
        depth_m=inputs[1].value,
        set_width_m=outline.set_width_m,
        set_depth_m=outline.set_depth_m,
    )
    circle_m = enclosing_diameter_m(bare)
    note = "smallest circle round the body ellipse B x D and the set w_set x d_set on its back"
    circle = derived("d_circle", "circle round body and set", circle_m, Unit.M, note)
    return Working(circle_m + inputs[2].value, "d_circle + c", (*inputs, circle))


def _rectangular(
    scene: Scene,
    outline: Outline,
    body: tuple[Quantity, ...],
    width: Quantity | None,
    thickness: Quantity | None,
) -> Working | tuple[str, ...]:
    opening = scene.space.opening
    if opening.width is None or opening.length is None:
        return tuple(scene.key(f"opening.{one}") for one in ("width", "length"))
    long_side, key = max(
        (opening.width, "width"), (opening.length, "length"), key=lambda one: one[0].m
    )
    side = scene.given("L_side", "clear long side", long_side, Unit.M, f"opening.{key}")
    needed_m = short_side_needed_m(outline, long_side_m=long_side.m)
    if width is None or thickness is None:
        formula = "max(min(B, D) + c, sqrt(max(0, (B + c)**2 + (D + c)**2 - L_side**2)))"
        return Working(needed_m, formula, (*body, side))
    note = "least short side over all rotations of body ellipse and set in the opening"
    turned = derived("d_turned", "short side for body and set", needed_m, Unit.M, note)
    return Working(needed_m, "d_turned", (*body, width, thickness, side, turned))


def _size(scene: Scene, person: Person | None, name: str) -> Quantity:
    default = scene.defaults.of(name)
    return default if person is None else body_size(person, name, default)


def _breathing_set(way: Way) -> tuple[Quantity, Quantity]:
    scene = way.scene
    width, depth = scene.defaults.of("set-width"), scene.defaults.of("set-depth")
    item = scene.equipment(way.method.breathing_set) if way.method.breathing_set else None
    key = f"equipment.{item.id}" if item else ""
    if item and item.width:
        width = stated("w_set", "width of the set", item.width, Unit.M, f"{key}.width")
    if item and item.depth:
        depth = stated("d_set", "depth of the set", item.depth, Unit.M, f"{key}.depth")
    return width, depth
