"""The clear height that each kind of fall arrest needs, and the anchor that would be high enough.

The body is counted by the D-ring or by its whole height, as the site file says; the terms of one
way never stand beside those of the other.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import largest
from planbuilder.checks.room.advice import down, up
from planbuilder.checks.room.falling import deceleration, measure
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
from planbuilder.site.equipment import SelfRetractingLine
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
    body = _body(scene, fall)
    match fall.arrest:
        case "lanyard":
            return _lanyard(scene, fall, needs, body)
        case "rope-grab":
            return _rope_grab(scene, fall, needs, body)
        case "self-retracting-line":
            return _retractor(scene, fall, needs, body)


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


def _rope_grab(scene: Scene, fall: Fall, needs: Needs, body: _Body) -> Height:
    """A grab on a vertical line: the lanyard, with what slides, stretches and swings beside it."""

    def ask(symbol: str, label: str, name: str) -> Quantity:
        return measure(scene, needs, symbol, label, getattr(fall, name), name)

    line = ask("l", "lanyard", "connector")
    locking = ask("d_lock", "way the grab slides", "grab_locking")
    grab = ask("h_g", "grab height", "grab_height")
    anchor = ask("h_A", "height of the rope's anchor", "anchor_height")
    dring = ask("h_D0", "D-ring height", "dring_height")
    offset = ask("x", "offset from plumb", "offset")
    key = scene.key("fall.rope_strain")
    strain = needs.take("eps", "rope strain in the arrest", fall.rope_strain, Unit.FRACTION, key)
    slowing = deceleration(scene, fall)
    stretch_m = needs.work(
        lambda: rope_stretch_m(
            strain=strain.value, anchor_height_m=anchor.value, grab_height_m=grab.value
        )
    )
    drop_m = swing_drop_m(depth_m=anchor.value - dring.value, offset_m=offset.value)
    below_grab_m = lanyard_clearance_below_anchor_m(
        connector_m=line.value + locking.value + stretch_m + drop_m,
        deceleration_m=slowing.value,
        hanging_m=body.hanging_m,
        margin_m=body.margin_m,
    )
    value = clearance_below_surface_m(below_anchor_m=below_grab_m, anchor_height_m=grab.value)

    def remedy(available_m: float) -> str:
        try:
            lowest_m = lowest_grab_m(
                grab_height_m=grab.value,
                strain=strain.value,
                rope_m=anchor.value - grab.value,
                lack_m=value - available_m,
            )
        except ValueError as error:
            return f"Use a shorter lanyard or another arrest: {error}."
        return f"Keep the grab at least {up(lowest_m)} m above the surface."

    formula = (
        f"l + d_lock + DD + eps*(h_A - h_g) + sqrt(x**2 + (h_A - h_D0)**2) - (h_A - h_D0) + "
        f"{body.formula} - h_g"
    )
    inputs = (line, locking, slowing, strain, anchor, grab, offset, dring, *body.inputs)
    return Height(Working(value, formula, inputs), remedy)


def _retractor(scene: Scene, fall: Fall, needs: Needs, body: _Body) -> Height:
    anchor = measure(scene, needs, "h_A", "anchor height", fall.anchor_height, "anchor_height")
    dring = measure(scene, needs, "h_D0", "D-ring height", fall.dring_height, "dring_height")
    offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
    locking = _arrest_distance(scene, fall, needs)
    line_out_m = retractor_distance_m(
        anchor_height_m=anchor.value, dring_height_m=dring.value, offset_m=offset.value
    )
    value = retractor_clearance_m(
        line_out_m=line_out_m,
        arrest_m=locking.value,
        hanging_m=body.hanging_m,
        margin_m=body.margin_m,
        anchor_height_m=anchor.value,
    )

    def remedy(available_m: float) -> str:
        depth_m = anchor.value - dring.value
        drop_m = line_out_m - depth_m - (value - available_m)
        try:
            lowest_m = lowest_retractor_anchor_m(
                offset_m=offset.value, dring_height_m=dring.value, drop_m=drop_m
            )
        except ValueError as error:
            return f"{_more_room(value - available_m, locking.value)}: {error}."
        aside_m = largest_offset_m(depth_m=depth_m, drop_m=drop_m)
        return f"{_anchored(lowest_m)}, or keep within {down(aside_m)} m of the plumb line."

    formula = f"sqrt(x**2 + (h_A - h_D0)**2) + a + {body.formula} - h_A"
    return Height(Working(value, formula, (anchor, dring, offset, locking, *body.inputs)), remedy)


def _arrest_distance(scene: Scene, fall: Fall, needs: Needs) -> Quantity:
    device = scene.device(fall.device) if fall.device else None
    arrest = device.arrest_distance if isinstance(device, SelfRetractingLine) else None
    key = f"device.{device.id}.arrest_distance" if device else scene.key("fall.device")
    return needs.take("a", "arrest distance", arrest, Unit.M, key)


def _anchored(lowest_m: float) -> str:
    return f"Anchor at least {up(lowest_m)} m above the surface"


def _more_room(lack_m: float, arrest_m: float) -> str:
    """What the arrest lacks as it is planned: room below, or a quicker device."""
    left_m = arrest_m - lack_m
    device = f"a device that stops within {down(left_m)} m" if left_m > 0 else "another arrest"
    return f"Clear {up(lack_m)} m more room below or use {device}"


def _shorter(connector_m: float) -> str:
    return f", or use a connector of at most {down(connector_m)} m" if connector_m > 0 else ""
