"""Letters to a mailing list on raising antenna masts (lists.contesting.com), on gin poles.

2002-07, message 332: 100 lb hauled from the ground over a pulley at the top put 200 lb on an ideal
pole. 1997-07, message 589: a mast of 150 lb puts 300 lb on it. Hobby letters, sound statics.
"""

import pytest

from planbuilder.haul.redirect import redirect_force_raising_n

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("load_lb", "on_pole_lb"), [(100, 200), (150, 300)])
def test_pole_carries_the_load_and_the_pull_of_the_ground_crew(load_lb, on_pole_lb):
    force_lb = redirect_force_raising_n(load_side_n=load_lb, efficiency=1, between_rad=0)

    assert force_lb == on_pole_lb
