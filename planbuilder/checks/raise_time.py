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
    space = scene.space
    device = scene.device(rig.device)
    speed = _line_speed(scene, device)
    missing = tuple(
        scene.key(one)
        for one in absent(shape__depth=space.shape.depth, opening__coaming=space.opening.coaming)
    )
    if speed is None:
        missing += (f"device.{device.id}.line_speed",)
    if space.shape.depth is None or space.opening.coaming is None or speed is None:
        return missing
    inputs = (
        scene.given("z", "depth", space.shape.depth, Unit.M, "shape.depth"),
        scene.given(
            "h_c", "height of the coaming", space.opening.coaming, Unit.M, "opening.coaming"
        ),
        scene.defaults.of("swing-aside"),
        _parts(device),
        speed,
    )
    lift_m = inputs[0].value + inputs[1].value + inputs[2].value
    parts = int(inputs[3].value)
    time_s = lift_time_s(lift_m=lift_m, line_speed_m_per_s=speed.value, parts=parts)
    return Working(time_s, "(z + h_c + c_f)*n_parts/v_line", inputs)


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
