"""Engineering mechanics reviewer, problem 343, equilibrium of parallel forces (mathalino.com).

A travelling crane of 20 tons on rails A and B, 5 ft apart; its weight acts 1 ft past B, a load of
20 tons 10 ft past B. The counterweight that keeps it up loaded and unloaded: 20 tons at 6 ft before
A. Force in tons and length in ft stand in for N and m: the balance is the same.
"""

import pytest

from planbuilder.haul.stability import (
    Force,
    ballast_n,
    base_edges,
    centre_of_pressure_m,
    edge_moments,
)

pytestmark = pytest.mark.published

RAILS = [(0.0, 1.0), (0.0, -1.0), (5.0, 1.0), (5.0, -1.0)]
OVER_B = max(base_edges(RAILS), key=lambda edge: -edge.inward[0])


def tons(weight, at_ft):
    return Force(at_m=(at_ft, 0.0, 0.0), force_n=(0.0, 0.0, -weight))


CRANE, LOAD, COUNTERWEIGHT = tons(20.0, 6.0), tons(20.0, 15.0), tons(20.0, -6.0)


def test_counterweight_of_20_tons_6_ft_before_a_just_holds_the_load():
    tipping = edge_moments([CRANE, LOAD], OVER_B)

    needed_tons = ballast_n(moments=tipping, behind_m=5.0 + 6.0, safety_factor=1.0)

    assert needed_tons == pytest.approx(20)
    assert centre_of_pressure_m([CRANE, LOAD, COUNTERWEIGHT])[0] == pytest.approx(5)


def test_without_the_load_the_crane_just_stands_on_rail_a():
    assert centre_of_pressure_m([CRANE, COUNTERWEIGHT])[0] == pytest.approx(0)
