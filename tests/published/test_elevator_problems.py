"""Physics problems with solutions: cable of an elevator that is braked evenly while going down.

physics-tutorial.net, tension in an elevator cable: 1400 kg, 10 m/s, stopped in 40 m, g 9.81: 15484
N. wiredfaculty.com: 400 kg, 2 m/s, in 1.6 m, g 9.8: 4420 N. An even brake is an absorber of that
force; the speed is that of a fall from v^2 / 2g.
"""

from typing import NamedTuple

import pytest

from planbuilder.haul.shock import absorber_travel_m

pytestmark = pytest.mark.published


class Braked(NamedTuple):
    where: str
    mass_kg: float
    gravity: float
    speed_m_per_s: float
    distance_m: float
    tension_n: float


@pytest.mark.parametrize(
    "row",
    [
        Braked("physics-tutorial.net, elevator cable", 1400, 9.81, 10, 40, 15484),
        Braked("wiredfaculty.com, elevator of 400 kg", 400, 9.8, 2, 1.6, 4420),
    ],
    ids=lambda row: row.where,
)
def test_brake_of_the_printed_tension_stops_within_the_printed_distance(row):
    travel_m = absorber_travel_m(
        weight_n=row.mass_kg * row.gravity,
        free_fall_m=row.speed_m_per_s**2 / (2 * row.gravity),
        absorber_force_n=row.tension_n,
    )

    assert travel_m == pytest.approx(row.distance_m, rel=1e-5)
