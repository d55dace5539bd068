"""International Building Code 2012, Table 1806.2, presumptive load-bearing values (reproduced).

Vertical foundation pressure in psf; the table's note gives 0.0479 kPa for 1 psf.
"""

import pytest

from planbuilder.haul.legs import GROUNDS, IBC_2012

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("ground", "psf", "kpa"),
    [
        ("crystalline-rock", 12_000, 574.6),
        ("sedimentary-rock", 4_000, 191.5),
        ("gravel", 3_000, 143.6),
        ("sand", 2_000, 95.76),
        ("clay-or-silt", 1_500, 71.82),
    ],
)
def test_bearing_is_that_of_the_table(ground, psf, kpa):
    ours = GROUNDS[ground]

    assert ours.document == IBC_2012
    assert ours.bearing_pa / 1000 == pytest.approx(psf * 0.0479, rel=1e-3)
    assert float(f"{ours.bearing_pa / 1000:.4g}") == kpa
