"""Which printed row says what a level does."""

import pytest

from planbuilder.response.effects import effect_down_to, effect_from

RISING = [(20e-6, "headache"), (100e-6, "smell lost"), (500e-6, "collapse")]
SINKING = [(0.12, "judgement"), (0.08, "fainting"), (0.04, "coma")]


@pytest.mark.parametrize(
    ("ppm", "said"),
    [(5, ""), (20, "headache"), (99, "headache"), (100, "smell lost"), (900, "collapse")],
)
def test_a_rising_gas_does_what_its_last_row_says(ppm, said):
    assert effect_from(RISING, ppm / 1e6) == said


@pytest.mark.parametrize(
    ("percent", "said"),
    [(19, ""), (12, "judgement"), (9, "judgement"), (8, "fainting"), (3, "coma")],
)
def test_too_little_oxygen_does_what_its_lowest_row_says(percent, said):
    assert effect_down_to(SINKING, percent / 100) == said
