"""Planning classes at and beside their bounds."""

import pytest

from planbuilder.response.classes import (
    BLEEDING_LIMIT_S,
    PlanningClass,
    air_limit_s,
    carbon_monoxide_class,
    hydrogen_sulfide_class,
    oxygen_class,
)

PPM = 1e-6


@pytest.mark.parametrize(
    ("percent", "expected"),
    [(0.0, 1), (7.9, 1), (8.0, 2), (15.9, 2), (19.4, 2)],
)
def test_oxygen_below_8_percent_is_a_matter_of_seconds(percent, expected):
    assert oxygen_class(percent / 100) == expected


@pytest.mark.parametrize(("ppm", "expected"), [(100, 2), (499, 2), (500, 1), (2000, 1)])
def test_hydrogen_sulfide_from_500_ppm_is_a_matter_of_seconds(ppm, expected):
    assert hydrogen_sulfide_class(ppm / 1e6) == expected


@pytest.mark.parametrize(
    ("ppm", "expected"), [(100, 4), (1199, 4), (1200, 2), (6000, 2), (6001, 1), (12800, 1)]
)
def test_carbon_monoxide_steps_at_1200_and_6000_ppm(ppm, expected):
    assert carbon_monoxide_class(ppm / 1e6) == expected


@pytest.mark.parametrize("fraction", [1200 * PPM, 1200 / 1e6, 0.12 / 100, 0.0012 * (1 - 1e-12)])
def test_1200_ppm_count_as_1200_ppm_however_they_were_written(fraction):
    assert carbon_monoxide_class(fraction) == PlanningClass.MINUTES


def test_ten_minutes_are_left_where_harm_takes_tens_of_minutes():
    """A choice, held here so that it cannot drift."""
    assert air_limit_s(PlanningClass.TENS_OF_MINUTES) == 600


def test_classes_are_numbered_from_the_fastest_harm():
    assert [int(one) for one in PlanningClass] == [1, 2, 3, 4, 5]


def test_slower_class_never_has_a_shorter_limit():
    limits_s = [air_limit_s(one) for one in sorted(PlanningClass)]

    assert limits_s == sorted(limits_s)
    assert min(limits_s) > BLEEDING_LIMIT_S
