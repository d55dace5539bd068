"""Amateur radio mailing list, tower guys, 18 July 2000 (lists.contesting.com, 032018).

Side force on a tower over the cosine of the guy's angle to the ground: 1000 lb give 1414 lb at 45
degrees and 2924 lb at 70 degrees. A hobby post, and plain statics: guy and tower are two legs that
meet where the force pulls, the tower square to it.
"""

import math

import pytest

from planbuilder.haul.anchors import two_legs_n

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("guy_deg", "pull_lb"), [(45, 1414), (70, 2924)])
def test_guy_pulls_with_the_force_of_the_post(guy_deg, pull_lb):
    guy_lb, tower_lb = two_legs_n(
        load_n=1000.0, first_rad=math.radians(guy_deg), second_rad=math.pi / 2
    )

    assert round(guy_lb) == pull_lb
    assert tower_lb == pytest.approx(1000 * math.tan(math.radians(guy_deg)))
