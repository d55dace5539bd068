"""US Army TB 43-0142, Safety inspection and testing of lifting devices, table A-1 and item (7).

Table A-1 gives sheave diameters as multiples of that of the rope. Its note 3 works one out: 6 by 37
rope of 1/2 inch takes a 9 inch sheave. Item (7) leaves two full wraps on the drum. The copy of the
table is blurred; only what stands in a sentence is tested.
"""

import pytest

from planbuilder.haul.factors import LEAST_COUNTS, SHEAVE_RATIOS

pytestmark = pytest.mark.published


def test_half_inch_6_by_37_rope_takes_the_printed_9_inch_sheave():
    (ratio,) = [one for one in SHEAVE_RATIOS if one.clause == "table A-1, note 3"]

    assert ratio.rope == "6x37"
    assert ratio.least * 0.5 == 9


def test_two_wraps_stay_on_the_drum():
    (wraps,) = [one for one in LEAST_COUNTS if one.document == "Army TB 43-0142"]

    assert wraps.count == 2
