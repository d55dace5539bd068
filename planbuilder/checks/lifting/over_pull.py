"""A load that jams: what the whole team could pull, what gives way first, who calls stop."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.lifting.hauling import people_named
from planbuilder.checks.lifting.raise_time import parts_at_load
from planbuilder.checks.lifting.rope_systems import RopePull, rope_pull, rope_systems
from planbuilder.checks.scene import Scene, Way, Working, derived, stated
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.ropes import anchor_load_n
from planbuilder.haul.strokes import most_people, peak_force_n
from planbuilder.site.equipment import RopeSystem

OVER_PULL = Rule(
    "haul/over-pull",
    "Strongest pull of the team on a jammed load",
    Weight.WARNS,
    Source(mark=Mark.DERIVED, document="Statics"),
)
STOP_WORD = Rule(
    "haul/no-word-if-it-stops",
    "What the haulers do when the load stops",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a team that pulls on at a jam breaks rope or casualty"),
)


def check_over_pull(scene: Scene) -> Iterator[Finding]:
    """The whole team pulling its strongest on a jammed load breaks nothing.

    Losses are left out: they could only make it less.
    """
    strongest, pull = (
        scene.defaults.of(one) for one in ("strongest-pull-ratio", "force-per-person-short")
    )
    for way, device in rope_systems(scene):
        key, needs, people = f"device.{device.id}", Needs(), people_named(way)
        slips = needs.take(
            "F_weak",
            "load at which the grab slips",
            device.grab_slips_at,
            Unit.N,
            f"{key}.grab_slips_at",
        )
        parts = _parts(way, device, slips, needs)
        weakest = min(parts, key=lambda one: one.value)
        each_n = strongest.value * pull.value

        def working() -> Working:
            advantage = rope_pull(scene, device).ideal
            value = peak_force_n(
                people=int(people.value), strongest_pull_n=each_n, ideal_advantage=advantage.value
            )
            return Working(value, "n_haul*k_max*f_p*TMA", (people, strongest, pull, advantage))

        most = needs.work(
            lambda: most_people(
                ratings_n=[one.value for one in parts],
                strongest_pull_n=each_n,
                ideal_advantage=rope_pull(scene, device).ideal.value,
            )
        )
        yield compare(
            OVER_PULL,
            way,
            needs,
            working,
            Relation.AT_MOST,
            weakest,
            result=("F_peak", "strongest pull of the team at the load", Unit.N),
            settle_by=f"At most {most:.0f} people may pull as hard as they can on a load that "
            "does not move: stop when it stops, then look for the jam.",
            keys=(f"{key}.grab_slips_at", way.key("crew")),
        )


def _parts(way: Way, device: RopeSystem, slips: Quantity, needs: Needs) -> tuple[Quantity, ...]:
    """Every known rating along the load's way, as the load on the line that would reach it."""
    try:
        rope = rope_pull(way.scene, device)
    except ValueError as error:
        needs.refused = str(error)
        return (slips,)
    return tuple(
        one for one in (slips, _pulley(device, rope), _line(way, device), _anchor(way, rope)) if one
    )


def _pulley(device: RopeSystem, rope: RopePull) -> Quantity | None:
    """The load at which the hardest loaded sheave reaches its rating."""
    if device.pulley_rating is None or rope.hardest_ideal.value == 0:
        return None
    key = f"device.{device.id}.pulley_rating"
    rating = stated("F_p", "rating of a pulley", device.pulley_rating, Unit.N, key)
    value = rating.value * rope.ideal.value / rope.hardest_ideal.value
    note = f"F_p*TMA/k_s, {device.pulley_rating.written} on the hardest loaded sheave"
    return _weak("load at which a pulley reaches its rating", value, note, rating)


def _line(way: Way, device: RopeSystem) -> Quantity | None:
    """The load at which the line breaks at its knot: all strands at the load share it."""
    if device.line_breaking is None or device.termination is None:
        return None
    key = f"device.{device.id}.line_breaking"
    breaks = stated("F_break", "breaking strength", device.line_breaking, Unit.N, key)
    value = breaks.value * device.termination * parts_at_load(way.scene, device).value
    return _weak("load at which the line breaks", value, "F_break*E_term*n_parts", breaks)


def _anchor(way: Way, rope: RopePull) -> Quantity | None:
    """The load at which the support reaches its rating, the haulers' pull on top of it.

    A jam is rare and short as a caught fall is: where the head is rated for that, it counts.
    """
    support = way.scene.support(way.rig.support) if way.rig else None
    if support is None:
        return None
    rated = support.arrest_load or support.rated_load
    if rated is None:
        return None
    key = f"support.{support.id}.{'arrest_load' if support.arrest_load else 'rated_load'}"
    rating = stated("F_rated", f"rating of {support.name}", rated, Unit.N, key)
    over = anchor_load_n(system_load_n=1.0, haul_force_n=1 / rope.ideal.value)
    label = f"load at which {support.name} reaches its rating"
    return _weak(label, rating.value / over, "F_rated/(1 + 1/TMA)", rating)


def _weak(label: str, value: float, note: str, of: Quantity) -> Quantity:
    return derived("F_weak", label, value, Unit.N, note, (of,))


def check_stop_word(scene: Scene) -> Iterator[Finding]:
    """The method says that a load that stops is looked at, and not pulled harder."""
    for way, _ in rope_systems(scene):
        words, key, needs = way.method.if_it_stops, way.key("if_it_stops"), Needs()
        needs.say(words, key)
        yield answer(
            STOP_WORD,
            way,
            needs,
            lambda: Stated(holds=True, because=words or ""),
            settle_by="Say in if_it_stops who calls stop, and what is looked at before more pull.",
            keys=(key,),
        )
