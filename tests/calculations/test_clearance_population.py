"""Share of a survey that passes, against counts made person by person in the survey itself.

The counts and the means are those of clearance.md 3.1 and 3.3 (ANSUR II, 4,082 men and 1,986
women). The square column cannot be had from chest depths (their spread leaves 91 % of men at
508 mm, 87.0 % counted), but with the deeper of chest and belly it
can: a body is as deep as its deepest part.
"""

from functools import partial

import pytest
from scipy.integrate import quad
from scipy.stats import norm

from planbuilder.checks.room.through import _group
from planbuilder.clearance.population import (
    Group,
    Spread,
    deepest_through_oval_m,
    deepest_through_rectangle_m,
    deepest_through_round_m,
    share_passing,
)
from planbuilder.tables import table

WHO = ("men", "women")
OPENINGS_MM = (457, 508, 559, 600, 610, 762)

# Opening in mm: men and women that pass, in percent; the model may be off by so many points.
DRESSED_ROUND = {
    457: (0.0, 1.0),
    508: (0.9, 34.7),
    559: (25.7, 90.7),
    600: (74.4, 99.5),
    610: (82.3, 99.8),
    762: (100, 100),
}
BARE_ROUND = {
    457: (4.6, 62.4),
    508: (49.1, 97.4),
    559: (93.1, 100),
    600: (99.5, 100),
    610: (99.9, 100),
    762: (100, 100),
}
SQUARE = {
    457: (29.7, 83.8),
    508: (87.0, 99.5),
    559: (99.5, 100),
    600: (100, 100),
    610: (100, 100),
    762: (100, 100),
}
ARMS_UP = {
    457: (0.6, 51.4),
    508: (57.4, 99.4),
    559: (99.6, 100),
    600: (100, 100),
    610: (100, 100),
    762: (100, 100),
}
OFF_ROUND, OFF_SQUARE, OFF_ARMS_UP = 3.0, 4.0, 2.0


def through_square(side_m, breadth_m):
    return deepest_through_rectangle_m(side_m, side_m, breadth_m)


def percent(group, through, allowance_m):
    return 100 * share_passing(
        group, lambda breadth_m: through(breadth_m + allowance_m) - allowance_m
    )


@pytest.mark.parametrize(
    ("counts", "through", "allowance_m", "off"),
    [
        pytest.param(DRESSED_ROUND, deepest_through_round_m, 0.07, OFF_ROUND, id="round, +70"),
        pytest.param(BARE_ROUND, deepest_through_round_m, 0.0, OFF_ROUND, id="round, nude"),
        pytest.param(SQUARE, through_square, 0.07, OFF_SQUARE, id="square, turned, +70"),
    ],
)
@pytest.mark.parametrize("opening_mm", OPENINGS_MM)
def test_share_is_that_counted_in_the_survey(counts, through, allowance_m, off, opening_mm):
    side_through = partial(through, opening_mm / 1000)
    shares = [percent(_group(one), side_through, allowance_m) for one in WHO]

    assert shares == pytest.approx(counts[opening_mm], abs=off)


@pytest.mark.parametrize("opening_mm", OPENINGS_MM)
@pytest.mark.parametrize("number", [0, 1])
def test_share_with_the_arms_up_lies_between_its_bounds(opening_mm, number):
    """Bones with 20 mm and hips: how these two go together is not printed, so both ends count."""
    sizes = table("body_sizes")[WHO[number]]
    bones = Spread(*(one + 0.02 for one in sizes["bone-breadth"][:3]))
    hips = Spread(*sizes["hip-breadth"][:3])
    ends = [
        percent(
            Group(breadth=bones, depth=hips, correlation=one),
            partial(deepest_through_round_m, opening_mm / 1000),
            0.07,
        )
        for one in (0.0, 0.99)
    ]

    assert ends[0] - OFF_ARMS_UP <= ARMS_UP[opening_mm][number] <= ends[1] + OFF_ARMS_UP


@pytest.mark.parametrize("who", WHO)
@pytest.mark.parametrize("name", ["stature", "shoulder-breadth", "body-depth", "bone-breadth"])
def test_spread_has_the_percentiles_of_the_table_and_nearly_its_99th(who, name):
    *shown, most_m = table("body_sizes")[who][name]
    spread = Spread(*shown)

    assert [spread.size_m(norm.ppf(one)) for one in (0.05, 0.5, 0.95)] == pytest.approx(shown)
    assert spread.size_m(norm.ppf(0.99)) == pytest.approx(most_m, abs=0.014)


@pytest.mark.parametrize(
    ("who", "name", "mean_m", "deviation_m"),
    [
        ("men", "stature", 1.7562, 0.0686),
        ("women", "stature", 1.6285, 0.0642),
        ("men", "shoulder-breadth", 0.5104, 0.0325),
        ("women", "shoulder-breadth", 0.4503, 0.0287),
        ("men", "body-depth", 0.2538, 0.0262),
        ("women", "body-depth", 0.2474, 0.0273),
    ],
)
def test_spread_has_the_printed_mean_and_deviation(who, name, mean_m, deviation_m):
    """R12, and clearance.md 3.1; integrated with scipy."""
    spread = Spread(*table("body_sizes")[who][name][:3])
    mean = quad(lambda z: spread.size_m(z) * norm.pdf(z), -8, 8)[0]
    variance = quad(lambda z: (spread.size_m(z) - mean) ** 2 * norm.pdf(z), -8, 8)[0]

    assert mean == pytest.approx(mean_m, abs=0.0015)
    assert variance**0.5 == pytest.approx(deviation_m, rel=0.05)


@pytest.mark.parametrize("spread", [Spread(0.4, 0.5, 0.62), Spread(0.4, 0.5, 0.6)])
def test_score_gives_back_the_size(spread):
    for score in (-3, -1, 0, 0.5, 2.5):
        assert spread.score(spread.size_m(score)) == pytest.approx(score)


def test_nobody_is_smaller_than_a_skewed_spread_begins():
    assert Spread(0.4, 0.5, 0.7).score(0.2) == float("-inf")


def test_an_oval_passes_as_many_as_its_axes_let():
    assert deepest_through_oval_m(0.6, 0.4, 0.35) == 0.6
    assert deepest_through_oval_m(0.6, 0.4, 0.5) == 0.4
    assert deepest_through_oval_m(0.6, 0.4, 0.7) < 0
