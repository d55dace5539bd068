"""Lift times. 13 and 30 ft/min are usual hand-winch speeds: common practice, no source."""

import pytest

from planbuilder.haul.raising import lift_time_s

FOOT_M = 0.3048


@pytest.mark.parametrize(
    ("feet_per_minute", "metres_per_minute", "minutes"), [(13, 4, 3.8), (30, 9, 1.7)]
)
def test_50_feet_of_lift_take_the_usual_time(feet_per_minute, metres_per_minute, minutes):
    speed_m_per_s = feet_per_minute * FOOT_M / 60

    time_s = lift_time_s(lift_m=50 * FOOT_M, line_speed_m_per_s=speed_m_per_s, parts=1)

    assert round(speed_m_per_s * 60) == metres_per_minute
    assert round(time_s / 60, 1) == minutes


def test_two_parts_of_line_take_twice_as_long():
    """By hand: 6 m of lift takes 12 m of line, 120 s at 0.1 m/s."""
    assert lift_time_s(lift_m=6, line_speed_m_per_s=0.1, parts=2) == pytest.approx(120)


@pytest.mark.parametrize("speed_m_per_s", [0.0, -0.1])
def test_line_that_does_not_move_is_refused(speed_m_per_s):
    with pytest.raises(ValueError, match=rf"above 0 m/s, got {speed_m_per_s}"):
        lift_time_s(lift_m=6, line_speed_m_per_s=speed_m_per_s, parts=1)
