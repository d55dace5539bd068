"""Exhaustion in cold water by the printed rows, and no answer beyond them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.cold_water import ColdRow, exhaustion_s

ROWS = (ColdRow(273.0, None), ColdRow(280.0, 900.0), ColdRow(290.0, 1800.0))


@pytest.mark.parametrize(
    ("water_k", "time_s"), [(273.1, 900), (280.0, 900), (280.1, 1800), (290.0, 1800)]
)
def test_the_row_that_holds_the_temperature_speaks(water_k, time_s):
    assert exhaustion_s(ROWS, water_k) == time_s


def test_colder_than_the_least_time_has_no_answer():
    with pytest.raises(ValueError, match="no least time"):
        exhaustion_s(ROWS, 272.0)


def test_warm_water_has_no_answer():
    with pytest.raises(ValueError, match="80 F"):
        exhaustion_s(ROWS, 291.0)


@given(water_k=st.floats(273.1, 290), warmer_k=st.floats(0, 10))
def test_warmer_water_never_exhausts_sooner(water_k, warmer_k):
    warmer = min(290.0, water_k + warmer_k)

    assert exhaustion_s(reversed(ROWS), warmer) >= exhaustion_s(ROWS, water_k)
