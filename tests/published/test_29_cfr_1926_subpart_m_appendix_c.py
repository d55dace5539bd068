"""29 CFR 1926, Subpart M, Appendix C, horizontal lifelines (tie-off, item 6, in copies).

Below a sag of 30 degrees the force is amplified: about 2:1 at 15 degrees, about 6:1 at 5 degrees.
"""

import math

import pytest

from planbuilder.haul.lifeline import midspan_tension_n

pytestmark = pytest.mark.published


def tension_over_load(sag_deg: float) -> float:
    """On a span of 12 m, which does not matter."""
    sag_m = 6 * math.tan(math.radians(sag_deg))
    return midspan_tension_n(load_n=1.0, span_m=12.0, sag_m=sag_m)


@pytest.mark.parametrize(("sag_deg", "about"), [(15, 2), (5, 6)])
def test_force_is_amplified_about_as_the_appendix_says(sag_deg, about):
    assert tension_over_load(sag_deg) == pytest.approx(about, rel=0.05)


def test_amplification_begins_below_30_degrees():
    assert tension_over_load(30) == pytest.approx(1)
    assert tension_over_load(29) > 1
    assert tension_over_load(31) < 1
