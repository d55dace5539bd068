"""How long the raise takes: needed by haul and response checks."""

from __future__ import annotations

from dataclasses import replace

from planbuilder.checks.cranking import cranked_time
from planbuilder.checks.reeving import line_parts
from planbuilder.checks.rope_systems import rope_pull
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, absent, derived, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.raising import lift_time_s
from planbuilder.haul.strokes import raise_time_s, stroke_m, strokes_needed
from planbuilder.site.equipment import RopeSystem, Winch

SHORT_RAISE_S = 60.0  # a raise up to a minute may count on a momentary pull


def haul_time(way: Way) -> Working | tuple[str, ...]:
    """The time of the raise from floor to clear of the rim, or the keys that are missing."""
    scene, rig = way.scene, way.rig
    if rig is None:
        return (way.key("rig"),)
    device = scene.device(rig.device)
    way_up, speed = travel_up(scene), _line_speed(scene, device)
    if isinstance(way_up, Working) and isinstance(device, Winch) and _is_cranked(device):
        return cranked_time(way, device, way_up)
    missing = way_up if isinstance(way_up, tuple) else ()
    missing += () if speed else (f"device.{device.id}.line_speed",)
    if isinstance(way_up, tuple) or speed is None:
        return missing
    try:
        parts = rope_parts(scene, device)
    except ValueError:
        return (f"device.{device.id}.reeving",)
    if isinstance(device, RopeSystem) and device.reset_distance is not None:
        return _with_resets(way, device, way_up, parts, speed)
    time_s = lift_time_s(lift_m=way_up.value, line_speed_m_per_s=speed.value, parts=parts.value)
    rise = way_up.formula if way_up.formula.isidentifier() else f"({way_up.formula})"
    return Working(time_s, f"{rise}*n_parts/v_line", (*way_up.inputs, parts, speed))


def _is_cranked(winch: Winch) -> bool:
    """A hand winch whose speed nobody timed: it follows from crank, gear and drum."""
    return winch.line_speed is None and winch.crank_radius is not None


def _with_resets(
    way: Way, device: RopeSystem, way_up: Working, parts: Quantity, speed: Quantity
) -> Working | tuple[str, ...]:
    """A system that is reset: strokes, and a pause between each two."""
    scene, walk = way.scene, way.rig.walkway if way.rig else None
    if walk is None or device.reset_distance is None:
        return (way.key("rig.walkway"),)
    unusable, pause = scene.defaults.of("unusable-stroke"), scene.defaults.of("reset-time")
    try:
        rise_m = stroke_m(
            gaps=((device.reset_distance.m, 1.0),),
            unusable_m=unusable.value,
            walkway_m=walk.m,
            ideal_advantage=parts.value,
        )
        count = strokes_needed(lift_m=way_up.value, edge_m=0.0, stroke_m=rise_m)
    except ValueError:
        return (f"device.{device.id}.reset_distance",)
    note = f"strokes of {rise_m:.2f} m"
    strokes = derived("n_s", "strokes", count, Unit.COUNT, note)
    value = raise_time_s(
        lift_m=way_up.value,
        ideal_advantage=parts.value,
        haul_speed_m_per_s=speed.value,
        strokes=count,
        reset_s=pause.value,
        edge_s=0.0,
        rest_s=0.0,
    )
    formula = f"({way_up.formula})*n_parts/v_line + (n_s - 1)*t_reset"
    return Working(value, formula, (*way_up.inputs, parts, speed, strokes, pause))


def travel_up(scene: Scene) -> Working | tuple[str, ...]:
    """How far the casualty travels on the line: out of a space, or down from a height."""
    space = scene.space
    if not space.is_confined:
        below, tail = scene.down
        if below is None:
            return (scene.key(tail),)
        down = scene.given("z", "height to travel", below, Unit.M, tail)
        return Working(down.value, "z", (down,))
    depth, coaming = space.shape.depth, space.opening.coaming
    if depth is None or coaming is None:
        missing = absent(shape__depth=depth, opening__coaming=coaming)
        return tuple(scene.key(one) for one in missing)
    inputs = (
        scene.given("z", "depth", depth, Unit.M, "shape.depth"),
        scene.given("h_c", "height of the coaming", coaming, Unit.M, "opening.coaming"),
        scene.defaults.of("swing-aside"),
    )
    return Working(sum(one.value for one in inputs), "z + h_c + c_f", inputs)


def rope_parts(scene: Scene, device: AnyDevice) -> Quantity:
    """How much line runs in for each metre of rise. Raises ValueError as rope_pull does."""
    if isinstance(device, RopeSystem):
        ideal = rope_pull(scene, device).ideal
        return replace(ideal, symbol="n_parts", label="haul line per rise")
    return line_parts(device)


def _line_speed(scene: Scene, device: AnyDevice) -> Quantity | None:
    if device.line_speed is not None:
        key = f"device.{device.id}.line_speed"
        return stated("v_line", "line speed under load", device.line_speed, Unit.M_PER_S, key)
    return scene.defaults.of("hand-haul-speed") if isinstance(device, RopeSystem) else None
