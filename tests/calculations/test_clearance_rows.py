"""Worked examples and reference rows of clearance.md that no other file of a topic holds.

W27, W28, W30 and R01 to R03 stand with their topics. Not here: R19 and R23, numbers of
test weights and mine ladders that nothing in the tool asks about.
"""

import math

import pytest
import sympy

from planbuilder.clearance.outline import Outline, width_at_rad
from planbuilder.clearance.place import leg_for_gap_m, leg_gap_m
from planbuilder.clearance.stretcher import longest_past_corner_m
from planbuilder.haul.shock import absorber_travel_m
from planbuilder.haul.stability import EdgeMoments, ballast_n
from planbuilder.limits import limits_for

G = 9.80665
INCH_M = 0.0254


@pytest.mark.parametrize(
    ("mass_kg", "fall_m", "force_n", "opens_m"),
    [
        pytest.param(100, 1.8, 4000, 0.5846, id="W05"),
        pytest.param(140, 1.8, 4000, 0.9407, id="W05, 140 kg"),
        pytest.param(100, 3.6, 6000, 0.7034, id="twice the fall"),
        pytest.param(100, 4.0, 0.875 * 6000, 0.9188, id="R14: average 0.875 of the peak, measured"),
    ],
)
def test_absorber_opens_as_far_as_the_energy_of_the_fall_asks(mass_kg, fall_m, force_n, opens_m):
    found_m = absorber_travel_m(weight_n=mass_kg * G, free_fall_m=fall_m, absorber_force_n=force_n)

    assert found_m == pytest.approx(opens_m, abs=5e-5)


def test_head_of_a_tripod_stands_below_the_length_of_its_legs():
    """W22: legs of 2.6 m on a circle of 0.9 m stand 2.439 m high, 0.1607 m less than a leg.

    Taken from the gap between two legs, which is half of that at the ground half way up.
    """
    at_m = 2.439 / 2
    half_m = math.sqrt(3) * 0.9 / 2

    leg_m = leg_for_gap_m(foot_circle_m=0.9, at_height_m=at_m, gap_m=half_m)

    assert leg_m == pytest.approx(2.6, abs=5e-4)
    assert leg_m - 2 * at_m == pytest.approx(0.1607, abs=5e-4)


def test_legs_for_a_gap_leave_just_that_gap():
    leg_m = leg_for_gap_m(foot_circle_m=1.0, at_height_m=1.5, gap_m=0.6)
    head_m = math.sqrt(leg_m**2 - 1)

    assert leg_gap_m(foot_circle_m=1.0, head_m=head_m, at_height_m=1.5) == pytest.approx(0.6)


def test_no_legs_are_long_enough_on_a_circle_too_small():
    with pytest.raises(ValueError, match="leave no gap"):
        leg_for_gap_m(foot_circle_m=0.3, at_height_m=1.5, gap_m=0.6)


def test_counterweight_of_the_worked_davit():
    """W23: 1.5 x 1.4 kN at 0.9 - 0.25 m, held 1.5 times by a weight at 0.80 m."""
    moments = EdgeMoments(stabilising_nm=0.0, overturning_nm=1.5 * 1400 * (0.9 - 0.25))

    assert ballast_n(moments=moments, behind_m=0.8, safety_factor=1.5) == pytest.approx(
        2559, abs=0.5
    )


def test_ladder_past_a_corner_is_the_closed_form():
    """R11: the least of a/sin + b/cos is (a^(2/3) + b^(2/3))^(3/2); by sympy, at its stationary."""
    a, b, t = sympy.symbols("a b t", positive=True)
    tangent = (a / b) ** sympy.Rational(1, 3)
    length = a / sympy.sin(t) + b / sympy.cos(t)
    slope = sympy.diff(length, t).subs(t, sympy.atan(tangent))
    at_best = sympy.simplify(length.subs(t, sympy.atan(tangent)))
    closed = (a ** sympy.Rational(2, 3) + b ** sympy.Rational(2, 3)) ** sympy.Rational(3, 2)

    for values in ({a: 2, b: 3}, {a: 1, b: 4}, {a: sympy.Rational(7, 5), b: sympy.Rational(9, 10)}):
        assert abs(sympy.N(slope.subs(values))) < 1e-9
        assert abs(sympy.N((at_best - closed).subs(values))) < 1e-9
        found_m = longest_past_corner_m(
            before_m=float(values[a]), after_m=float(values[b]), turn_rad=math.pi / 2, thickness_m=0
        )
        assert found_m == pytest.approx(float(closed.subs(values)), rel=1e-7)


def test_limits_of_the_profile_are_those_printed_in_feet():
    """R13: 3.5 ft are 1.0668 m, whatever the metric twin of a rule says; 6 ft are 1.8288 m."""
    limits = limits_for("us-osha-gi")

    assert limits.of("fall.deceleration").quantity.value == pytest.approx(1.0668, abs=1e-12)
    assert limits.of("fall.free_fall").quantity.value == pytest.approx(1.8288, abs=1e-12)


def test_large_man_in_a_ladder_cage():
    """R15, a cage of 27 in: 59.4 mm to each side, in depth 187.8 mm with a set, 89.8 as a pair."""
    cage_m = 27 * INCH_M
    alone = Outline(breadth_m=0.567, depth_m=0.298, set_width_m=0.3, set_depth_m=0.2)
    pair = Outline(
        breadth_m=0.567,
        depth_m=0.298,
        set_width_m=0,
        set_depth_m=0,
        front_breadth_m=0.567,
        front_depth_m=0.298,
    )

    assert (cage_m - width_at_rad(alone, 0)) / 2 == pytest.approx(0.0594, abs=5e-5)
    assert cage_m - width_at_rad(alone, math.pi / 2) == pytest.approx(0.1878, abs=5e-5)
    assert cage_m - width_at_rad(pair, math.pi / 2) == pytest.approx(0.0898, abs=5e-5)
