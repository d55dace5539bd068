"""Mass on the line: two worked examples, derived and cross-checked by hand."""

import pytest

from planbuilder.haul.load import line_mass_kg, weight_n

LARGE_MAN_SOAKED = {
    "body_kg": 123.0,  # P95 of US men, NHANES 2009-12
    "clothing_kg": 3.0,
    "protective_kg": 3.5,
    "wet_ratio": 1.0,
    "stretcher_kg": 9.0,
    "rigging_kg": 0.0,
}


def test_soaked_large_man_in_a_stretcher_weighs_141_5_kg():
    """By hand: 123.0 + 3.0 + 3.0 water + 3.5 + 9.0."""
    mass_kg = line_mass_kg(**LARGE_MAN_SOAKED, attendant_kg=0.0)

    assert mass_kg == pytest.approx(141.5)
    assert round(weight_n(mass_kg)) == 1388


def test_attendant_riding_along_with_kit_is_added():
    """By hand: 141.5 + 86.0 + 10.0."""
    mass_kg = line_mass_kg(**LARGE_MAN_SOAKED, attendant_kg=96.0)

    assert mass_kg == pytest.approx(237.5)
    assert round(weight_n(mass_kg)) == 2329


def test_dry_clothing_holds_no_water():
    mass_kg = line_mass_kg(**{**LARGE_MAN_SOAKED, "wet_ratio": 0.0}, attendant_kg=0.0)

    assert mass_kg == pytest.approx(138.5)


def test_each_kilogram_of_rigging_counts_once():
    mass_kg = line_mass_kg(**{**LARGE_MAN_SOAKED, "rigging_kg": 2.0}, attendant_kg=0.0)

    assert mass_kg == pytest.approx(143.5)
