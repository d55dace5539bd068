"""Linear systems of statics against numpy."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planbuilder.haul.linear import solve

entry = st.floats(-100, 100).map(lambda one: round(one, 3))


@st.composite
def systems(draw):
    size = draw(st.integers(1, 7))
    row = st.lists(entry, min_size=size, max_size=size)
    return draw(st.lists(row, min_size=size, max_size=size)), draw(row)


@given(system=systems(), scales=st.lists(st.sampled_from([1e-6, 1.0, 1e6]), min_size=7, max_size=7))
def test_unknowns_are_those_of_numpy_in_whatever_units_the_equations_stand(system, scales):
    matrix, right = system
    assume(np.linalg.cond(matrix) < 1e6)
    scaled = [[one * scale for one in row] for row, scale in zip(matrix, scales, strict=False)]
    scaled_right = [one * scale for one, scale in zip(right, scales, strict=False)]

    unknowns = solve(scaled, scaled_right)

    assert unknowns == pytest.approx(np.linalg.solve(matrix, right), rel=1e-6, abs=1e-6)


def test_order_of_the_equations_does_not_matter():
    """A zero stands where elimination begins."""
    assert solve([[0, 2], [3, 1]], [4, 5]) == pytest.approx((1, 2))


@pytest.mark.parametrize(
    "matrix",
    [
        pytest.param([[1, 2], [2, 4]], id="one equation twice"),
        pytest.param([[0.1, 0.2], [0.3, 0.6]], id="one equation twice, binary fractions"),
        pytest.param([[1, 2], [0, 0]], id="an empty equation"),
        pytest.param([[0, 2], [0, 3]], id="an unknown that is nowhere"),
        pytest.param([[1, 2, 3], [4, 5, 6], [7, 8, 9]], id="rank two of three"),
    ],
)
def test_equations_that_do_not_settle_the_unknowns_are_called_singular(matrix):
    with pytest.raises(ValueError, match="the system is singular: "):
        solve(matrix, [1.0] * len(matrix))


@pytest.mark.parametrize(
    ("matrix", "right"),
    [([[1, 2]], [1]), ([[1, 2], [3, 4]], [1]), ([[1], [2]], [1, 2]), ([[1, 2], [3]], [1, 2])],
)
def test_more_or_fewer_equations_than_unknowns_are_refused(matrix, right):
    with pytest.raises(ValueError, match="needs a square system, as many equations as unknowns"):
        solve(matrix, right)


def test_nothing_to_solve_has_no_unknowns():
    assert solve([], []) == ()
