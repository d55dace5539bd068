"""29 CFR 1926, Subpart M, Appendix C, horizontal lifelines (tie-off, item 6, in copies).

Below a sag of 30 degrees the force is amplified: about 2:1 at 15 degrees, about 6:1 at 5 degrees.
"""

import math

import pytest

from planbuilder.haul.lifeline import tension_ratio

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("sag_deg", "about"), [(15, 2), (5, 6)])
def test_force_is_amplified_about_as_the_appendix_says(sag_deg, about):
    assert tension_ratio(angle_rad=math.radians(sag_deg)) == pytest.approx(about, rel=0.05)


def test_amplification_begins_below_30_degrees():
    assert tension_ratio(angle_rad=math.radians(30)) == pytest.approx(1)
    assert tension_ratio(angle_rad=math.radians(29)) > 1
    assert tension_ratio(angle_rad=math.radians(31)) < 1
