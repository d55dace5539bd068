"""Strong, M., Mechanical Advantage in Rescue Systems, University of Oregon outdoor programme.

Ratios of a 3:1 system: in theory 180 lb is raised with 60 lb; without rescue pulleys friction
brings it to about 2:1. The page gives no efficiency; 0.6 is that of cord on a carabiner in a bench
test (hwstock.org, binerpulley), so the second row is approximate as the page is.
"""

import pytest

from planbuilder.haul.ropes import Reeving, advantage, haul_force_n, ideal_advantage

pytestmark = pytest.mark.published


def test_three_to_one_raises_180_lb_with_60_lb_in_theory():
    ideal = ideal_advantage(reeving=Reeving.SIMPLE, parts=(3,))

    assert haul_force_n(system_load_n=180, advantage=ideal) == 60


def test_three_to_one_without_pulleys_is_about_two_to_one():
    real = advantage(reeving=Reeving.SIMPLE, parts=(3,), efficiency=0.6, redirects=0)

    assert real == pytest.approx(2, rel=0.05)
