"""US Navy Steelworker manual, volume 2, chapter on hoisting: allowance for friction.

Each sheave resists with 10 percent of the load. Example: 1,000 lb with a twofold purchase, which
has four sheaves and a mechanical advantage of 4, take 350 lb.
"""

import pytest

from planbuilder.haul.ropes import Reeving, added_friction_haul_n, advantage, haul_force_n

pytestmark = pytest.mark.published


def test_twofold_purchase_raises_1000_lb_with_the_printed_350_lb():
    pull_lb = added_friction_haul_n(load_n=1000, sheaves=4, ideal_advantage=4)

    assert pull_lb == pytest.approx(350, rel=1e-12)


def test_manual_asks_for_more_than_sheaves_that_each_lose_10_percent():
    """Four sheaves of 0.9, hauled off the fixed block: derived, for comparison."""
    real = advantage(reeving=Reeving.SIMPLE, parts=(4,), efficiency=0.9, redirects=1)

    assert haul_force_n(system_load_n=1000, advantage=real) < 350
