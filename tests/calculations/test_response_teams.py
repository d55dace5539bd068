"""Least people, one team over several openings, and shifts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.teams import (
    DAY_S,
    cover_s,
    first_gap_s,
    later_by_s,
    least_people,
    least_people_to_enter,
    open_at_once,
)

HOUR = 3600.0
MINUTE = 60.0


def test_least_people_by_case():
    """Sums of the rows of the reference's table; its 6 for an entry without bad air is a slip."""
    assert least_people(attendants=1, haulers=1) == 2
    assert least_people_to_enter(attendants=1, haulers=0, entry_rescuers=2, back_ups=1) == 7
    assert least_people_to_enter(attendants=1, haulers=0, entry_rescuers=2, back_ups=2) == 8


def test_one_team_over_two_openings_250_m_apart():
    """Worked example of the reference: 0.5 + 3 + 3.47 + 3 = 9.972 min."""
    needed = cover_s(notify_s=0.5 * MINUTE, derig_s=180, walk_s=250 / 1.2, rig_s=180, don_s=0)

    assert needed / 60 == pytest.approx(9.972, abs=5e-4)


@pytest.mark.parametrize(("clock", "than", "later"), [(8, 7, 1), (7, 8, 23), (6, 22, 8), (7, 7, 0)])
def test_time_of_day_after_another(clock, than, later):
    assert later_by_s(clock * HOUR, than_s=than * HOUR) == later * HOUR


@given(
    start=st.integers(0, 23),
    stay=st.integers(1, 24),
    other=st.integers(0, 23),
    rest=st.integers(1, 24),
)
def test_two_openings_share_an_hour(start, stay, other, rest):
    hours = {(start + one) % 24 for one in range(stay)}
    others = {(other + one) % 24 for one in range(rest)}

    at_once = open_at_once(
        start_s=start * HOUR,
        stay_s=stay * HOUR,
        other_start_s=other * HOUR,
        other_stay_s=rest * HOUR,
    )

    assert at_once == bool(hours & others)


@given(
    shifts=st.lists(st.tuples(st.integers(-5, 12), st.integers(1, 9)), max_size=5),
    until=st.integers(1, 12),
)
def test_the_first_hour_without_anybody(shifts, until):
    spans = [(start, start + length) for start, length in shifts]
    alone = [hour for hour in range(until) if not any(start <= hour < end for start, end in spans)]

    gap = first_gap_s(spans, until_s=until)

    assert gap == (alone[0] if alone else None)


def test_a_day_has_24_hours():
    assert math.isclose(DAY_S, 24 * HOUR)
