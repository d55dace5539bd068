"""Clearance: the line to a casualty who lies aside, at the rim of the opening."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.casualty import edge_load_factor, weight
from planbuilder.checks.room.aside import Aside, asides, rim
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.clearance.line import farthest_casualty_m, line_at_m, rim_turn_rad
from planbuilder.findings import Finding, Mark, Quantity, Relation, Rule, Source, Unit, Weight
from planbuilder.haul.friction import edge_factor
from planbuilder.haul.redirect import resultant_n
from planbuilder.tables import table

STATICS = Source(mark=Mark.DERIVED, document="Statics")
RIM = Rule("clearance/line-on-rim", "Line to the casualty at the rim", Weight.WARNS, STATICS)
FRICTION = Rule(
    "clearance/rim-friction-not-counted",
    "Friction of the line over the rim counted",
    Weight.BLOCKS,
    STATICS,
)
RIM_MATERIAL = "concrete"  # the roughest of the table: nobody states what a rim is made of


def check_rim(scene: Scene) -> Iterator[Finding]:
    """The line from the head to the casualty clears the rim."""
    for aside in asides(scene):
        needs = Needs()
        needs.also(aside.needs)
        half, neck = rim(aside, needs)
        gap = scene.defaults.of("line-rim-gap")
        note, room_m = "R_op - m_l", half.value - gap.value
        yield compare(
            RIM,
            aside.way,
            needs,
            partial(_at_rim, aside, neck),
            Relation.AT_MOST,
            derived("x_room", "room for the line", room_m, Unit.M, note, (half, gap)),
            result=("x_rim", "line off the centre at the rim", Unit.M),
            settle_by=_rim_advice(aside, needs, half, neck, room_m),
            keys=(scene.key("lies_off"), aside.way.key("rig.drag.length")),
        )


def _at_rim(aside: Aside, neck: Quantity) -> Working:
    at_m = line_at_m(
        head_off_m=aside.off.value,
        casualty_off_m=aside.left_m,
        head_height_m=aside.hook.value,
        depth_m=aside.depth.value,
        at_m=neck.value,
    )
    formula = "e + (max(0, x_c - l_drag) - e)*(h_h + e_n)/(h_h + z_a)"
    return Working(at_m, formula, (*aside.inputs, neck))


def _rim_advice(aside: Aside, needs: Needs, half: Quantity, neck: Quantity, room_m: float) -> str:
    """The drag that clears the rim, and what the rim takes from the line until then."""
    most_m = needs.work(
        lambda: farthest_casualty_m(
            head_off_m=aside.off.value,
            room_m=room_m,
            head_height_m=aside.hook.value,
            depth_m=aside.depth.value,
            at_m=neck.value,
        )
    )
    if math.isnan(most_m):
        return "Place the head above the rim and the casualty below it, and state the sizes again."
    drag_m, load_n = max(0.0, aside.lies.value - most_m), weight(aside.way).value
    turn_rad = _turn_rad(aside, half, neck, aside.left_m)
    pressed_n = resultant_n(
        first_n=load_n,
        second_n=load_n * edge_factor([(_mu(), turn_rad)]),
        between_rad=math.pi - turn_rad,
    )
    return (
        f"Drag the casualty {drag_m:.2f} m along the floor first, to within {most_m:.2f} m of "
        f"under the opening, or put a roller on the rim: it would take {pressed_n:.0f} N."
    )


def _mu() -> float:
    mu: float = table("friction")[RIM_MATERIAL]["mu"]
    return mu


def _turn_rad(aside: Aside, half: Quantity, neck: Quantity, off_m: float) -> float:
    return rim_turn_rad(
        head_off_m=aside.off.value,
        rim_m=half.value,
        casualty_off_m=off_m,
        head_height_m=aside.hook.value,
        depth_m=aside.depth.value,
        at_m=neck.value,
    )


def check_rim_friction(scene: Scene) -> Iterator[Finding]:
    """A line that bears on the rim has its friction among the edges of the plan.

    A planned drag does not spare it: the line runs over the rim while it drags. What the rim is
    covered with is for the plan to say: an edge of at least this turn counts, as what it is.
    """
    for aside in asides(scene):
        needs, way = Needs(), aside.way
        needs.also(aside.needs)
        half, neck = rim(aside, needs)
        turn_rad = needs.work(partial(_turn_rad, aside, half, neck, aside.lies.value))
        if not turn_rad > 0:
            continue
        counted = _turn_counted(way, needs)
        note = "below less above the rim"
        of = (aside.lies, aside.off, aside.hook, aside.depth, half, neck)
        beta = derived("beta", "turn over the rim", turn_rad, Unit.RAD, note, of)
        yield compare(
            FRICTION,
            way,
            needs,
            partial(Working, turn_rad, "beta", (beta,)),
            Relation.AT_MOST,
            counted,
            result=("beta_r", "turn of the line over the rim", Unit.RAD),
            settle_by="Put a roller or padding on the rim, and state it among edges with a turn of "
            f"{_degrees_up(turn_rad)} deg; or keep the casualty nearer.",
            keys=(way.key("rig.edges"), scene.key("lies_off")),
        )


def _turn_counted(way: Way, needs: Needs) -> Quantity:
    """How far the line turns over the edges whose friction the plan counts."""
    needs.keep(edge_load_factor(way), way.key("rig.edges"))
    edges = (way.rig.edges if way.rig else None) or []
    turn_rad = sum(abs(one.turn.rad) for one in edges)
    names = ", ".join(f"{one.material} {one.turn.written}" for one in edges)
    return derived("beta_e", "turn over edges", turn_rad, Unit.RAD, names or "no edge is stated")


def _degrees_up(turn_rad: float) -> str:
    """Whole tenths of a degree, not less than the turn."""
    return f"{math.ceil(math.degrees(turn_rad) * 10) / 10:.1f}" if turn_rad > 0 else "its own"
