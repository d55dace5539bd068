"""Anchor posts: worked example, and the moment at the foot as the rule behind it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from planbuilder.haul.post import allowed_force_n, base_moment_nm, highest_attachment_m

SLACK = 1e-9
RATED = {"rated_force_n": 22_200.0, "rated_height_m": 0.5}


def four(value):
    """Four significant digits, as the worked examples are given."""
    return float(f"{value:.4g}")


def test_post_rated_22_2_kn_at_half_a_metre_holds_10_09_kn_at_1_1_m():
    """Worked example: the same 11.10 kN m at the foot."""
    rated_nm = base_moment_nm(force_n=22_200.0, height_m=0.5)
    same_moment_n = optimize.brentq(
        lambda force_n: base_moment_nm(force_n=force_n, height_m=1.1) - rated_nm, 1, 1e5
    )

    ours = allowed_force_n(**RATED, height_m=1.1)

    assert four(rated_nm / 1000) == 11.10
    assert four(ours / 1000) == 10.09
    assert ours == pytest.approx(same_moment_n)


def test_post_holds_no_more_than_its_rating_lower_down():
    """Worked example at 0.3 m."""
    assert allowed_force_n(**RATED, height_m=0.3) == 22_200


@given(height=st.floats(0.1, 3), more=st.floats(0, 2))
def test_allowed_force_falls_as_the_attachment_gets_higher(height, more):
    """Common practice, no source; never past the moment of the rating."""
    allowed_n = allowed_force_n(**RATED, height_m=height)

    assert allowed_force_n(**RATED, height_m=height + more) <= allowed_n + SLACK
    assert base_moment_nm(force_n=allowed_n, height_m=height) <= 11_100 * (1 + SLACK)


@given(force=st.floats(0.5, 22_200))
def test_post_just_takes_a_force_at_its_highest_attachment(force):
    height_m = highest_attachment_m(**RATED, force_n=force)

    assert allowed_force_n(**RATED, height_m=height_m) == pytest.approx(force)
    assert allowed_force_n(**RATED, height_m=height_m * 1.01) < force


def test_full_rating_is_held_at_its_own_height():
    assert highest_attachment_m(**RATED, force_n=22_200.0) == 0.5


def test_heights_and_forces_that_no_post_has_are_refused():
    with pytest.raises(ValueError, match=r"heights must be above 0 m, got rated 0\.5 m and 0 m"):
        allowed_force_n(**RATED, height_m=0.0)
    with pytest.raises(ValueError, match=r"at most the rating \(22200 N\), got 22201 N"):
        highest_attachment_m(**RATED, force_n=22_201.0)
