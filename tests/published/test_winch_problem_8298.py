"""Mathematics problem 8298, Winch, with solution (hackmath.net).

20 m of 6 mm rope on a drum 60 mm wide and 50 mm thick. The solution spreads the rope as a solid of
square turns: 133.3374 mm across. That lies in the 7th layer, which reaches from 122 to 134 mm.
"""

import pytest

from planbuilder.haul.drum import layer_radius_m, layers_needed, turns_per_layer

pytestmark = pytest.mark.published

PRINTED_DIAMETER_M = 0.1333374


def test_ten_turns_lie_side_by_side():
    assert turns_per_layer(drum_width_m=0.060, line_diameter_m=0.006) == 10


def test_rope_ends_in_the_layer_that_reaches_the_printed_diameter():
    layers = layers_needed(
        line_length_m=20, drum_diameter_m=0.050, drum_width_m=0.060, line_diameter_m=0.006
    )
    middle_m = layer_radius_m(drum_diameter_m=0.050, line_diameter_m=0.006, layer=layers)

    assert 2 * (middle_m - 0.003) < PRINTED_DIAMETER_M <= 2 * (middle_m + 0.003)
