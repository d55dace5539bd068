"""Encyclopedia article "Fall factor": impact force of a climbing rope from its rated impact force.

The rope is rated F0 with m0 = 80 kg falling f0 = 1.77. The article takes the
undamped line of `shock`, here one metre of it, so that slack is the fall factor: without a fall the
force is 2 m g, and at m0 and f0 it is F0. Formula recalled.
"""

import pytest

from planbuilder.haul.shock import largest_slack_m, slack_drop_force_n

pytestmark = pytest.mark.published

TEST_WEIGHT_N = 80 * 9.81
TEST_FALL_FACTOR = 1.77


def rated_modulus_n(rated_force_n: float) -> float:
    """By the article, E A = F0 (F0 - 2 m0 g) / (2 m0 g f0)."""
    return (
        rated_force_n * (rated_force_n - 2 * TEST_WEIGHT_N) / (2 * TEST_WEIGHT_N * TEST_FALL_FACTOR)
    )


@pytest.mark.parametrize("rated_force_n", [8000, 9500, 12000])
def test_rated_fall_gives_back_the_rated_force(rated_force_n):
    modulus_n = rated_modulus_n(rated_force_n)

    force_n = slack_drop_force_n(
        weight_n=TEST_WEIGHT_N, stiffness_n_per_m=modulus_n, slack_m=TEST_FALL_FACTOR
    )

    assert force_n == pytest.approx(rated_force_n, rel=1e-9)


@pytest.mark.parametrize("mass_kg", [50, 80, 140])
def test_load_without_a_fall_pulls_2_mg(mass_kg):
    weight_n = mass_kg * 9.81

    force_n = slack_drop_force_n(
        weight_n=weight_n, stiffness_n_per_m=rated_modulus_n(9500), slack_m=0
    )

    assert force_n / weight_n == pytest.approx(2, rel=1e-9)


def test_rated_force_allows_exactly_the_rated_fall():
    """On one metre of rope the slack is the fall factor."""
    slack_m = largest_slack_m(
        weight_n=TEST_WEIGHT_N, stiffness_n_per_m=rated_modulus_n(9500), force_limit_n=9500
    )

    assert slack_m == pytest.approx(TEST_FALL_FACTOR, rel=1e-9)
