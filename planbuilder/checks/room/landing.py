"""Clearance: from over the opening to the ground: turn of the boom, its sweep, the landing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.lengths import up
from planbuilder.checks.room.place import clear_sides
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, output
from planbuilder.clearance.place import swept_radius_m, swing_to_land_rad
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.site.opening import OpeningShape
from planbuilder.site.rig import Rig

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
OWN = Source(mark=Mark.CHOICE, note="room for a casualty and those who kneel beside")
TURN = Rule("clearance/swing-too-short", "Turn of the boom to land", Weight.WARNS, GEOMETRY)
SWEEP = Rule(
    "clearance/boom-sweep-blocked", "Casualty clear while the boom turns", Weight.WARNS, GEOMETRY
)
SMALL = Rule("clearance/landing-too-small", "Size of the landing place", Weight.WARNS, OWN)
NEAR = Rule("clearance/landing-near-opening", "Landing off the opening", Weight.WARNS, OWN)


def _turning(scene: Scene) -> Iterator[tuple[Way, Rig]]:
    """The ways out whose boom turns."""
    for way in scene.ways():
        rig = way.rig
        if rig and rig.swing_from is not None and rig.swing_to != rig.swing_from:
            yield way, rig


def check_turn(scene: Scene) -> Iterator[Finding]:
    """The boom turns far enough to put the casualty down clear of a round opening."""
    if not scene.space.is_confined or scene.space.opening.shape is not OpeningShape.ROUND:
        return
    for way, rig in _turning(scene):
        needs = Needs()
        clear, half = clear_sides(scene, needs), half_casualty(scene)
        reach = needs.take("a", "reach", rig.reach, Unit.M, way.key("rig.reach"))
        keys = (way.key("rig.swing_from"), way.key("rig.swing_to"))
        first = needs.take("psi_from", "turn one way", rig.swing_from, Unit.RAD, keys[0])
        last = needs.take("psi_to", "turn the other way", rig.swing_to, Unit.RAD, keys[1])
        gap = scene.defaults.of("landing-gap")
        if isinstance(clear, tuple):
            continue
        least_rad = needs.work(partial(_turn_rad, reach, clear, half, gap))
        note = "2*asin((d_clear/2 + b_c + g_l)/(2*a))"
        parts = (clear, half, gap, reach)
        yield compare(
            TURN,
            way,
            needs,
            partial(_most_turned, first, last),
            Relation.AT_LEAST,
            derived("psi_least", "turn needed", least_rad, Unit.RAD, note, parts),
            result=("psi", "turn from over the opening", Unit.RAD),
            settle_by=f"Turn the boom {math.ceil(math.degrees(least_rad))} deg from over the "
            "opening, or take the casualty over the rim by hand."
            if math.isfinite(least_rad)
            else "Use a longer boom, or take the casualty over the rim by hand.",
            keys=keys,
        )


def _turn_rad(reach: Quantity, clear: Quantity, half: Quantity, gap: Quantity) -> float:
    return swing_to_land_rad(
        reach_m=reach.value,
        opening_m=clear.value / 2,
        half_casualty_m=half.value,
        gap_m=gap.value,
    )


def _most_turned(first: Quantity, last: Quantity) -> Working:
    """The opening lies at angle nought: the larger of the two turns counts."""
    return Working(max(-first.value, last.value), "max(-psi_from, psi_to)", (first, last))


def half_casualty(scene: Scene) -> Quantity:
    """Half the breadth of the broadest entrant, clothed."""
    breadth, allowance = largest(scene, "shoulder-breadth"), scene.defaults.of("opening-allowance")
    half_m = (breadth.value + allowance.value) / 2
    parts = (breadth, allowance)
    return derived("b_c", "half the casualty", half_m, Unit.M, "(B + c)/2", parts)


def check_sweep(scene: Scene) -> Iterator[Finding]:
    """Nothing stands in the ring that the casualty sweeps round the mast."""
    for way, rig in _turning(scene):
        if rig.swing_clear_to is None:
            continue
        needs, key = Needs(), way.key("rig.swing_clear_to")
        clear = needs.take("r_free", "free round the mast", rig.swing_clear_to, Unit.M, key)
        reach = needs.take("a", "reach", rig.reach, Unit.M, way.key("rig.reach"))
        half, gap = half_casualty(scene), scene.defaults.of("landing-gap")
        swept = partial(_swept, reach, half, gap)
        yield compare(
            SWEEP,
            way,
            needs,
            swept,
            Relation.AT_MOST,
            clear,
            result=("r_swept", "swept round the mast", Unit.M),
            settle_by=f"Clear {up(swept().value)} m round the mast, which the casualty sweeps, or "
            "turn the other way.",
            keys=(key,),
        )


def _swept(reach: Quantity, half: Quantity, gap: Quantity) -> Working:
    swept_m = swept_radius_m(reach_m=reach.value, half_casualty_m=half.value, gap_m=gap.value)
    return Working(swept_m, "a + b_c + g_l", (reach, half, gap))


def check_landing(scene: Scene) -> Iterator[Finding]:
    """Where the casualty is put down holds them and those who kneel beside, off the opening."""
    landing = scene.space.landing
    if landing is None:
        return
    sides = sorted(
        (
            scene.given(
                "l_land", "length of the landing", landing.length, Unit.M, "landing.length"
            ),
            scene.given("w_land", "width of the landing", landing.width, Unit.M, "landing.width"),
        ),
        key=lambda one: -one.value,
    )
    for side, name, about in zip(sides, ("landing-length", "landing-width"), _SIDES, strict=True):
        yield _at_least(scene, SMALL, side, name, f"on its {about}", about)
    off = scene.given(
        "g_land", "opening to the landing", landing.from_opening, Unit.M, "landing.from_opening"
    )
    yield _at_least(scene, NEAR, off, "landing-off", "off the opening", "")


_SIDES = ("longer side", "shorter side")


def _at_least(
    scene: Scene, rule: Rule, value: Quantity, default: str, where: str, about: str
) -> Finding:
    least = scene.defaults.of(default)
    tail = {"l_land": "length", "w_land": "width", "g_land": "from_opening"}[value.symbol]
    return finding(
        rule,
        Working(value.value, value.symbol, (value,)).against(
            Relation.AT_LEAST,
            least,
            result=output(value.symbol, value.label, Unit.M),
        ),
        settle_by=f"Clear a place of {up(least.value)} m {where}, and mark it before entry."
        if rule is SMALL
        else f"Clear a place {up(least.value)} m {where}, and mark it before entry.",
        keys=(scene.key(f"landing.{tail}"),),
        space=scene.space,
        about=about,
    )
