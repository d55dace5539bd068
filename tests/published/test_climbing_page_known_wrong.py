"""A climbing page multiplies 3 by 0.5 and calls a 3:1 on carabiners a "1.5:1". It is wrong.

Kept so that nobody brings the rule back: each carabiner halves the tension, and the load still
feels the haul strand itself, 1 + 0.5 + 0.25.
"""

import pytest

from planbuilder.haul.strands import pull_of
from planbuilder.haul.tackle import HaulStrand, simple

pytestmark = pytest.mark.published

STATED = 3 * 0.5


def test_three_to_one_on_carabiners_is_1_75_and_not_the_stated_1_5():
    pull = pull_of(simple([0.5, 0.5], haul_strand=HaulStrand.OFF_MOVING))

    assert pull.advantage == 1.75
    assert pull.advantage != pytest.approx(STATED, rel=0.1)
