"""How long the raise takes, and what a rope system gives: needed by haul and response checks."""

from __future__ import annotations

from planbuilder.checks.scene import AnyDevice, Scene, Way, Working, absent, derived, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.raising import lift_time_s
from planbuilder.haul.ropes import Reeving, advantage, ideal_advantage
from planbuilder.site.equipment import RopeSystem

SHORT_RAISE_S = 60.0  # a raise up to a minute may count on a momentary pull


def pulley_efficiency(scene: Scene, device: RopeSystem) -> Quantity:
    """The efficiency of one pulley, as stated or by default."""
    default = scene.defaults.of("pulley-efficiency")
    if device.pulley_efficiency is None:
        return default
    key = f"device.{device.id}.pulley_efficiency"
    return derived("eta", default.label, device.pulley_efficiency, Unit.RATIO, f"stated: {key}")


def haul_advantage(scene: Scene, device: RopeSystem) -> Quantity:
    """What the rope system gives with its pulleys' losses, from the tension method."""
    eta = pulley_efficiency(scene, device)
    kind = Reeving(device.reeving.value)
    value = advantage(
        reeving=kind, parts=device.parts, efficiency=eta.value, redirects=device.redirects
    )
    ideal = ideal_advantage(reeving=kind, parts=device.parts)
    parts = " on ".join(str(one) for one in device.parts)
    note = (
        f"tension method, {device.reeving} {parts}, {device.redirects} redirects, "
        f"{eta.value:g} a pulley ({eta.source.mark}); {ideal}:1 without losses"
    )
    return derived("PMA", "advantage of the rope system", value, Unit.RATIO, note)


def haul_time(way: Way) -> Working | tuple[str, ...]:
    """The time of the raise from floor to clear of the rim, or the keys that are missing."""
    scene, rig = way.scene, way.rig
    if rig is None:
        return (way.key("rig"),)
    device = scene.device(rig.device)
    way_up, speed = _way_up(scene), _line_speed(scene, device)
    missing = way_up if isinstance(way_up, tuple) else ()
    missing += () if speed else (f"device.{device.id}.line_speed",)
    if isinstance(way_up, tuple) or speed is None:
        return missing
    parts = _parts(device)
    time_s = lift_time_s(
        lift_m=way_up.value, line_speed_m_per_s=speed.value, parts=int(parts.value)
    )
    rise = way_up.formula if way_up.formula.isidentifier() else f"({way_up.formula})"
    return Working(time_s, f"{rise}*n_parts/v_line", (*way_up.inputs, parts, speed))


def _way_up(scene: Scene) -> Working | tuple[str, ...]:
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


def _parts(device: AnyDevice) -> Quantity:
    if not isinstance(device, RopeSystem):
        return derived("n_parts", "parts of line", 1, Unit.COUNT, "single line")
    ideal = ideal_advantage(reeving=Reeving(device.reeving.value), parts=device.parts)
    return derived("n_parts", "haul line per rise", ideal, Unit.COUNT, "advantage without losses")


def _line_speed(scene: Scene, device: AnyDevice) -> Quantity | None:
    if device.line_speed is not None:
        key = f"device.{device.id}.line_speed"
        return stated("v_line", "line speed under load", device.line_speed, Unit.M_PER_S, key)
    return scene.defaults.of("hand-haul-speed") if isinstance(device, RopeSystem) else None
