"""Dimensions of the functions that put a length into `math`, where pint cannot follow.

All lengths times k must make a resulting length k times as long, and leave an angle as it is.
"""

import math

import pytest

from planbuilder.clearance import fall, line, outline
from planbuilder.haul import base


def body(scale, set_width_m=0.3, set_depth_m=0.2):
    return outline.Outline(
        breadth_m=0.5 * scale,
        depth_m=0.3 * scale,
        set_width_m=set_width_m * scale,
        set_depth_m=set_depth_m * scale,
    )


def aside(scale):
    place = {"head_off_m": 0.02, "head_height_m": 2.4, "depth_m": 6.0, "at_m": 0.2}
    return {name: value * scale for name, value in place.items()}


FEET = [(0.9, 0.4), (-0.6, 0.5), (-0.6, -0.5), (0.8, -0.6)]
SWING = {"swing_from_rad": -1.0, "swing_to_rad": 2.0}

# Results that grow with the lengths, as a length must.
LENGTHS = {
    "line_inside_base_m: math.hypot": lambda k: base.line_inside_base_m(
        feet=[(x * k, y * k) for x, y in FEET], reach_m=0.3 * k, **SWING
    ),
    "enclosing_diameter_m: math.hypot": lambda k: outline.enclosing_diameter_m(body(k)),
    "width_at_rad: math.hypot": lambda k: outline.width_at_rad(body(k), 0.4),
    "short_side_needed_m: math.sqrt": lambda k: outline.short_side_needed_m(
        body(k, 0, 0), long_side_m=0.42 * k
    ),
    "short_side_needed_m with a set: math.hypot": lambda k: outline.short_side_needed_m(
        body(k), long_side_m=0.52 * k
    ),
    "lanyard_free_fall_m: math.sqrt": lambda k: fall.lanyard_free_fall_m(
        connector_m=1.8 * k, offset_m=0.5 * k, anchor_height_m=2.0 * k, dring_height_m=1.5 * k
    ),
    "line_at_m": lambda k: line.line_at_m(casualty_off_m=0.9 * k, **aside(k)),
    "farthest_casualty_m": lambda k: line.farthest_casualty_m(room_m=0.25 * k, **aside(k)),
    "retractor_distance_m: math.hypot": lambda k: fall.retractor_distance_m(
        anchor_height_m=3.5 * k, dring_height_m=1.5 * k, offset_m=1.5 * k
    ),
}


@pytest.mark.parametrize("name", LENGTHS)
@pytest.mark.parametrize("scale", [0.5, 3.0])
def test_length_grows_with_the_lengths_it_is_made_of(name, scale):
    assert LENGTHS[name](scale) == pytest.approx(scale * LENGTHS[name](1.0), rel=1e-6)


def test_angle_does_not_grow_with_the_lengths():
    angles_rad = [
        base.worst_swing_rad(feet=[(x * k, y * k) for x, y in FEET], reach_m=0.3 * k, **SWING)
        for k in (1.0, 3.0)
    ]

    assert math.isclose(*angles_rad)
