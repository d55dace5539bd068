"""API Recommended Practice 9B, Wire Rope for Oil Field Service, 14th edition, addendum 1, 2020.

Clause 3.3.4, example: 10 lines, roller-bearing sheaves, hook load 400,000 lb. The fast line factor
is read as 0.123 from figure 1, case A; friction 1.04 a sheave (the factor of that figure).
"""

import pytest

from planbuilder.haul.ropes import Reeving, advantage, haul_force_n

pytestmark = pytest.mark.published


def test_fast_line_factor_of_ten_lines_is_the_printed_one():
    ten_lines = advantage(reeving=Reeving.SIMPLE, parts=(10,), efficiency=1 / 1.04, redirects=1)

    factor = haul_force_n(system_load_n=1, advantage=ten_lines)

    assert round(factor, 3) == 0.123
