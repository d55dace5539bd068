"""Clearance: a stiff stretcher past the bends of the way out, level or up into a shaft."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.room.stretchers import GEOMETRY, Packing, packing
from planbuilder.checks.scene import Scene, Working, derived, finding
from planbuilder.clearance.stretcher import (
    longest_past_corner_m,
    longest_round_bend_m,
    slot_of_oval_m,
)
from planbuilder.findings import Finding, Missing, Quantity, Relation, Rule, Unit, Weight
from planbuilder.site.opening import Bend
from planbuilder.site.travel import Carrying
from planbuilder.units import Length

BEND = Rule("clearance/stretcher-past-bend", "Stretcher past a bend", Weight.BLOCKS, GEOMETRY)


def check_bends(scene: Scene) -> Iterator[Finding]:
    """A stretcher is no longer than what passes each bend; a way up from a crawl has a bend."""
    loads = [load for way in scene.ways() if (load := packing(way)) is not None]
    for load in loads:
        for number, bend in enumerate(scene.space.bend, start=1):
            yield _Passing(load, bend, scene.key(f"bend[{number}]")).finding()
    if loads and _turns_up(scene) and not any(one.plane == "upright" for one in scene.space.bend):
        why = "out of the crawled stretch the casualty is raised, and no upright bend is stated"
        yield finding(
            BEND,
            Missing(because=why),
            settle_by="Measure the clear height of the crawled stretch and the clear length of the "
            'shaft above it, and state them as a bend with plane = "upright".',
            keys=(scene.key("bend"),),
            space=scene.space,
        )


def _turns_up(scene: Scene) -> bool:
    """A stretch that is crawled, and one on which the casualty is raised."""
    route = scene.space.route
    is_raised = any(one.coming_out is Carrying.RAISED for one in route)
    return is_raised and any(one.crawlway is not None for one in route)


class _Passing:
    """One packed casualty at one bend: which side lies in the plane of the turn."""

    def __init__(self, load: Packing, bend: Bend, key: str) -> None:
        self.load, self.bend, self.key, self.needs = load, bend, key, Needs()
        self.needs.also(load.needs)
        self.needs.say(bend.plane, f"{key}.plane")
        self.needs.say(bend.round_bore, f"{key}.round_bore")
        # Carried flat, the width lies in a level turn and the depth in an upright one.
        is_broad = (bend.plane == "level") is not bend.on_side
        self.thick = load.width if is_broad else load.depth
        self.across = load.depth if is_broad else load.width

    def _clear(self, symbol: str, label: str, amount: Length | None, tail: str) -> Quantity:
        """A clear width in the plane of the turn: in a round bore the chord that is left."""
        whole = self.needs.take(symbol, label, amount, Unit.M, f"{self.key}.{tail}")
        if not self.bend.round_bore:
            return whole
        left_m = self.needs.work(
            lambda: slot_of_oval_m(
                long_axis_m=whole.value, short_axis_m=whole.value, breadth_m=self.across.value
            )
        )
        note = f"sqrt({symbol}_bore**2 - {self.across.symbol}**2)"
        bore = replace(whole, symbol=f"{symbol}_bore")
        return derived(symbol, label, left_m, Unit.M, note, (bore, self.across))

    def _longest(self) -> tuple[float, tuple[Quantity, ...], str]:
        bend, thick = self.bend, self.thick
        if bend.radius is not None or bend.width is not None:
            radius = self.needs.take("R", "radius", bend.radius, Unit.M, f"{self.key}.radius")
            wide = self._clear("W_b", "clear width", bend.width, "width")
            longest_m = self.needs.work(
                lambda: longest_round_bend_m(
                    radius_m=radius.value, width_m=wide.value, thickness_m=thick.value
                )
            )
            return longest_m, (radius, wide), "round bend"
        before = self._clear("a", "clear width before", bend.before, "before")
        after = self._clear("b", "clear width after", bend.after, "after")
        turn = self.needs.take("delta", "turn", bend.turn, Unit.RAD, f"{self.key}.turn")
        longest_m = self.needs.work(
            lambda: longest_past_corner_m(
                before_m=before.value,
                after_m=after.value,
                turn_rad=turn.value,
                thickness_m=thick.value,
            )
        )
        return longest_m, (before, after, turn), "corner"

    def finding(self) -> Finding:
        """The length that is carried past against the longest that passes."""
        longest_m, sizes, name = self._longest()
        note = f"longest box of thickness {self.thick.symbol} past the {name}"
        limit = derived(
            "L_max", "longest that passes", longest_m, Unit.M, note, (*sizes, self.thick)
        )
        length = self.load.length
        return compare(
            BEND,
            self.load.way,
            self.needs,
            lambda: Working(length.value, "L_s", (length,)),
            Relation.AT_MOST,
            limit,
            result=("L_need", "length carried past", Unit.M),
            settle_by=f"A stiff part of up to {longest_m - 0.005:.2f} m passes: use a "
            "stretcher that bends, pack the casualty smaller, or widen the way and state its "
            "new sizes.",
            keys=(self.key,),
            about=self.bend.name,
        )
