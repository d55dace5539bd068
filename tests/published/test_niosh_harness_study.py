"""NIOSH study of harness fit and suspension tolerance (cdc.gov/niosh/nioshtic-2/20040657).

37 construction workers hung by the back ring: a rescue plan of 9 minutes keeps affected workers to
5 % at most.
"""

import pytest

from planbuilder.response.classes import PlanningClass, air_limit_s

pytestmark = pytest.mark.published


def test_motionless_suspension_leaves_nine_minutes():
    assert air_limit_s(PlanningClass.SUSPENSION) == 9 * 60
