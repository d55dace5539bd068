"""NIOSH study of harness fit and suspension tolerance (cdc.gov/niosh/nioshtic-2/20040657).

37 construction workers hung by the back ring: a rescue plan of 9 minutes keeps affected workers to
5 % at most. An earlier one (20030250): half of 40 workers tolerated 29 min hung by the chest ring
and 31 min by the back ring, 95 % of them 7 and 11 min.
"""

import math

import pytest
from scipy.stats import norm

from planbuilder.response.classes import PlanningClass, air_limit_s
from planbuilder.response.suspension import CONTACT_LIMIT_S

pytestmark = pytest.mark.published


def test_motionless_suspension_leaves_nine_minutes():
    assert air_limit_s(PlanningClass.SUSPENSION) == 9 * 60


def affected(median_min: float, tolerated_min: float, limit_s: float) -> tuple[float, float]:
    """Sigma of the log-normal through median and 5 % point, and who is affected by the limit."""
    sigma = math.log(median_min / tolerated_min) / norm.ppf(0.95)
    return sigma, norm.cdf(math.log(limit_s / 60 / median_min) / sigma)


def test_the_limit_of_the_later_study_lies_between_the_two_rings_of_the_earlier_one():
    limit_s = air_limit_s(PlanningClass.SUSPENSION)
    sigma, chest = affected(29, 7, limit_s)
    _, back = affected(31, 11, limit_s)

    assert sigma == pytest.approx(0.8641, rel=1e-3)
    assert chest == pytest.approx(0.0879, rel=2e-3)
    assert 0.02 < back < 0.05 < chest < 0.09


def test_contact_is_made_before_the_least_time_that_95_percent_tolerated():
    assert CONTACT_LIMIT_S < 7 * 60
