"""What a winch holds and pulls with its line on the drum as it will be."""

from __future__ import annotations

from planbuilder.checks.scene import AnyDevice, absent, derived, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.drum import (
    layer_radius_m,
    layers_needed,
    load_at_layer_n,
)
from planbuilder.site.equipment import RatedAt, Winch


def working_load(device: AnyDevice) -> Quantity | tuple[str, ...]:
    """The working load of *device* with its line wound in, or the keys that are missing.

    A plate that does not say which layer it rates is read as rating the bare drum, which gives
    the lower load: torque is limited, so the load falls as the radius of the layer grows.
    """
    if device.rated_load is None:
        return (f"device.{device.id}.rated_load",)
    plate = stated(
        "F_rated", "rated load", device.rated_load, Unit.N, f"device.{device.id}.rated_load"
    )
    if not isinstance(device, Winch) or device.rated_at is RatedAt.FULL_DRUM:
        return plate
    length, line = device.line_length, device.line_diameter
    drum, width = device.drum_diameter, device.drum_width
    if length is None or line is None or drum is None or width is None:
        missing = absent(
            line_length=length, line_diameter=line, drum_diameter=drum, drum_width=width
        )
        return tuple(f"device.{device.id}.{name}" for name in missing)
    return _at_top_layer(plate, length.m, line.m, drum.m, width.m)


def first_layer_radius(device: Winch) -> Quantity | None:
    """The radius at which the first layer winds, or None if drum or line is not measured."""
    if device.drum_diameter is None or device.line_diameter is None:
        return None
    radius_m = layer_radius_m(
        drum_diameter_m=device.drum_diameter.m, line_diameter_m=device.line_diameter.m, layer=1
    )
    return derived("r_1", "radius of the first layer", radius_m, Unit.M, "D_drum/2 + d/2")


def top_layer_radius(winch: Winch) -> Quantity | None:
    """The radius of the layer that the whole line reaches to, or None where not measured."""
    length, line = winch.line_length, winch.line_diameter
    drum, width = winch.drum_diameter, winch.drum_width
    if length is None or line is None or drum is None or width is None:
        return None
    layer = layers_needed(
        line_length_m=length.m,
        drum_diameter_m=drum.m,
        drum_width_m=width.m,
        line_diameter_m=line.m,
    )
    radius = layer_radius_m(drum_diameter_m=drum.m, line_diameter_m=line.m, layer=layer)
    return derived("r_k", "radius of the top layer", radius, Unit.M, f"layer {layer}")


def _at_top_layer(
    plate: Quantity, length_m: float, line_m: float, drum_m: float, width_m: float
) -> Quantity:
    layer = layers_needed(
        line_length_m=length_m,
        drum_diameter_m=drum_m,
        drum_width_m=width_m,
        line_diameter_m=line_m,
    )
    first = layer_radius_m(drum_diameter_m=drum_m, line_diameter_m=line_m, layer=1)
    top = layer_radius_m(drum_diameter_m=drum_m, line_diameter_m=line_m, layer=layer)
    load_n = load_at_layer_n(rated_load_n=plate.value, rated_radius_m=first, layer_radius_m=top)
    note = (
        f"plate value of {plate.written} on the bare drum, times r_1/r_{layer} = "
        f"{first / top:.3f} with the line on layer {layer}"
    )
    return derived("F_rated", "working load on the top layer", load_n, Unit.N, note)
