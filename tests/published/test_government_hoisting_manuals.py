"""Government hoisting manuals: factors of a snatch block by the angle between its lines. Recalled.

Force on the block over the pull on the line, to two decimals, cut off or rounded.
"""

import math

import pytest

from planbuilder.haul.redirect import redirect_force_raising_n

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("between_deg", "factor"),
    [(45, 1.84), (60, 1.73), (90, 1.41), (120, 1.00), (135, 0.76), (150, 0.52)],
)
def test_snatch_block_takes_the_recalled_share_of_the_pull(between_deg, factor):
    force = redirect_force_raising_n(
        load_side_n=1, efficiency=1, between_rad=math.radians(between_deg)
    )

    assert force == pytest.approx(factor, abs=0.01)
