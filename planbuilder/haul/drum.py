"""Winch drum and line: layers, what a layer takes off the rating, how much line is needed.

Square packing: every turn lies straight above the one below. Derived, ideal winding; real winding
holds less, so compare with slack. The marked rating of a device always governs.
"""

import math

# Binary fractions only: 0.3 / 0.1 must give 3 turns, and a drum filled exactly must count as full.
COUNT_SLACK = 1e-9


def layer_radius_m(*, drum_diameter_m: float, line_diameter_m: float, layer: int) -> float:
    """Radius from the drum axis to the middle of the line in *layer* (1 is the lowest), in m."""
    return drum_diameter_m / 2 + line_diameter_m / 2 + (layer - 1) * line_diameter_m


def turns_per_layer(*, drum_width_m: float, line_diameter_m: float) -> int:
    """Whole turns of line side by side between the flanges."""
    return math.floor(drum_width_m / line_diameter_m + COUNT_SLACK)


def layer_capacity_m(
    *, drum_diameter_m: float, drum_width_m: float, line_diameter_m: float, layer: int
) -> float:
    """Length of line that *layer* alone holds, in m."""
    radius_m = layer_radius_m(
        drum_diameter_m=drum_diameter_m, line_diameter_m=line_diameter_m, layer=layer
    )
    turns = turns_per_layer(drum_width_m=drum_width_m, line_diameter_m=line_diameter_m)
    return 2 * math.pi * radius_m * turns


def drum_capacity_m(
    *, drum_diameter_m: float, drum_width_m: float, line_diameter_m: float, layers: int
) -> float:
    """Length of line in the lowest *layers* full layers together, in m."""
    return sum(
        layer_capacity_m(
            drum_diameter_m=drum_diameter_m,
            drum_width_m=drum_width_m,
            line_diameter_m=line_diameter_m,
            layer=layer,
        )
        for layer in range(1, layers + 1)
    )


def layers_below_flange(
    *,
    flange_diameter_m: float,
    drum_diameter_m: float,
    line_diameter_m: float,
    stand_m: float,
) -> int:
    """Whole layers that leave *stand_m* of the flange above them; 0 if not even one does."""
    room_m = (flange_diameter_m - drum_diameter_m) / 2 - stand_m
    return max(0, math.floor(room_m / line_diameter_m + COUNT_SLACK))


def layers_needed(
    *,
    line_length_m: float,
    drum_diameter_m: float,
    drum_width_m: float,
    line_diameter_m: float,
) -> int:
    """Fewest layers that hold *line_length_m*; at least 1, where the line is fixed.

    With n turns in a layer, k layers hold pi n k (D + k d): the sum of the layers in closed form,
    solved here for k. Raises ValueError if not even one turn fits between the flanges.
    """
    turns = turns_per_layer(drum_width_m=drum_width_m, line_diameter_m=line_diameter_m)
    if turns < 1:
        raise ValueError(
            f"the drum must be at least as wide as the line ({line_diameter_m:g} m), "
            f"got {drum_width_m:g} m"
        )
    fill = line_length_m * line_diameter_m / (math.pi * turns * drum_diameter_m**2)
    layers = (math.sqrt(1 + 4 * fill) - 1) / 2 * (drum_diameter_m / line_diameter_m)
    return max(1, math.ceil(layers - COUNT_SLACK))


def load_at_layer_n(*, rated_load_n: float, rated_radius_m: float, layer_radius_m: float) -> float:
    """Load the winch may hold with the line in a layer of *layer_radius_m*, in N.

    Constant torque, derived. *rated_radius_m* is the layer the plate rates. If the plate does not
    say which, take the bare drum: it gives the lower result.
    """
    return rated_load_n * rated_radius_m / layer_radius_m


def line_required_m(
    *,
    parts: float,
    attachment_depth_m: float,
    head_height_m: float,
    connector_m: float,
    head_to_drum_m: float,
    dead_wraps: float,
    first_layer_radius_m: float,
    allowance_m: float,
) -> float:
    """Length of line the job needs, in m, with *parts* of line at the hook.

    Derived. *attachment_depth_m* runs from the rim down to the casualty's attachment where it lies
    lowest, *head_height_m* from the rim up to the head sheave; *connector_m* is hook and
    connectors, which are not line. Dead wraps stay on the drum at the lowest point: at least 2 by
    Army TB 43-0142, at least 3 by 30 CFR 75.1436(b).
    """
    hanging_m = parts * (attachment_depth_m + head_height_m - connector_m)
    dead_m = dead_wraps * 2 * math.pi * first_layer_radius_m
    return hanging_m + head_to_drum_m + dead_m + allowance_m
