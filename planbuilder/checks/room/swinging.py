"""Swing of a person who is caught beside the plumb line: drop, angle, what is met on the way."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.room.fall_height import height_needed
from planbuilder.checks.room.falling import answered, free_fall, measure
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.room.obstacles import Met, body_room, is_under, obstacles
from planbuilder.checks.scene import Scene, Working, derived, output
from planbuilder.clearance.swing import (
    equal_fall_m,
    largest_offset_at_m,
    largest_offset_m,
    swing_angle_rad,
    swing_drop_m,
    swing_speed_m_per_s,
)
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
from planbuilder.site.fall import Fall

PENDULUM = Source(mark=Mark.DERIVED, document="Statics", note="pendulum on a taut line")
DROP = Rule("clearance/swing-drops-too-far", "Height lost in the swing", Weight.BLOCKS, PENDULUM)
ANGLE = Rule("clearance/swing-too-wide", "Angle of the line off plumb", Weight.WARNS, PENDULUM)
HIT = Rule(
    "clearance/swing-hits-something",
    "Room on the way of the swing",
    Weight.BLOCKS,
    PENDULUM,
    judged=True,  # how soft and how far something is can be seen only on the spot
)


class _Pendulum:
    """The line as it comes taut: how deep under the anchor, how far aside, the fall before it."""

    def __init__(self, scene: Scene, fall: Fall, needs: Needs) -> None:
        self.scene, self.fall, self.needs = scene, fall, needs
        anchor, dring = fall.anchor_height, fall.dring_height
        self.anchor = measure(scene, needs, "h_A", "anchor height", anchor, "anchor_height")
        self.dring = measure(scene, needs, "h_D0", "D-ring height", dring, "dring_height")
        self.offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
        self.fallen = derived("FF", "free fall", 0.0, Unit.M, "none on a self-retracting line")
        if fall.arrest != "self-retracting-line":
            falling = free_fall(scene, fall, needs)
            self.fallen = derived(
                "FF", "free fall", falling.value, Unit.M, falling.formula, falling.inputs
            )
        self.depth_m = self.anchor.value - self.dring.value + self.fallen.value

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """What drop and angle are worked out from."""
        return self.offset, self.anchor, self.dring, self.fallen


def check_swing(scene: Scene) -> Iterator[Finding]:
    """Whoever is caught beside the plumb line loses little height on the way back to it."""
    if scene.space.fall is None:
        return
    swing = _Pendulum(scene, scene.space.fall, Needs())
    keys = (scene.key("fall.offset"), scene.key("fall.anchor_height"))
    yield answered(
        DROP,
        scene,
        swing.needs,
        lambda: _drop(swing).against(
            Relation.AT_MOST,
            scene.defaults.of("swing-drop"),
            result=output("d", "height lost in the swing", Unit.M),
        ),
        settle_by=lambda: _nearer(_offset_for_drop_m(swing)),
        keys=keys,
    )
    yield answered(
        ANGLE,
        scene,
        swing.needs,
        lambda: _angle(swing).against(
            Relation.AT_MOST,
            scene.defaults.of("swing-angle"),
            result=output("theta", "angle off plumb at the start", Unit.RAD),
        ),
        settle_by=lambda: _nearer(_offset_for_angle_m(swing)),
        keys=keys,
    )


def _drop(swing: _Pendulum) -> Working:
    value = swing_drop_m(depth_m=swing.depth_m, offset_m=swing.offset.value)
    formula = "sqrt(x**2 + (h_A - h_D0 + FF)**2) - (h_A - h_D0 + FF)"
    return Working(value, formula, swing.inputs)


def _angle(swing: _Pendulum) -> Working:
    value = swing_angle_rad(depth_m=swing.depth_m, offset_m=swing.offset.value)
    note = "atan of offset over depth under the anchor"
    angle = derived("theta", "angle off plumb", value, Unit.RAD, note)
    return Working(value, "theta", (angle, *swing.inputs))


def _offset_for_drop_m(swing: _Pendulum) -> float:
    most_m = swing.scene.defaults.of("swing-drop").value
    return largest_offset_m(depth_m=max(0.0, swing.depth_m), drop_m=most_m)


def _offset_for_angle_m(swing: _Pendulum) -> float:
    most = swing.scene.defaults.of("swing-angle").value
    return largest_offset_at_m(depth_m=max(0.0, swing.depth_m), angle_rad=most)


def _nearer(offset_m: float) -> str:
    return f"Keep within {down(offset_m)} m of the plumb line, or move the anchor over the work."


def check_way_clear(scene: Scene) -> Iterator[Finding]:
    """Nothing stands on the way of the swing, on this side of the plumb line or as far beyond."""
    fall = scene.space.fall
    if fall is None or not fall.obstacle:
        return
    needs = Needs()
    swing, met = _Pendulum(scene, fall, needs), obstacles(scene, fall, needs)
    height = height_needed(scene, fall, needs).needed.value
    for number, one in enumerate(met, 1):
        if not needs.missing and not needs.refused:
            below_feet = one.below.value >= height
            if below_feet or is_under(scene, one, swing.offset.value):
                continue  # the clearance below answers for it, or it is too deep to be met
        yield _way_clear(swing, one, number)


def _how_met(swing: _Pendulum, one: Met, breadth: Quantity) -> str:
    """How hard the shoulder meets *one*, or that only the gap beside it is too small."""
    at_m = max(0.0, abs(one.aside.value) - breadth.value / 2)
    if at_m >= swing.offset.value:
        return "the swing passes it by less than the gap to keep"
    speed = swing_speed_m_per_s(
        depth_m=swing.depth_m,
        offset_m=swing.offset.value,
        at_m=at_m,
        free_fall_m=swing.fallen.value,
    )
    return f"it would be met at up to {up(speed)} m/s, like a fall of {up(equal_fall_m(speed))} m"


def _way_clear(swing: _Pendulum, one: Met, number: int) -> Finding:
    scene, (breadth, gap) = swing.scene, body_room(swing.scene)
    reach_m = swing.offset.value + breadth.value / 2 + gap.value
    away = derived(
        "u_away", f"{one.what}, from the plumb line", abs(one.aside.value), Unit.M, "abs(u)"
    )

    def settle() -> str:
        aside_m = abs(one.aside.value) - breadth.value / 2 - gap.value
        nearer = f"Keep within {down(max(0.0, aside_m))} m of the plumb line"
        return f"{nearer}, move the anchor or pad {one.what}: {_how_met(swing, one, breadth)}."

    return answered(
        HIT,
        scene,
        swing.needs,
        lambda: Working(reach_m, "x + B/2 + c_sw", (swing.offset, breadth, gap)).against(
            Relation.AT_MOST,
            away,
            result=output("x_reach", "reach of the swing to each side", Unit.M),
        ),
        settle_by=settle,
        keys=(scene.key(f"fall.obstacle[{number}].aside"), scene.key("fall.offset")),
        about=one.what,
    )
