"""Clearance: the rig under a roof or a pipe rack, as it stands and while it is raised."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.room.lift import Stack, stack_of
from planbuilder.checks.scene import Scene, Way, Working, derived
from planbuilder.clearance.overhead import (
    highest_hook_m,
    raised_tip_m,
    raising_gap_m,
    room_above_head_m,
)
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.rig import Rig
from planbuilder.site.room import Overhead
from planbuilder.site.supports import LeggedBaseDavit, Tripod

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
UNDER = Rule(
    "clearance/rig-under-overhead", "Rig under what hangs over it", Weight.BLOCKS, GEOMETRY
)
WINDOW = Rule(
    "clearance/no-hook-window",
    "Hook height between feet clear and obstruction",
    Weight.WARNS,
    GEOMETRY,
)
RAISING = Rule(
    "clearance/raising-hits-overhead",
    "Raising of the support under what hangs over it",
    Weight.WARNS,
    GEOMETRY,
)


def under_what(way: Way, over: Overhead, needs: Needs) -> tuple[Quantity, Quantity]:
    """The clear height above the rim, and the coaming that the rim stands above grade."""
    scene, label = way.scene, "height of the coaming"
    key = way.key("rig.overhead.clear_height")
    above = needs.take("h_o", "clear height above the rim", over.clear_height, Unit.M, key)
    if not scene.space.is_confined:
        return above, derived("h_c", label, 0.0, Unit.M, "none")
    coaming = scene.space.opening.coaming
    return above, needs.take("h_c", label, coaming, Unit.M, scene.key("opening.coaming"))


class _Room:
    """The room under an obstruction, as measured at one rig."""

    def __init__(self, way: Way, rig: Rig, over: Overhead) -> None:
        scene, self.needs = way.scene, Needs()
        key, take = way.key("rig.overhead"), self.needs.take
        self.above, self.coaming = under_what(way, over, self.needs)
        self.margin = scene.defaults.of("overhead-margin")
        self.hook = take("h_h", "hook height", rig.hook_height, Unit.M, way.key("rig.hook_height"))
        self.head_key = f"{key}.head_above_hook"
        self.over = over

    def head(self) -> Quantity:
        """How far the top of the support stands above the hook; asked for once it is needed."""
        label = "top of the support above the hook"
        return self.needs.take("t_head", label, self.over.head_above_hook, Unit.M, self.head_key)


def _rooms(scene: Scene) -> Iterator[tuple[Way, Rig, _Room]]:
    for way in scene.ways():
        if way.rig is not None and way.rig.overhead is not None:
            yield way, way.rig, _Room(way, way.rig, way.rig.overhead)


def check_under_overhead(scene: Scene) -> Iterator[Finding]:
    """The support as it stands keeps a gap to what hangs over it."""
    for way, _, room in _rooms(scene):
        head = room.head()
        inputs = (room.above, room.coaming, room.hook, head)
        most_m = highest_hook_m(
            clear_above_rim_m=room.above.value,
            coaming_m=room.coaming.value,
            head_above_hook_m=head.value,
            margin_m=room.margin.value,
        )

        def working(
            room: _Room = room, head: Quantity = head, inputs: tuple[Quantity, ...] = inputs
        ) -> Working:
            gap_m = room_above_head_m(
                clear_above_rim_m=room.above.value,
                coaming_m=room.coaming.value,
                hook_height_m=room.hook.value,
                head_above_hook_m=head.value,
            )
            return Working(gap_m, "h_o + h_c - h_h - t_head", inputs)

        yield compare(
            UNDER,
            way,
            room.needs,
            working,
            Relation.AT_LEAST,
            room.margin,
            result=("g_head", "gap above the support", Unit.M),
            settle_by=f"Set the mast lower, the hook at most {down(most_m)} m up, or rig from the "
            "structure above instead.",
            keys=(way.key("rig.overhead.clear_height"), way.key("rig.hook_height")),
        )


def check_window(scene: Scene) -> Iterator[Finding]:
    """There is a hook height at which the feet clear the rim and the support fits below."""
    for way, _, room in _rooms(scene):
        if not scene.space.is_confined:
            continue
        stack, head = stack_of(way), room.head()
        if isinstance(stack, tuple):
            room.needs.missing += [one for one in stack if one not in room.needs.missing]
        most_m = _most_m(room, head)
        parts = (room.above, room.coaming, room.margin, head)
        most = derived(
            "h_most", "hook height allowed", most_m, Unit.M, "h_o + h_c - m_o - t_head", parts
        )
        yield answer(
            WINDOW,
            way,
            room.needs,
            _held_under(stack, most),
            settle_by=f"The hook may stand at most {most_m:.2f} m high: shorten block and "
            f"connectors{_by(stack, most)}, lift by the front attachment, or plan to tip the "
            "casualty out.",
            keys=(way.key("rig.overhead.clear_height"),),
        )


def _most_m(room: _Room, head: Quantity) -> float:
    return highest_hook_m(
        clear_above_rim_m=room.above.value,
        coaming_m=room.coaming.value,
        head_above_hook_m=head.value,
        margin_m=room.margin.value,
    )


def _by(stack: Stack | tuple[str, ...], most: Quantity) -> str:
    """How much shorter they would have to be."""
    if not isinstance(stack, Stack):
        return ""
    lack_m = stack.feet(most).result.value - most.value
    return f" by {up(lack_m)} m" if lack_m > 0 else ""


def _held_under(stack: Stack | tuple[str, ...], most: Quantity) -> Callable[[], Compared]:
    def outcome() -> Compared:
        assert isinstance(stack, Stack)  # noqa: S101 - what is missing was answered before
        return stack.feet(most)

    return outcome


def check_raising(scene: Scene) -> Iterator[Finding]:
    """A mast turns up about its hinge, a folded tripod is stood up, without touching above."""
    for way, rig, room in _rooms(scene):
        support = scene.support(rig.support)
        if isinstance(support, Tripod):
            key = f"support.{support.id}.leg_length"
            leg = room.needs.take("l_leg", "leg length", support.leg_length, Unit.M, key)
            working = _stood_up(room, leg)
        elif isinstance(support, LeggedBaseDavit) or room.over.hinge_height is not None:
            key = way.key("rig.overhead.hinge_height")
            working = _turned_up(way, rig, room)
        else:
            continue
        yield compare(
            RAISING,
            way,
            room.needs,
            working,
            Relation.AT_LEAST,
            room.margin,
            result=("g_up", "gap while it is raised", Unit.M),
            settle_by=f"{_room_to_raise(room, working)}Raise it beside the obstruction and move it "
            "in, or build it up in parts.",
            keys=(way.key("rig.overhead.clear_height"), key),
        )


def _room_to_raise(room: _Room, working: Callable[[], Working]) -> str:
    """The clear height that raising it takes, in words; nothing while a size is missing."""
    gap_m = room.needs.work(lambda: working().value)
    if not math.isfinite(gap_m):
        return ""
    return f"It takes {up(room.above.value + room.margin.value - gap_m)} m clear above the rim. "


def _stood_up(room: _Room, leg: Quantity) -> Callable[[], Working]:
    inputs = (room.above, room.coaming, leg)
    return lambda: Working(
        room.above.value + room.coaming.value - leg.value, "h_o + h_c - l_leg", inputs
    )


def _turned_up(way: Way, rig: Rig, room: _Room) -> Callable[[], Working]:
    take, head = room.needs.take, room.head()
    hinge_key = way.key("rig.overhead.hinge_height")
    hinge = take("h_p", "height of the hinge", room.over.hinge_height, Unit.M, hinge_key)
    reach = take("a", "reach", rig.reach, Unit.M, way.key("rig.reach"))
    beside = derived("x_o", "where it begins beside the hinge", 0.0, Unit.M, "above the hinge")
    if room.over.from_hinge is not None:
        key = way.key("rig.overhead.from_hinge")
        beside = take("x_o", beside.label, room.over.from_hinge, Unit.M, key)

    def working() -> Working:
        tip_m = raised_tip_m(
            hook_height_m=room.hook.value,
            head_above_hook_m=head.value,
            hinge_height_m=hinge.value,
            reach_m=reach.value,
        )
        gap_m = raising_gap_m(
            underside_m=room.above.value + room.coaming.value,
            from_hinge_m=beside.value,
            hinge_height_m=hinge.value,
            tip_m=tip_m,
        )
        inputs = (beside, room.above, room.coaming, hinge, room.hook, head, reach)
        corner = "sqrt(x_o**2 + max(0, h_o + h_c - h_p)**2)"
        return Working(gap_m, f"{corner} - sqrt((h_h + t_head - h_p)**2 + a**2)", inputs)

    return working
