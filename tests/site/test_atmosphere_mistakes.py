"""Slips in what a site file says of the air are answered with one line each."""

from typing import Any

import pytest
from broken_atmosphere import TRENCH, clears, leak, whole
from broken_sites import Break, plan_with
from pydantic import ValidationError


def nitrogen(**values: Any) -> Break:
    """The manhole's fan clears nitrogen."""
    return clears(1, kind="inert-gas", **values)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (clears(1, start="120 %"), "must be 1 or less"),
        (nitrogen(start="8 %", supply="1 %"), "must be left out for inert-gas"),
        (leak(1, kind="oxygen-deficiency"), "must be inert-gas, hydrogen-sulfide"),
        (leak(1, rate="5 L"), "not a unit of the wanted kind"),
        (whole(1, ventilation={"blower": "fan"}), "is not the id of an equipment"),
        (whole(1, ventilation={"mixing_factor": 0.5}), "greater than or equal to 1"),
        (whole(1, flammable={"substance": "methane", "basis": "nfpa"}), "nfpa-497"),
    ],
)
def test_a_slip_is_refused_with_what_is_allowed(change: Break, message: str) -> None:
    with pytest.raises(ValidationError, match=message):
        plan_with(change, sample=TRENCH)


def test_a_flammable_gas_may_start_above_its_limit() -> None:
    change = clears(1, kind="flammable-gas", start="120 %", target="10 %")

    assert plan_with(change, sample=TRENCH).status == "NOT READY"  # the gas is not named
