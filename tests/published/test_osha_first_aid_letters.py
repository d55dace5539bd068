"""OSHA standard interpretations on first-aid response time, 1992-10-05 to 2007-03-23.

3 to 4 minutes from injury to first aid where suffocation or severe bleeding can be expected; up
to 15 minutes where a threat to life is unlikely (letters of 1992 to 1994, some later superseded).
"""

import pytest

from planbuilder.response.classes import BLEEDING_LIMIT_S, PlanningClass, air_limit_s

pytestmark = pytest.mark.published


@pytest.mark.parametrize("planning_class", [PlanningClass.SECONDS, PlanningClass.MINUTES])
def test_suffocation_leaves_four_minutes(planning_class):
    assert air_limit_s(planning_class) == 4 * 60


def test_severe_bleeding_leaves_three_minutes():
    assert BLEEDING_LIMIT_S == 3 * 60


def test_injury_without_threat_to_life_leaves_fifteen_minutes():
    assert air_limit_s(PlanningClass.MECHANICAL) == 15 * 60
