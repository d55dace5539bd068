"""The clear height that each kind of fall arrest needs, and the anchor that would be high enough.

The body is counted by the D-ring or by its whole height, as the site file says; the terms of one
way never stand beside those of the other.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.fall_line import line_drop
from planbuilder.checks.room.falling import arrest_distance, deceleration, measure
from planbuilder.checks.room.lengths import down, up
from planbuilder.checks.scene import Scene, Working
from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    hanging_by_dring_m,
    hanging_by_whole_body_m,
    lanyard_clearance_below_anchor_m,
    lowest_anchor_m,
    lowest_grab_m,
    lowest_retractor_anchor_m,
    retractor_clearance_m,
    retractor_distance_m,
    rope_stretch_m,
)
from planbuilder.clearance.swing import largest_offset_m, swing_drop_m
from planbuilder.findings import Quantity, Unit
from planbuilder.site.fall import CountedBy, Fall


@dataclass(frozen=True, slots=True)
class Height:
    """The height needed below the walking surface, and what to do where only so much is there."""

    needed: Working
    remedy: Callable[[float], str]


@dataclass(frozen=True, slots=True)
class _Body:
    """What hangs below the end of the line, counted one way, with the margin under it."""

    formula: str
    inputs: tuple[Quantity, ...]
    hanging_m: float
    margin_m: float


def height_needed(scene: Scene, fall: Fall, needs: Needs) -> Height:
    """The height that *fall* needs; what the site file does not give is remembered in *needs*."""
    match fall.arrest:
        case "lanyard":
            one = _lanyard
        case "rope-grab":
            one = _rope_grab
        case "self-retracting-line":
            one = _retractor
    height = one(scene, fall, needs, _body(scene, fall))
    drop = line_drop(scene, fall, needs)
    return height if drop is None else _lower(height, drop)


def _lower(height: Height, drop: Quantity) -> Height:
    """*height* where the anchor itself goes down by *drop*, as a horizontal line does."""
    needed = height.needed
    working = Working(needed.value + drop.value, f"{needed.formula} + d_l", (*needed.inputs, drop))
    return Height(working, lambda available_m: height.remedy(available_m - drop.value))


def _body(scene: Scene, fall: Fall) -> _Body:
    stature, margin = largest(scene, "stature"), scene.defaults.of("fall-margin")
    if fall.counted_by is CountedBy.WHOLE_BODY:
        hanging_m = hanging_by_whole_body_m(stature_m=stature.value)
        return _Body("H + SM", (stature, margin), hanging_m, margin.value)
    stretch, ratio = scene.defaults.of("fall-stretch"), scene.defaults.of("dring-ratio")
    hanging_m = hanging_by_dring_m(
        harness_stretch_m=stretch.value, hanging_dring_m=ratio.value * stature.value
    )
    inputs = (stretch, ratio, stature, margin)
    return _Body("h_sf + k_D*H + SM", inputs, hanging_m, margin.value)


def _lanyard(scene: Scene, fall: Fall, needs: Needs, body: _Body) -> Height:
    connector = measure(scene, needs, "l", "connector", fall.connector, "connector")
    anchor = measure(scene, needs, "h_A", "anchor height", fall.anchor_height, "anchor_height")
    slowing = deceleration(scene, fall)
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=connector.value,
        deceleration_m=slowing.value,
        hanging_m=body.hanging_m,
        margin_m=body.margin_m,
    )
    value = clearance_below_surface_m(below_anchor_m=below_anchor_m, anchor_height_m=anchor.value)

    def remedy(available_m: float) -> str:
        lowest_m = lowest_anchor_m(
            connector_m=connector.value,
            deceleration_m=slowing.value,
            hanging_m=body.hanging_m,
            margin_m=body.margin_m,
            available_m=available_m,
        )
        shorter_m = connector.value - (lowest_m - anchor.value)
        return f"{_anchored(lowest_m)}{_shorter(shorter_m)}."

    formula = f"l + DD + {body.formula} - h_A"
    return Height(Working(value, formula, (connector, slowing, *body.inputs, anchor)), remedy)


class _Rope:
    """A grab on a vertical line: the lanyard, with what slides, stretches and swings beside it."""

    FORMULA = "l + d_lock + DD + eps*(h_A - h_g) + sqrt(x**2 + (h_A - h_D0)**2) - (h_A - h_D0)"

    def __init__(self, scene: Scene, fall: Fall, needs: Needs) -> None:
        def ask(symbol: str, label: str, name: str) -> Quantity:
            return measure(scene, needs, symbol, label, getattr(fall, name), name)

        self.line = ask("l", "lanyard", "connector")
        self.locking = ask("d_lock", "way the grab slides", "grab_locking")
        self.grab = ask("h_g", "grab height", "grab_height")
        self.anchor = ask("h_A", "height of the rope's anchor", "anchor_height")
        self.dring = ask("h_D0", "D-ring height", "dring_height")
        self.offset = ask("x", "offset from plumb", "offset")
        key, strain = scene.key("fall.rope_strain"), fall.rope_strain
        self.strain = needs.take("eps", "rope strain in the arrest", strain, Unit.FRACTION, key)

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """What was asked for."""
        measured = (self.line, self.locking, self.strain, self.anchor, self.grab)
        return (*measured, self.offset, self.dring)

    def stretch_m(self) -> float:
        """The stretch of the rope above the grab."""
        return rope_stretch_m(
            strain=self.strain.value,
            anchor_height_m=self.anchor.value,
            grab_height_m=self.grab.value,
        )

    def drop_m(self) -> float:
        """The height lost in the swing."""
        depth_m = self.anchor.value - self.dring.value
        return swing_drop_m(depth_m=depth_m, offset_m=self.offset.value)

    def settle(self, lack_m: float) -> str:
        """The lowest place of the grab that makes good what lacks."""
        try:
            lowest_m = lowest_grab_m(
                grab_height_m=self.grab.value,
                strain=self.strain.value,
                rope_m=self.anchor.value - self.grab.value,
                lack_m=lack_m,
            )
        except ValueError as error:
            return f"Use a shorter lanyard or another arrest: {error}."
        return f"Keep the grab at least {up(lowest_m)} m above the surface."


def _rope_grab(scene: Scene, fall: Fall, needs: Needs, body: _Body) -> Height:
    rope, slowing = _Rope(scene, fall, needs), deceleration(scene, fall)
    reach_m = rope.line.value + rope.locking.value + needs.work(rope.stretch_m) + rope.drop_m()
    below_grab_m = lanyard_clearance_below_anchor_m(
        connector_m=reach_m,
        deceleration_m=slowing.value,
        hanging_m=body.hanging_m,
        margin_m=body.margin_m,
    )
    value = clearance_below_surface_m(below_anchor_m=below_grab_m, anchor_height_m=rope.grab.value)
    formula = f"{_Rope.FORMULA} + {body.formula} - h_g"
    needed = Working(value, formula, (*rope.inputs, slowing, *body.inputs))
    return Height(needed, lambda available_m: rope.settle(value - available_m))


class _Retractor:
    """A self-retracting line: where it hangs, how far aside the user is, how far it pays out."""

    def __init__(self, scene: Scene, fall: Fall, needs: Needs) -> None:
        anchor, dring = fall.anchor_height, fall.dring_height
        self.anchor = measure(scene, needs, "h_A", "anchor height", anchor, "anchor_height")
        self.dring = measure(scene, needs, "h_D0", "D-ring height", dring, "dring_height")
        self.offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
        self.arrest = arrest_distance(scene, fall, needs)

    def line_out_m(self) -> float:
        """The line between the device and the D-ring before the fall."""
        return retractor_distance_m(
            anchor_height_m=self.anchor.value,
            dring_height_m=self.dring.value,
            offset_m=self.offset.value,
        )

    def settle(self, lack_m: float) -> str:
        """The lowest anchor and the largest offset whose swing makes good what lacks."""
        depth_m = self.anchor.value - self.dring.value
        drop_m = self.line_out_m() - depth_m - lack_m
        try:
            lowest_m = lowest_retractor_anchor_m(
                offset_m=self.offset.value, dring_height_m=self.dring.value, drop_m=drop_m
            )
        except ValueError as error:
            return f"{_more_room(lack_m, self.arrest.value)}: {error}."
        if drop_m + 2 * depth_m <= 0:  # so far below the D-ring, not even plumb would do
            return f"{_anchored(lowest_m)}."
        aside_m = largest_offset_m(depth_m=depth_m, drop_m=drop_m)
        return f"{_anchored(lowest_m)}, or keep within {down(aside_m)} m of the plumb line."


def _retractor(scene: Scene, fall: Fall, needs: Needs, body: _Body) -> Height:
    one = _Retractor(scene, fall, needs)
    value = retractor_clearance_m(
        line_out_m=one.line_out_m(),
        arrest_m=one.arrest.value,
        hanging_m=body.hanging_m,
        margin_m=body.margin_m,
        anchor_height_m=one.anchor.value,
    )
    formula = f"sqrt(x**2 + (h_A - h_D0)**2) + a + {body.formula} - h_A"
    inputs = (one.anchor, one.dring, one.offset, one.arrest, *body.inputs)
    return Height(Working(value, formula, inputs), lambda there_m: one.settle(value - there_m))


def _anchored(lowest_m: float) -> str:
    return f"Anchor at least {up(lowest_m)} m above the surface"


def _more_room(lack_m: float, arrest_m: float) -> str:
    """What the arrest lacks as it is planned: room below, or a quicker device."""
    left_m = arrest_m - lack_m
    device = f"a device that stops within {down(left_m)} m" if left_m > 0 else "another arrest"
    return f"Clear {up(lack_m)} m more room below or use {device}"


def _shorter(connector_m: float) -> str:
    return f", or use a connector of at most {down(connector_m)} m" if connector_m > 0 else ""
