"""Toxic load of hydrogen sulfide inside its range, and no answer beyond it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.hydrogen_sulfide import LONGEST_S, load_time_s


@pytest.mark.parametrize("ppm", [76, 100, 350])
def test_shorter_than_ten_minutes_has_no_answer(ppm):
    with pytest.raises(ValueError, match="10 min"):
        load_time_s(ppm / 1e6)


@pytest.mark.parametrize("ppm", [0, 1, 30])
def test_nothing_longer_than_eight_hours_is_said(ppm):
    assert load_time_s(ppm / 1e6) == LONGEST_S


@given(level=st.floats(1e-9, 75e-6), more=st.floats(0, 1e-4))
def test_a_higher_level_never_leaves_more_time(level, more):
    try:
        later = load_time_s(level + more)
    except ValueError:
        return

    assert later <= load_time_s(level)
