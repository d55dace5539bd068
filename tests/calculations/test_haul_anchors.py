"""Anchors of several legs: worked examples, against linear solves and least energy (scipy).

The energy oracle knows nothing of stiffness matrices or of sets of taut legs: it moves the joint
until the stretched legs and the load together hold least energy.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from planbuilder.haul.anchors import (
    FixedLeg,
    fixed_anchor,
    leg_direction,
    sliding_drop_m,
    sliding_leg_n,
    sliding_leg_ratio,
    swung_legs_n,
    two_equal_legs_n,
    two_legs_n,
    widest_between_rad,
)

SLACK = 1e-9
LOAD_N = 2000.0


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def fan(stiffness_kn_per_m, angles_deg):
    """Legs in a plane at angles from the axis; x across, y along the axis."""
    return [
        FixedLeg(
            stiffness_n_per_m=1000 * stiffness,
            direction=(math.sin(math.radians(angle)), math.cos(math.radians(angle))),
        )
        for stiffness, angle in zip(stiffness_kn_per_m, angles_deg, strict=True)
    ]


def tripod_sling(lean_deg):
    """Three legs alike, a third of a turn apart."""
    return [
        FixedLeg(
            stiffness_n_per_m=1e5,
            direction=leg_direction(lean_rad=math.radians(lean_deg), toward_rad=turn),
        )
        for turn in (0, math.tau / 3, 2 * math.tau / 3)
    ]


def pull(angle_deg, load_n=LOAD_N):
    return load_n * math.sin(math.radians(angle_deg)), load_n * math.cos(math.radians(angle_deg))


def least_energy(legs, load_n):
    """Tensions where half k stretch^2 of the taut legs less the work of the load is least."""
    stiffness = np.array([leg.stiffness_n_per_m for leg in legs]) / 1e5
    along, load = np.array([leg.direction for leg in legs]), np.array(load_n) / 1e3

    def energy(shift):
        stretch = np.maximum(along @ shift, 0)
        return stiffness @ stretch**2 / 2 - load @ shift

    def slope(shift):
        return along.T @ (stiffness * np.maximum(along @ shift, 0)) - load

    found = optimize.minimize(energy, load, jac=slope, method="BFGS", options={"gtol": 1e-9})
    return stiffness * np.maximum(along @ found.x, 0) * 1e3


@pytest.mark.parametrize(
    ("between_deg", "share"),
    [(0, 0.5), (30, 0.5176), (60, 0.5774), (90, 0.7071), (120, 1.0), (150, 1.932)],
)
def test_two_legs_alike_carry_the_share_of_the_table(between_deg, share):
    tension_n = two_equal_legs_n(load_n=1.0, between_rad=math.radians(between_deg))

    assert four(tension_n) == share


@given(between_rad=st.floats(0.01, 3.1))
def test_two_legs_alike_add_up_to_the_load(between_rad):
    tension_n = two_equal_legs_n(load_n=LOAD_N, between_rad=between_rad)
    legs = [
        np.array([math.sin(side), math.cos(side)]) for side in (between_rad / 2, -between_rad / 2)
    ]

    assert tension_n * sum(legs) == pytest.approx([0, LOAD_N], abs=1e-6)
    assert two_legs_n(
        load_n=LOAD_N, first_rad=between_rad / 2, second_rad=between_rad / 2
    ) == pytest.approx((tension_n, tension_n))


def test_legs_at_20_and_50_degrees_carry_1630_and_727_9_n():
    """Worked example; numpy balances the joint."""
    first_rad, second_rad = math.radians(20), math.radians(50)
    balance = [
        [-math.sin(first_rad), math.sin(second_rad)],
        [math.cos(first_rad), math.cos(second_rad)],
    ]

    tensions_n = two_legs_n(load_n=LOAD_N, first_rad=first_rad, second_rad=second_rad)

    assert [four(one) for one in tensions_n] == [1630, 727.9]
    assert tensions_n == pytest.approx(np.linalg.solve(balance, [0, LOAD_N]))


def test_a_leg_along_the_load_line_carries_all_of_it():
    assert two_legs_n(load_n=LOAD_N, first_rad=0.0, second_rad=0.7) == pytest.approx((LOAD_N, 0))


def test_three_legs_at_20_degrees_carry_709_5_n_each():
    """Worked example; numpy balances three legs a third of a turn apart."""
    lean_rad = math.radians(20)
    turns = [0, math.tau / 3, 2 * math.tau / 3]
    balance = np.array(
        [
            [math.sin(lean_rad) * math.cos(turn) for turn in turns],
            [math.sin(lean_rad) * math.sin(turn) for turn in turns],
            [math.cos(lean_rad)] * 3,
        ]
    )

    tensions_n = fixed_anchor(legs=tripod_sling(20), load_n=(0, 0, LOAD_N)).tensions_n

    assert [four(one) for one in tensions_n] == [709.5] * 3
    assert np.linalg.solve(balance, [0, 0, LOAD_N]) == pytest.approx(tensions_n)


@pytest.mark.parametrize(
    ("stiffness", "angles_deg", "pull_deg", "tensions"),
    [
        pytest.param((100, 100, 50), (-30, 0, 30), 0, (577.4, 1000, 577.4), id="on the axis"),
        pytest.param((100, 100, 50), (-30, 0, 30), 10, (163.4, 1085, 858.0), id="10 degrees off"),
        pytest.param((100, 100, 100), (-40, 0, 40), 30, (0, 540.3, 1556), id="one leg slack"),
    ],
)
def test_fixed_legs_carry_what_the_worked_example_and_least_energy_say(
    stiffness, angles_deg, pull_deg, tensions
):
    legs = fan(stiffness, angles_deg)

    anchor = fixed_anchor(legs=legs, load_n=pull(pull_deg))

    assert [four(one) for one in anchor.tensions_n] == list(tensions)
    assert anchor.tensions_n == pytest.approx(least_energy(legs, pull(pull_deg)), abs=0.01)


def test_joint_moves_5_774_mm_across_and_10_mm_along():
    """Worked example: the soft leg on one side lets the joint drift there."""
    anchor = fixed_anchor(legs=fan((100, 100, 50), (-30, 0, 30)), load_n=pull(0))

    assert [four(1000 * shift) for shift in anchor.joint_shift_m] == [5.774, 10.00]


def test_leg_is_slack_where_a_linear_solution_would_push():
    """Worked example: with pushing legs it would be -167.4, 796.8 and 1388 N."""
    legs = fan((100, 100, 100), (-40, 0, 40))
    along = np.array([leg.direction for leg in legs])
    linear_n = 1e5 * along @ np.linalg.solve(1e5 * along.T @ along, pull(30))

    anchor = fixed_anchor(legs=legs, load_n=pull(30))

    assert [four(one) for one in linear_n] == [-167.4, 796.8, 1388]
    assert anchor.tensions_n[0] == 0


def test_slack_legs_are_found_where_dropping_the_worst_leg_one_by_one_gives_up():
    """Four legs in space: leg 4 would be dropped first, then a leg that belongs to the answer."""
    rows = [
        (1e5, (-0.408, -0.109, 0.906)),
        (5e4, (0.696, 0.123, 0.707)),
        (2e5, (-0.133, -0.112, 0.985)),
        (1e6, (0.406, -0.579, 0.707)),
    ]
    legs = [
        FixedLeg(
            stiffness_n_per_m=stiffness,
            direction=tuple(float(part) for part in np.array(toward) / np.linalg.norm(toward)),
        )
        for stiffness, toward in rows
    ]
    load_n = (1133.4, 176.8, 1638.3)

    anchor = fixed_anchor(legs=legs, load_n=load_n)

    assert anchor.tensions_n[3] == 0
    assert min(anchor.tensions_n[:3]) > 100
    assert anchor.tensions_n == pytest.approx(least_energy(legs, load_n), abs=0.05)


def test_leg_that_would_be_stretched_is_not_taken_for_slack():
    """The outer two alone would balance, but their joint moves away from the leg at 5 degrees."""
    legs = fan((50, 200, 400), (-50, 30, 5))

    anchor = fixed_anchor(legs=legs, load_n=pull(-10))

    assert anchor.tensions_n[1] == 0
    assert anchor.tensions_n == pytest.approx(least_energy(legs, pull(-10)), abs=0.01)


stiffnesses = st.lists(st.floats(20, 1000), min_size=3, max_size=5)


@given(stiffness=stiffnesses, pull_deg=st.floats(-29, 29), start_deg=st.floats(30, 60))
def test_fixed_legs_balance_the_load_and_only_pull(stiffness, pull_deg, start_deg):
    angles_deg = np.linspace(-start_deg, start_deg, len(stiffness))
    legs, load_n = fan(stiffness, angles_deg), pull(pull_deg)

    anchor = fixed_anchor(legs=legs, load_n=load_n)
    carried = np.array(anchor.tensions_n) @ np.array([leg.direction for leg in legs])

    assert carried == pytest.approx(load_n, abs=1e-6)
    assert min(anchor.tensions_n) >= 0


@given(stiffness=stiffnesses, small_deg=st.floats(-2, 2))
def test_stiffness_of_the_joint_is_symmetric_and_positive(stiffness, small_deg):
    """Maxwell: the work of one load along the shift of another is the same both ways round."""
    legs = fan(stiffness, np.linspace(-10, 10, len(stiffness)))
    one, other = pull(0), pull(small_deg)
    first, second = (fixed_anchor(legs=legs, load_n=load) for load in (one, other))

    assert np.dot(one, first.joint_shift_m) > 0
    if min(*first.tensions_n, *second.tensions_n) > 0:
        assert np.dot(one, second.joint_shift_m) == pytest.approx(
            np.dot(other, first.joint_shift_m)
        )


@given(stiffness=stiffnesses, more=st.floats(1, 5), pull_deg=st.floats(-25, 25))
def test_heavier_load_never_lowers_a_tension(stiffness, more, pull_deg):
    legs = fan(stiffness, np.linspace(-30, 30, len(stiffness)))

    light = fixed_anchor(legs=legs, load_n=pull(pull_deg))
    heavy = fixed_anchor(legs=legs, load_n=pull(pull_deg, LOAD_N * more))

    for before, after in zip(light.tensions_n, heavy.tensions_n, strict=True):
        assert after >= before - SLACK * LOAD_N


def test_short_stiff_leg_takes_the_most():
    """Three legs side by side at one angle share by stiffness: 1 over length."""
    anchor = fixed_anchor(legs=fan((400, 100, 400), (-1e-3, 0, 1e-3)), load_n=pull(0))

    assert anchor.tensions_n == pytest.approx((888.9, 222.2, 888.9), abs=0.1)


@pytest.mark.parametrize(
    ("angles_deg", "pull_deg"),
    [pytest.param((-30, 30), 45, id="outside the fan"), pytest.param((10,), 0, id="one leg")],
)
def test_load_that_no_legs_can_hold_where_the_joint_is_is_refused(angles_deg, pull_deg):
    with pytest.raises(ValueError, match="pulls outside the fan of"):
        fixed_anchor(legs=fan([100] * len(angles_deg), angles_deg), load_n=pull(pull_deg))


def test_sliding_connector_at_60_degrees_lets_one_leg_carry_1_688_times_the_other():
    """Worked example; the belt equation dT/dx = mu T, stepped over the turn of 120 degrees."""
    ratio = sliding_leg_ratio(friction=0.25, between_rad=math.radians(60))
    steps = 100_000
    stepped = (1 + 0.25 * math.radians(120) / steps) ** steps

    assert four(ratio) == 1.688
    assert ratio == pytest.approx(stepped, rel=1e-5)


@given(friction=st.floats(0, 1), between_rad=st.floats(0, 3))
def test_harder_pulled_sliding_leg_is_the_worst_of_all_ratios_that_friction_allows(
    friction, between_rad
):
    """Each ratio by the parallelogram of the two tensions."""
    most = sliding_leg_ratio(friction=friction, between_rad=between_rad)
    ratios = np.linspace(1, most, 2001)
    other = np.array([math.cos(between_rad), math.sin(between_rad)])
    sums = np.linalg.norm(ratios[:, None] * np.array([1, 0]) + other, axis=1)

    ours = sliding_leg_n(load_n=LOAD_N, friction=friction, between_rad=between_rad)

    assert ours == pytest.approx((LOAD_N * ratios / sums).max(), rel=1e-4)


@given(friction=st.floats(0, 1), between_rad=st.floats(0, 3), more=st.floats(0, 1))
def test_more_friction_in_the_connector_never_shares_better(friction, between_rad, more):
    sliding = {"load_n": LOAD_N, "between_rad": between_rad}
    before = sliding_leg_n(**sliding, friction=friction)

    assert sliding_leg_n(**sliding, friction=friction + more) >= before - SLACK * before
    assert before >= two_equal_legs_n(**sliding) - SLACK * before


def test_sliding_anchor_drops_to_where_the_whole_sling_hangs():
    """Legs of 1.0 and 0.6 m: 1.6 m below the anchor left, less the 0.866 m it hung before."""
    drop_m = sliding_drop_m(held_leg_m=1.0, failed_leg_m=0.6, held_lean_rad=math.radians(30))

    assert drop_m == pytest.approx(1.6 - math.sqrt(3) / 2)


@given(
    held_m=st.floats(0.2, 3), failed_m=st.floats(0, 3), lean=st.floats(0, 1.5), more=st.floats(0, 1)
)
def test_longer_sling_never_drops_less(held_m, failed_m, lean, more):
    before = sliding_drop_m(held_leg_m=held_m, failed_leg_m=failed_m, held_lean_rad=lean)
    after = sliding_drop_m(held_leg_m=held_m, failed_leg_m=failed_m + more, held_lean_rad=lean)

    assert before >= failed_m - SLACK
    assert after >= before


@given(between_rad=st.floats(0, 3), more=st.floats(0, 0.14))
def test_wider_angle_never_lowers_the_tension(between_rad, more):
    assert two_equal_legs_n(load_n=1.0, between_rad=between_rad + more) >= two_equal_legs_n(
        load_n=1.0, between_rad=between_rad
    )


def test_angles_that_no_anchor_has_are_refused():
    with pytest.raises(ValueError, match=r"must be 0 to below pi rad, got 3\.2"):
        two_equal_legs_n(load_n=1.0, between_rad=3.2)
    with pytest.raises(ValueError, match="on either side of the load line"):
        two_legs_n(load_n=1.0, first_rad=0.0, second_rad=0.0)
    with pytest.raises(ValueError, match="on either side of the load line"):
        two_legs_n(load_n=1.0, first_rad=-0.1, second_rad=0.5)
    with pytest.raises(ValueError, match=r"must be below pi/2 rad, got -1\.6"):
        leg_direction(lean_rad=-1.6, toward_rad=None)


def test_widest_angle_is_between_the_two_legs_that_lie_farthest_apart():
    """In a plane by difference; three legs square to each other by their arc cosines."""
    flat = [leg_direction(lean_rad=lean, toward_rad=None) for lean in (-0.4, 0.1, 0.7)]
    lean_rad = math.acos(1 / math.sqrt(3))
    square = [leg_direction(lean_rad=lean_rad, toward_rad=turn * math.tau / 3) for turn in range(3)]

    assert widest_between_rad(flat) == pytest.approx(1.1)
    assert widest_between_rad(square) == pytest.approx(math.pi / 2)


@pytest.mark.parametrize("lean_deg", [1, 5, 10, 12])
def test_pull_that_swings_is_followed_all_round(lean_deg):
    """Random directions of the pull, each by least energy, never find more."""
    legs = tripod_sling(25)
    most_n = swung_legs_n(legs=legs, load_n=LOAD_N, lean_rad=math.radians(lean_deg))
    random = np.random.default_rng(4)
    found = []
    for turn in random.uniform(0, math.tau, 60):
        lean_rad = math.radians(lean_deg) * random.uniform(0, 1)
        toward = leg_direction(lean_rad=lean_rad, toward_rad=turn)
        found.append(least_energy(legs, tuple(LOAD_N * part for part in toward)))

    assert (np.array(found) <= np.array(most_n) * 1.001 + 0.05).all()
    assert np.array(found).max() >= max(most_n) * 0.95


@pytest.mark.parametrize("lean_deg", [5, 20, 35])
def test_pull_that_swings_until_legs_go_slack_is_followed_too(lean_deg):
    """In a plane, every lean from side to side by least energy."""
    legs = fan((100, 300, 100), (-40, 0, 40))
    most_n = swung_legs_n(legs=legs, load_n=LOAD_N, lean_rad=math.radians(lean_deg))
    ends = [least_energy(legs, pull(side * lean_deg)) for side in (-1, 0, 1)]

    assert np.array(most_n) == pytest.approx(np.max(ends, axis=0), rel=1e-3, abs=0.05)


def test_swing_that_three_legs_round_the_load_cannot_hold_is_refused():
    with pytest.raises(ValueError, match="outside the fan of 3 legs"):
        swung_legs_n(legs=tripod_sling(10), load_n=LOAD_N, lean_rad=math.radians(8))


def test_pull_that_does_not_swing_is_the_plumb_one():
    legs = fan((100, 100, 50), (-30, 0, 30))

    assert swung_legs_n(legs=legs, load_n=LOAD_N, lean_rad=0.0) == pytest.approx(
        fixed_anchor(legs=legs, load_n=pull(0)).tensions_n
    )


@given(lean=st.floats(0, 0.3), more=st.floats(1, 2))
def test_wider_swing_in_a_plane_never_lowers_the_hardest_pull(lean, more):
    legs = fan((100, 200, 100), (-45, 0, 45))
    before = max(swung_legs_n(legs=legs, load_n=LOAD_N, lean_rad=lean))

    assert max(swung_legs_n(legs=legs, load_n=LOAD_N, lean_rad=lean * more)) >= before * (1 - SLACK)
