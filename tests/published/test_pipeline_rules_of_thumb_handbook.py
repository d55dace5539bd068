"""Pipeline Rules of Thumb Handbook, General Information, page 6: block and tackle with friction.

Sheave efficiency: 96.2 % with roller bearings, 91.7 % with plain bearings. The line leaves the
upper block straight to the hoist, so a tackle of n parts has n sheaves.
"""

import pytest

from planbuilder.haul.ropes import Reeving, advantage, haul_force_n

pytestmark = pytest.mark.published

# The page rounds 0.917^4 to 0.707 and goes on with it; unrounded the advantage is 3.236.
ROUNDED_ON_THE_WAY = 0.005


def four_parts_off_the_upper_block() -> float:
    return advantage(reeving=Reeving.SIMPLE, parts=(4,), efficiency=0.917, redirects=1)


def test_advantage_of_the_four_part_tackle_is_the_printed_one():
    assert four_parts_off_the_upper_block() == pytest.approx(3.25, rel=ROUNDED_ON_THE_WAY)


def test_pull_on_the_lead_line_is_the_printed_one():
    pull_lb = haul_force_n(system_load_n=3250, advantage=four_parts_off_the_upper_block())

    assert pull_lb == pytest.approx(1000, rel=ROUNDED_ON_THE_WAY)
