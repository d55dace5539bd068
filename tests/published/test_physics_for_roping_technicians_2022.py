"""Delaney, R., Physics for Roping Technicians, 2022, page 88: two tables of rope friction.

The upper table holds 100 kg with turns round an aluminium tube, friction 0.175. The lower table
gives friction measured with a mass of 75 kg: the pulls that just raise and just hold it.
"""

import math
from typing import NamedTuple

import pytest

from planbuilder.haul.friction import edge_factor, measured_friction

pytestmark = pytest.mark.published


class Turns(NamedTuple):
    where: str
    turns: float
    ratio: float
    hold_kg: float


@pytest.mark.parametrize(
    "row",
    [
        Turns("p. 88, a quarter turn", 0.25, 1.32, 75.97),
        Turns("p. 88, half a turn", 0.5, 1.73, 57.71),
        Turns("p. 88, 1 turn", 1, 3.00, 33.30),
        Turns("p. 88, 2 turns", 2, 9.02, 11.09),
        Turns("p. 88, 3 turns", 3, 27.08, 3.69),
        Turns("p. 88, 4 turns", 4, 81.31, 1.23),
        Turns("p. 88, 5 turns", 5, 244.15, 0.41),
        Turns("p. 88, 6 turns", 6, 733.15, 0.14),
    ],
    ids=lambda row: row.where,
)
def test_turns_round_a_tube_hold_the_printed_mass(row):
    factor = edge_factor([(0.175, row.turns * math.tau)])

    assert round(factor, 2) == row.ratio
    assert round(100 / factor, 2) == row.hold_kg


class Measured(NamedTuple):
    where: str
    raise_kg: float
    lower_kg: float
    turn_deg: float
    friction: float


@pytest.mark.parametrize(
    "row",
    [
        Measured("p. 88, aluminium 50 mm, rope 1, 90 deg", 98, 50, 90, 0.21),
        Measured("p. 88, aluminium 50 mm, rope 2, 180 deg", 88, 35, 180, 0.15),
        Measured("p. 88, aluminium 50 mm, rope 2, 90 deg", 89, 49, 90, 0.19),
        Measured("p. 88, anodised 60 mm, rope 1, 90 deg", 92, 53, 90, 0.18),
        Measured("p. 88, anodised 60 mm, rope 2, 180 deg", 87, 36, 180, 0.14),
        Measured("p. 88, anodised 60 mm, rope 2, 90 deg", 92, 52, 90, 0.18),
        Measured("p. 88, galvanised 43 mm, rope 1, 90 deg", 103, 47, 90, 0.25),
        Measured("p. 88, galvanised 43 mm, rope 2, 180 deg", 125, 37, 180, 0.19),
        Measured("p. 88, galvanised 43 mm, rope 2, 90 deg", 92, 47, 90, 0.21),
        Measured("p. 88, steel 10 mm, 180 deg", 127, 29, 180, 0.24),
        Measured("p. 88, steel 12 mm, 180 deg", 140, 31, 180, 0.24),
        Measured("p. 88, timber flat, 180 deg", 179, 17, 180, 0.37),
        Measured("p. 88, timber on edge, 180 deg", 140, 15, 180, 0.36),
        Measured("p. 88, concrete, 90 deg", 135, 34, 90, 0.44),
    ],
    ids=lambda row: row.where,
)
def test_measured_pulls_give_the_printed_friction(row):
    friction = measured_friction(
        raise_n=row.raise_kg * 9.80665,
        lower_n=row.lower_kg * 9.80665,
        turn_rad=math.radians(row.turn_deg),
    )

    assert round(friction, 2) == row.friction
