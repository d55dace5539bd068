"""EN 355:2002, Personal protective equipment against falls: energy absorbers.

The text was not seen; recalled, and supported by summaries of it: drop of twice the length,
extension at most 1.75 m, arrest distance at most 2 L + 1.75 m, with L = 2 m for the whole
connector. The D-ring 1.5 m above the soles and the 1.0 m of margin are those of the usual European
examples, recalled too.
"""

import pytest

from planbuilder.clearance.fall import (
    clearance_below_surface_m,
    lanyard_clearance_below_anchor_m,
    lanyard_free_fall_m,
)

pytestmark = pytest.mark.published


def test_free_fall_of_the_drop_test_is_twice_the_length():
    free_fall_m = lanyard_free_fall_m(
        connector_m=2.0, offset_m=0, anchor_height_m=0, dring_height_m=2.0
    )

    assert free_fall_m == 2 * 2.0


@pytest.mark.parametrize(("margin_m", "distance_m"), [(0.0, 5.75), (1.0, 6.75)])
def test_arrest_distance_is_twice_the_length_and_1_75_m(margin_m, distance_m):
    """R16. Of the D-ring, so nothing hangs below it; the anchor is one length below its start."""
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=2.0,
        deceleration_m=1.75,
        hanging_m=0,
        margin_m=margin_m,
    )

    below_start_m = clearance_below_surface_m(below_anchor_m=below_anchor_m, anchor_height_m=-2.0)

    assert round(below_start_m, 2) == distance_m


def test_clear_height_below_the_anchor_is_6_25_m():
    """R16."""
    below_anchor_m = lanyard_clearance_below_anchor_m(
        connector_m=2.0,
        deceleration_m=1.75,
        hanging_m=1.5,
        margin_m=1.0,
    )

    assert round(below_anchor_m, 2) == 6.25
