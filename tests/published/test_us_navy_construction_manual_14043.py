"""US Navy training manual 14043, lifting a given weight: load that a rope raises through a tackle.

Example: a threefold purchase has six sheaves and an advantage of 6; rope of 2 tons safe working
load raises 12 tons without friction and 7.5 tons with 10 percent a sheave.
"""

import pytest

from planbuilder.haul.ropes import added_friction_load_n

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("sheaves", "load_tons"), [(0, 12), (6, 7.5)])
def test_threefold_purchase_raises_the_printed_load(sheaves, load_tons):
    raised = added_friction_load_n(haul_force_n=2, sheaves=sheaves, ideal_advantage=6)

    assert raised == pytest.approx(load_tons, rel=1e-12)
