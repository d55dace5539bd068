"""How long the raise takes: needed by haul and response checks."""

from __future__ import annotations

from dataclasses import replace

from planbuilder.checks.asking import Needs
from planbuilder.checks.lifting.cranking import cranked_time
from planbuilder.checks.lifting.hauling import hauler_power, line_speed
from planbuilder.checks.lifting.reeving import line_parts
from planbuilder.checks.lifting.rope_systems import rope_pull
from planbuilder.checks.lifting.stroke_room import stroke
from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, derived, once_a_way, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.strokes import hauling_time_s, raise_time_s, rest_needed_s, strokes_needed
from planbuilder.site.equipment import RopeSystem, Winch
from planbuilder.site.rig import Rig

SHORT_RAISE_S = 60.0  # a raise up to a minute may count on a momentary pull


@once_a_way
def haul_time(way: Way) -> Working | tuple[str, ...]:
    """The time of the raise from floor to clear of the rim, or the keys that are missing.

    Hauling, a pause for each reset, what the edge takes, and the rests that the people need.
    """
    if way.rig is None:
        return (way.key("rig"),)
    device, needs = way.scene.device(way.rig.device), Needs()
    if isinstance(device, Winch) and device.line_speed is None and device.crank_radius is not None:
        return _cranked(way, device)  # a hand winch that nobody timed
    rise = _way_up(way, way.rig, needs)
    key = f"device.{device.id}"
    speed = needs.keep(line_speed(way.scene, device), f"{key}.line_speed")
    edge = _over_edge(way, way.rig, needs)
    try:
        parts = rope_parts(way.scene, device)
    except ValueError:
        return (*needs.missing, f"{key}.reeving")
    strokes, pause = _strokes(way, device, rise, needs), way.scene.defaults.of("reset-time")
    hauling_s = needs.work(
        lambda: hauling_time_s(
            lift_m=rise.value, ideal_advantage=parts.value, haul_speed_m_per_s=speed.value
        )
    )
    pauses_s = (strokes.value - 1) * pause.value if strokes else 0.0
    rest = _rest(way, device, hauling_s, pauses_s, needs)
    if needs.missing or needs.refused:
        return tuple(dict.fromkeys(needs.missing)) or (f"{key}.reset_distance",)
    value = raise_time_s(
        lift_m=rise.value,
        ideal_advantage=parts.value,
        haul_speed_m_per_s=speed.value,
        strokes=int(strokes.value) if strokes else 1,
        reset_s=pause.value,
        edge_s=edge.value if edge else 0.0,
        rest_s=rest.value if rest else 0.0,
    )
    hauled = rise.formula if rise.formula.isidentifier() else f"({rise.formula})"
    terms = [f"{hauled}*n_parts/v_line"]
    terms += ["(n_s - 1)*t_reset"] if strokes else []
    terms += [one.symbol for one in (edge, rest) if one]
    resets = (strokes, pause) if strokes else ()
    more = tuple(one for one in (*resets, edge, rest) if one)
    return Working(value, " + ".join(terms), (*rise.inputs, parts, speed, *more))


def _cranked(way: Way, winch: Winch) -> Working | tuple[str, ...]:
    """The time at the crank, and what the edge takes on top."""
    needs = Needs()
    edge = _over_edge(way, way.rig, needs) if way.rig else None
    rise = travel_up(way)
    if isinstance(rise, tuple) or needs.missing:
        return (*(rise if isinstance(rise, tuple) else ()), *needs.missing)
    time = cranked_time(way, winch, rise)
    if isinstance(time, tuple) or edge is None:
        return time
    return Working(time.value + edge.value, f"{time.formula} + {edge.symbol}", (*time.inputs, edge))


def travel_up(way: Way) -> Working | tuple[str, ...]:
    """How far the casualty travels on the line, or the keys that are missing."""
    if way.rig is None:
        return (way.key("rig"),)
    needs = Needs()
    rise = _way_up(way, way.rig, needs)
    return tuple(needs.missing) or rise


