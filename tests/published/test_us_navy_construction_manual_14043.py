"""US Navy training manual 14043, lifting a given weight: load that a rope raises through a tackle.

Example: a threefold purchase has six sheaves and an advantage of 6; rope of 2 tons safe working
load raises 12 tons without friction and 7.5 tons with 10 percent a sheave.
"""

import pytest

from planbuilder.haul.ropes import added_friction_haul_n

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("sheaves", "load_tons"), [(0, 12), (6, 7.5)])
def test_threefold_purchase_raises_the_printed_load_with_its_two_tons(sheaves, load_tons):
    pull = added_friction_haul_n(load_n=load_tons, sheaves=sheaves, ideal_advantage=6)

    assert pull == pytest.approx(2, rel=1e-12)
