"""Clearance: does the hook stand high enough to lift the casualty out over the rim."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.casualty import largest
from planbuilder.checks.room.lengths import up
from planbuilder.checks.scene import (
    Scene,
    Way,
    Working,
    absent,
    derived,
    finding,
    listed,
    once_a_way,
    output,
    stated,
)
from planbuilder.clearance.lift import (
    Attachment,
    attachment_to_crotch_m,
    attachment_to_toe_m,
    hook_height_needed_m,
    seat_above_rim_m,
)
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
from planbuilder.site.equipment import LoweringDevice

GEOMETRY = Source(mark=Mark.DERIVED, document="Statics")
FEET = Rule(
    "clearance/feet-below-rim", "Hook height for feet clear of the rim", Weight.WARNS, GEOMETRY
)
BLOCKED = Rule(
    "clearance/casualty-blocked",
    "Seat of the casualty above the rim at full lift",
    Weight.BLOCKS,
    GEOMETRY,
)


def check_hook_height(scene: Scene) -> Iterator[Finding]:
    """The hook stands high enough: feet clear of the rim, or at least the seat to tip out."""
    for way in scene.ways():
        if way.rig is None or not (scene.space.is_confined or _over_deck(way)):
            continue
        stack = stack_of(way)
        keys = stack if isinstance(stack, tuple) else (way.key("rig.hook_height"),)
        hook = way.rig.hook_height
        if isinstance(stack, tuple) or hook is None:
            outcomes: tuple[Compared | Missing, ...] = (
                Missing(because=f"{listed(keys)} not given"),
            ) * 2
        else:
            limit = stated("h_h", "hook height", hook, Unit.M, way.key("rig.hook_height"))
            feet, seat = stack.feet(limit), stack.seat(limit)
            outcomes = (feet, seat)
        for rule, outcome, advice in zip((FEET, BLOCKED), outcomes, _ADVICE, strict=True):
            yield finding(
                rule,
                outcome,
                settle_by=_MEASURE
                if isinstance(outcome, Missing)
                else advice.format(higher=_higher(outcome)),
                keys=keys,
                space=scene.space,
                about=way.name,
            )


def _over_deck(way: Way) -> bool:
    """True at a height where the casualty is raised free of the edge, to be swung in over it.

    Whoever is lowered, or hauled over an edge, needs no room under the feet.
    """
    rig = way.rig
    raised = any(one.computed == "haul" for one in way.method.step)
    if rig is None or rig.edges or not raised:
        return False
    return not isinstance(way.scene.device(rig.device), LoweringDevice)


_MEASURE = (
    "Measure hook height, block, connectors and coaming as rigged; state them and the attachment."
)
_ADVICE = (
    "Raise the hook {higher}, or shorten block and connectors by as much; until then two people "
    "must tip the casualty out over the rim, and the leader card says so.",
    "Raise the hook {higher}, shorten block and connectors by as much, or lift by a front or wrist "
    "attachment: at full lift the casualty is still below the rim.",
)


def _higher(compared: Compared) -> str:
    """By how much the hook stands too low; each metre higher gains one."""
    short_m = compared.result.value - compared.limit.value
    short_m = short_m if compared.relation.wants_small else -short_m
    return f"by {up(max(0.0, short_m))} m"


class Stack:
    """Everything between hook and rim, for one way out."""

    def __init__(self, way: Way, between: tuple[Quantity, ...], coaming: Quantity) -> None:
        """Takes what is stated, and the casualty that needs most."""
        assert way.rig is not None  # noqa: S101 - only built for a rig
        assert way.rig.attachment is not None  # noqa: S101 - and only where it is stated
        self.scene, self.between, self.coaming = way.scene, between, coaming
        self.attachment = Attachment(way.rig.attachment.value)
        self.stature = largest(way.scene, "stature")
        self.stretch = way.scene.defaults.of("hanging-stretch")

    def feet(self, hook: Quantity) -> Compared:
        """The hook height that brings the feet clear of the rim, against the one there is."""
        to_toe_m = attachment_to_toe_m(
            attachment=self.attachment,
            stature_m=self.stature.value,
            harness_stretch_m=self.stretch.value,
        )
        note = f"{self.attachment} attachment to toes, from stature, harness stretch, foot droop"
        to_toe = derived("l_AF", "attachment to toes", to_toe_m, Unit.M, note)
        aside, (block, connector, sling) = self.scene.defaults.of("swing-aside"), self.between
        value = hook_height_needed_m(
            block_m=block.value,
            connector_m=connector.value,
            sling_m=sling.value,
            attachment_to_toe_m=to_toe_m,
            coaming_m=self.coaming.value,
            swing_aside_m=aside.value,
        )
        inputs = (*self.between, self.stature, self.stretch, to_toe, self.coaming, aside)
        return Working(value, "b_h + h_con + s + l_AF + h_c + c_f", inputs).against(
            Relation.AT_MOST, hook, result=output("h_need", "hook height needed", Unit.M)
        )

    def seat(self, hook: Quantity) -> Compared:
        """The height of the seat above the rim at full lift, against the least for tipping out."""
        to_crotch_m = attachment_to_crotch_m(
            stature_m=self.stature.value, harness_stretch_m=self.stretch.value
        )
        note = "attachment to crotch, from stature and harness stretch"
        to_crotch = derived("l_AC", "attachment to crotch", to_crotch_m, Unit.M, note)
        block, connector, sling = self.between
        value = seat_above_rim_m(
            hook_height_m=hook.value,
            block_m=block.value,
            connector_m=connector.value,
            sling_m=sling.value,
            attachment_to_crotch_m=to_crotch_m,
            coaming_m=self.coaming.value,
        )
        inputs = (hook, *self.between, self.stature, self.stretch, to_crotch, self.coaming)
        return Working(value, "h_h - (b_h + h_con + s + l_AC) - h_c", inputs).against(
            Relation.AT_LEAST,
            self.scene.defaults.of("seat-margin"),
            result=output("z_seat", "seat above the rim", Unit.M),
        )


@once_a_way
def stack_of(way: Way) -> Stack | tuple[str, ...]:
    """Hook to rim of one way out, or the keys that are missing for it."""
    scene, rig = way.scene, way.rig
    coaming, is_confined = scene.space.opening.coaming, scene.space.is_confined
    missing = absent(
        hook_height=rig and rig.hook_height,
        block=rig and rig.block,
        connector=rig and rig.connector,
        attachment=rig and rig.attachment,
    )
    keys = tuple(way.key(f"rig.{one}") for one in missing)
    keys += () if coaming or not is_confined else (scene.key("opening.coaming"),)
    if keys or rig is None or rig.block is None or rig.connector is None:
        return keys
    sling = derived("s", "sling or bridle", 0.0, Unit.M, "none stated")
    if rig.sling is not None:
        sling = stated("s", "sling or bridle", rig.sling, Unit.M, way.key("rig.sling"))
    between = (
        stated(
            "b_h", "hook block and upper travel margin", rig.block, Unit.M, way.key("rig.block")
        ),
        stated("h_con", "connectors", rig.connector, Unit.M, way.key("rig.connector")),
        sling,
    )
    rim = derived("h_c", "edge of the deck", 0.0, Unit.M, "opening.coaming not stated")
    if coaming is not None:
        rim = scene.given("h_c", "height of the coaming", coaming, Unit.M, "opening.coaming")
    return Stack(way, between, rim)
