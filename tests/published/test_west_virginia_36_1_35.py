"""West Virginia 36-1-35, wire ropes that hoist persons in shafts; repeats 30 CFR 57.19021.

35.3.1.a.1: on a winding drum, for rope lengths below 3,000 ft, static load times (7.0 - 0.001 L)
with L in ft. The formula is printed; the figures for 50 ft are its arithmetic.
"""

import pytest

from planbuilder.haul.load import weight_n
from planbuilder.haul.strength import breaking_needed_n, shaft_rope_factor

pytestmark = pytest.mark.published

FOOT_M = 0.3048


@pytest.mark.parametrize(
    ("length_ft", "factor"), [(0, 7.0), (50, 6.95), (1000, 6.0), (2999, 4.001)]
)
def test_factor_is_that_of_the_printed_formula(length_ft, factor):
    assert shaft_rope_factor(suspended_m=length_ft * FOOT_M) == pytest.approx(factor, rel=1e-9)


def test_140_kg_on_50_ft_of_rope_need_9542_n():
    strength_n = breaking_needed_n(
        tension_n=weight_n(140),
        factor=shaft_rope_factor(suspended_m=50 * FOOT_M),
        efficiency=1.0,
    )

    assert round(strength_n) == 9542
