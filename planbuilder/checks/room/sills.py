"""Clearance: sill of a side manway inside and outside, and the table that takes the casualty."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.scene import Scene, Working
from planbuilder.findings import Compared, Finding, Mark, Relation, Rule, Source, Unit, Weight
from planbuilder.findings import Stated as Said

IGC = Source(mark=Mark.READ, document="IGC Code", clause="3.5.3.1.3")
SILL = Rule("clearance/sill-too-high", "Height of the sill of a side manway", Weight.WARNS, IGC)
LANDING = Rule(
    "clearance/manway-table-too-short",
    "Table outside a side manway",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a casualty drawn out flat needs support over the whole length"),
)
DROP = Rule(
    "clearance/receivers-not-guarded",
    "Drop beside those who receive the casualty at a side manway",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="who draws a casualty out steps backwards"),
)


def check_sill(scene: Scene) -> Iterator[Finding]:
    """A sill is low enough to step over on both sides, or footholds are there."""
    opening = scene.space.opening
    if not opening.from_side or not scene.space.is_confined:
        return
    way, limit = next(scene.ways()), scene.defaults.of("sill-height")
    for side, amount, key in (
        ("inside", scene.space.shape.depth, scene.key("shape.depth")),
        ("outside", opening.sill_outside, scene.key("opening.sill_outside")),
    ):
        needs = Needs()
        sill = needs.take("h_s", f"sill above the floor {side}", amount, Unit.M, key)

        def outcome(sill=sill) -> Compared | Said:  # type: ignore[no-untyped-def]  # noqa: ANN001
            if opening.footholds and sill.value > limit.value:
                return Said(holds=True, because=f"{sill.written}, with footholds")
            return Working(sill.value, "h_s", (sill,)).against(Relation.AT_MOST, limit, result=sill)

        yield answer(
            SILL,
            way,
            needs,
            outcome,
            settle_by="Set steps, gratings or a platform at the sill, at most "
            f"{down(limit.value)} m below it, and state footholds.",
            keys=(key,),
            about=side,
        )


def check_landing(scene: Scene) -> Iterator[Finding]:
    """Where the sill is high, a table outside takes the casualty over the whole length."""
    opening, needs = scene.space.opening, Needs()
    sill, limit = opening.sill_outside, scene.defaults.of("sill-height")
    if not opening.from_side or sill is None or sill.m <= limit.value:
        return
    key, stature = scene.key("opening.landing"), largest(scene, "stature")
    table = needs.take("l_t", "length of the table", opening.landing, Unit.M, key)
    yield compare(
        LANDING,
        next(scene.ways()),
        needs,
        lambda: Working(table.value, "l_t", (table,)),
        Relation.AT_LEAST,
        stature,
        result=("l_land", "length that carries the casualty", Unit.M),
        settle_by=f"Set up a table, shelf or slide board of {up(stature.value)} m at the sill.",
        keys=(key,),
    )


def check_drop(scene: Scene) -> Iterator[Finding]:
    """Those who draw the casualty out of a manway cannot fall far, or are held."""
    opening, key = scene.space.opening, scene.key("opening.drop_outside")
    if not opening.from_side or not scene.space.is_confined:
        return
    needs, guard = Needs(), scene.key("opening.drop_guarded")
    limit = scene.defaults.of("attendant-drop")
    drop = needs.take("h_out", "drop outside", opening.drop_outside, Unit.M, key)

    def outcome() -> Compared | Said:
        if opening.drop_guarded and drop.value > limit.value:
            return Said(holds=True, because=f"{drop.written}, guarded")
        return Working(drop.value, "h_out", (drop,)).against(Relation.AT_MOST, limit, result=drop)

    yield answer(
        DROP,
        next(scene.ways()),
        needs,
        outcome,
        settle_by="Set up guard rails, or hold each of them back by a restraint line, and state "
        f"drop_guarded; a drop of at most {down(limit.value)} m needs neither.",
        keys=(guard,),
    )