def _strokes(way: Way, device: AnyDevice, rise: Working, needs: Needs) -> Quantity | None:
    """How many strokes, the lift over the edge included; None where nothing is reset."""
    if not isinstance(device, RopeSystem) or device.reset_distance is None:
        return None
    each = stroke(way, device, needs)
    over = _lift_over_edge(way)
    count = needs.work(
        lambda: strokes_needed(lift_m=rise.value, edge_m=over.value, stroke_m=each.value)
    )
    note = f"strokes of {each.value:.2f} m for the way up and {over.value:g} m over the edge"
    return derived("n_s", "strokes", count, Unit.COUNT, note, (*each.inputs, over))


def _lift_over_edge(way: Way) -> Quantity:
    """The rise that the edges of the line's path add."""
    if not (way.rig and way.rig.edges):
        return derived("h_edge", "rise over the edge", 0.0, Unit.M, "no edge")
    if way.rig.edge_lift is None:
        return way.scene.defaults.of("edge-lift")
    key = way.key("rig.edge_lift")
    return stated("h_edge", "rise over the edge", way.rig.edge_lift, Unit.M, key)


def _over_edge(way: Way, rig: Rig, needs: Needs) -> Quantity | None:
    """The time that it takes over the edges of the line's path; None where it hangs free."""
    needs.say(rig.edges, way.key("rig.edges"))
    if not rig.edges:
        return None
    if rig.edge_time is None:
        return way.scene.defaults.of("edge-time")
    key = way.key("rig.edge_time")
    return stated("t_edge", "time over the edge", rig.edge_time, Unit.S, key)


def _rest(
    way: Way, device: AnyDevice, hauling_s: float, pauses_s: float, needs: Needs
) -> Quantity | None:
    """The rests of people who would else work above their sustained power for over a minute."""
    if not isinstance(device, RopeSystem):
        return None
    power, sustained = hauler_power(way, device, needs), way.scene.defaults.of("power-sustained")
    if not hauling_s > SHORT_RAISE_S:
        return None
    rest_s = rest_needed_s(
        power_w=power.value,
        sustained_power_w=sustained.value,
        hauling_s=hauling_s,
        pauses_s=pauses_s,
    )
    note = f"{power.value:.0f} W each, down to {sustained.value:g} W in the mean, resets counted"
    rest = derived("t_rest", "rests of the haulers", rest_s, Unit.S, note, (sustained,))
    return rest if rest_s > 0 else None


def _way_up(way: Way, rig: Rig, needs: Needs) -> Working:
    """How far the casualty travels on the line: along the floor, and up to where it hangs free."""
    scene, space = way.scene, way.scene.space
    dragged = drag_length(way, rig, needs)
    more = (dragged,) if dragged else ()
    below, tail = scene.down
    label = "depth" if space.is_confined else "height to travel"
    inputs: tuple[Quantity, ...] = (
        needs.take("z", label, below, Unit.M, scene.key(tail)),
        *more,
    )
    if space.is_confined:
        coaming, key = space.opening.coaming, scene.key("opening.coaming")
        inputs = (
            inputs[0],
            needs.take("h_c", "height of the coaming", coaming, Unit.M, key),
            scene.defaults.of("swing-aside"),
            *more,
        )
    formula = " + ".join(one.symbol for one in inputs)
    return Working(sum(one.value for one in inputs), formula, inputs)


def drag_length(way: Way, rig: Rig, needs: Needs) -> Quantity | None:
    """How far the casualty is dragged before the lift; None where no drag is planned."""
    if rig.drag is None:
        return None
    key = way.key("rig.drag.length")
    return needs.take("l_drag", "way along the floor", rig.drag.length, Unit.M, key)


def rope_parts(scene: Scene, device: AnyDevice) -> Quantity:
    """How much line runs in for each metre of rise. Raises ValueError as rope_pull does."""
    if isinstance(device, RopeSystem):
        ideal = rope_pull(scene, device).ideal
        return replace(ideal, symbol="n_parts", label="haul line per rise")
    return line_parts(device)


def parts_at_load(scene: Scene, device: AnyDevice) -> Quantity:
    """Strands that share the load: one where a rope system grips a main line and is reset.

    Raises ValueError as rope_pull does.
    """
    if isinstance(device, RopeSystem) and device.reset_distance is not None:
        return derived("n_parts", "strands at the load", 1, Unit.COUNT, "a single main line")
    return rope_parts(scene, device)
