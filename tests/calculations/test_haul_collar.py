"""Collar in an opening: worked example, against integrals round the ring (scipy)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from planbuilder.haul.collar import (
    Contact,
    contact,
    eccentricity_m,
    neck_couple_n,
    peak_bearing_n_per_m,
    ring_bearing_n_per_m,
)

SLACK = 1e-9
G = 9.80665
RADIUS_M = 0.33
# Collar of 35 kg, 140 kg at 0.30 m.
VERTICAL_N, MOMENT_NM = 175 * G, 140 * G * 0.30


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def ring_sums(bearing):
    """Force and moment of a bearing round the ring."""
    force_n, _ = integrate.quad(lambda turn: bearing(turn) * RADIUS_M, -math.pi, math.pi, limit=200)
    moment_nm, _ = integrate.quad(
        lambda turn: bearing(turn) * RADIUS_M**2 * math.cos(turn), -math.pi, math.pi, limit=200
    )
    return force_n, moment_nm


def lifted(peak, lifts_rad):
    """Bearing that falls with distance to nothing where the ring lifts."""
    drop = 1 - math.cos(lifts_rad)
    return lambda turn: peak * max(0.0, (math.cos(turn) - math.cos(lifts_rad)) / drop)


def test_collar_of_the_worked_example_lifts_partly():
    offset_m = eccentricity_m(moment_nm=MOMENT_NM, vertical_n=VERTICAL_N)
    near, far = (
        ring_bearing_n_per_m(
            vertical_n=VERTICAL_N, moment_nm=MOMENT_NM, radius_m=RADIUS_M, from_load_rad=turn
        )
        for turn in (0.0, math.pi)
    )

    assert four(offset_m) == 0.240
    assert contact(eccentricity_m=offset_m, radius_m=RADIUS_M) is Contact.PARTIAL
    assert four(near) == 2032
    assert four(far) == -376.2
    assert four(neck_couple_n(moment_nm=MOMENT_NM, neck_depth_m=0.25)) == 1648


@given(offset=st.floats(0, 0.165))
def test_bearing_round_the_ring_adds_up_to_the_load_and_its_moment(offset):
    force_n, moment_nm = ring_sums(
        lambda turn: ring_bearing_n_per_m(
            vertical_n=VERTICAL_N,
            moment_nm=VERTICAL_N * offset,
            radius_m=RADIUS_M,
            from_load_rad=turn,
        )
    )

    assert force_n == pytest.approx(VERTICAL_N)
    assert moment_nm == pytest.approx(VERTICAL_N * offset, abs=1e-6)


@pytest.mark.parametrize("offset_m", [0.17, 0.20, 0.24, 0.30, 0.32])
def test_partly_lifted_ring_presses_with_the_peak_that_balances_the_load(offset_m):
    """The angle where it lifts is found by scipy from the integrals alone."""

    def excess(lifts_rad):
        force_n, moment_nm = ring_sums(lifted(1.0, lifts_rad))
        return moment_nm / force_n - offset_m

    lifts_rad = optimize.brentq(excess, 0.3, math.pi)
    peak = VERTICAL_N / ring_sums(lifted(1.0, lifts_rad))[0]

    ours = peak_bearing_n_per_m(
        vertical_n=VERTICAL_N, moment_nm=VERTICAL_N * offset_m, radius_m=RADIUS_M
    )

    assert ours == pytest.approx(peak, rel=1e-4)


def test_peak_of_the_worked_example_is_more_than_the_straight_line_says():
    """The straight line counts on a pull that no ledge can give."""
    ours = peak_bearing_n_per_m(vertical_n=VERTICAL_N, moment_nm=MOMENT_NM, radius_m=RADIUS_M)

    assert ours > 2032


def test_peak_does_not_jump_where_the_ring_begins_to_lift():
    just_full, just_lifted = (
        peak_bearing_n_per_m(
            vertical_n=VERTICAL_N, moment_nm=VERTICAL_N * share * RADIUS_M, radius_m=RADIUS_M
        )
        for share in (0.5, 0.5 + 1e-6)
    )

    assert just_full == pytest.approx(VERTICAL_N / (math.pi * RADIUS_M))
    assert just_lifted == pytest.approx(just_full, rel=1e-4)


@pytest.mark.parametrize(
    ("share", "answer"),
    [
        (0, Contact.FULL),
        (0.5, Contact.FULL),
        (0.51, Contact.PARTIAL),
        (0.99, Contact.PARTIAL),
        (1, Contact.TIPS),
        (1.2, Contact.TIPS),
    ],
)
def test_contact_is_full_to_half_the_radius_and_lost_at_the_radius(share, answer):
    assert contact(eccentricity_m=share * RADIUS_M, radius_m=RADIUS_M) is answer


@given(share=st.floats(0, 0.98), more=st.floats(0, 0.5))
def test_load_farther_out_or_heavier_never_presses_less(share, more):
    further = min(share + more, 0.98)
    ring = {"vertical_n": VERTICAL_N, "radius_m": RADIUS_M}
    before = peak_bearing_n_per_m(**ring, moment_nm=VERTICAL_N * share * RADIUS_M)

    assert (
        peak_bearing_n_per_m(**ring, moment_nm=VERTICAL_N * further * RADIUS_M)
        >= before - SLACK * before
    )
    heavier_n = VERTICAL_N * (1 + more)
    assert (
        peak_bearing_n_per_m(
            vertical_n=heavier_n, moment_nm=heavier_n * share * RADIUS_M, radius_m=RADIUS_M
        )
        >= before - SLACK * before
    )
    order = [Contact.FULL, Contact.PARTIAL, Contact.TIPS]
    here, there = (
        contact(eccentricity_m=one * RADIUS_M, radius_m=RADIUS_M) for one in (share, further)
    )
    assert order.index(there) >= order.index(here)


def test_collar_that_tips_has_no_bearing():
    with pytest.raises(ValueError, match=r"must press inside the ring \(0.33 m\), got 0.4"):
        peak_bearing_n_per_m(vertical_n=1000.0, moment_nm=400.0, radius_m=RADIUS_M)
