"""Employer and fire-department response to confined spaces (J Occup Environ Hyg 2012;9(2):120).

Officers estimated 48 to 123 minutes for a whole rescue, 70 to 173 with hazardous material.
"""

import pytest

from planbuilder.response.public import QUICKEST_PUBLIC_RESCUE_S

pytestmark = pytest.mark.published


def test_the_quickest_estimate_is_48_minutes():
    assert QUICKEST_PUBLIC_RESCUE_S == 48 * 60
