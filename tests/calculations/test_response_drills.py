"""Drills against the plan: worked figures, scipy's distributions, and the safety direction.

The worked example: planned 6:30, the last three drills took 8:40, 9:10 and 10:05.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planbuilder.checks.timing.drilled import student_t
from planbuilder.response.drills import (
    allowance,
    contradicted,
    drills_needed,
    next_attempt_s,
    overrun,
)

PLANNED_S = 390.0
DRILLED_S = (520.0, 550.0, 605.0)
T_90 = student_t()
times = st.floats(5, 3000)


def allowed(planned_s, drilled_s, spread=0.30):
    return allowance(planned_s=planned_s, drilled_s=drilled_s, spread=spread, t_90=T_90)


@pytest.mark.parametrize("freedom", range(1, 31))
def test_the_table_is_students_t(freedom):
    assert T_90[freedom - 1] == pytest.approx(stats.t.ppf(0.9, freedom), abs=5.1e-4)


@pytest.mark.parametrize(
    ("drilled_s", "middle_min", "slow_min"),
    [((), 6.500, 13.02), ((550.0,), 7.719, 13.23), (DRILLED_S, 8.495, 12.72)],
)
def test_the_worked_allowances(drilled_s, middle_min, slow_min):
    found = allowed(PLANNED_S, drilled_s)

    assert found.middle_s / 60 == pytest.approx(middle_min, abs=6e-4)
    assert found.slow_s / 60 == pytest.approx(slow_min, abs=6e-3)


def test_a_plan_that_nobody_tried_is_worth_twice_its_own_time():
    assert allowed(100.0, ()).slow_s / 100 == pytest.approx(2.003, abs=1e-3)


def test_the_worked_prediction_by_the_drills_alone():
    assert next_attempt_s(DRILLED_S, T_90) / 60 == pytest.approx(10.97, abs=5e-3)


def test_the_worked_overrun():
    assert overrun(planned_s=PLANNED_S, drilled_s=DRILLED_S) == pytest.approx(1.429, abs=5e-4)
    assert overrun(planned_s=PLANNED_S, drilled_s=()) == 1


def test_the_sentence_of_the_worked_example_withdraws_the_plan():
    assert contradicted(planned_s=PLANNED_S, drilled_s=DRILLED_S)


@pytest.mark.parametrize(
    ("drilled_s", "withdrawn"),
    [
        ((), False),
        ((100,), False),
        ((124,), False),
        ((125,), True),  # a quarter over
        ((101, 101, 101), True),  # all of the last three slower
        ((101, 101, 99), False),
        ((99, 101, 101, 101), True),
        ((101, 101), False),
        ((200, 200, 90, 90, 90), False),  # what was slow long ago was put right
    ],
)
def test_what_withdraws_a_planned_time(drilled_s, withdrawn):
    assert contradicted(planned_s=100, drilled_s=drilled_s) is withdrawn


@pytest.mark.parametrize(
    ("share", "confidence", "count"), [(0.9, 0.9, 22), (0.9, 0.95, 29), (0.95, 0.95, 59)]
)
def test_published_numbers_of_trials_without_a_distribution(share, confidence, count):
    """Wilks' counts for one-sided tolerance, recalled: 22, 29, 59."""
    assert drills_needed(share=share, confidence=confidence) == count
    assert (
        stats.binom.sf(count - 1, count, share)
        <= 1 - confidence
        < stats.binom.sf(count - 2, count - 1, share)
    )


def test_prediction_by_simulation():
    """The prediction is a Student's t: drawn from the posterior, nine in ten keep to it."""
    logs, plan = np.log(DRILLED_S), math.log(PLANNED_S)
    rng = np.random.default_rng(7)
    count = len(logs)
    squares = 3 * 0.3**2 + ((logs - logs.mean()) ** 2).sum()
    squares += count / (count + 1) * (logs.mean() - plan) ** 2
    variance = squares / rng.chisquare(3 + count, 400_000)
    middle = (plan + logs.sum()) / (count + 1)
    mean = middle + np.sqrt(variance / (count + 1)) * rng.standard_normal(400_000)
    attempt = np.exp(mean + np.sqrt(variance) * rng.standard_normal(400_000))

    found = allowed(PLANNED_S, DRILLED_S)

    assert found.slow_s == pytest.approx(np.quantile(attempt, 0.9), rel=5e-3)
    assert found.middle_s == pytest.approx(np.quantile(attempt, 0.5), rel=5e-3)


@given(planned_s=times, drilled_s=st.lists(times, min_size=1, max_size=6), more=st.floats(1, 3))
def test_slower_drills_never_allow_a_quicker_middle(planned_s, drilled_s, more):
    slower = [one * more for one in drilled_s]

    assert allowed(planned_s, slower).middle_s >= allowed(planned_s, drilled_s).middle_s
    if contradicted(planned_s=planned_s, drilled_s=drilled_s):
        assert contradicted(planned_s=planned_s, drilled_s=slower)


@given(planned_s=times, drilled_s=st.lists(times, max_size=40))
def test_nine_times_in_ten_is_longer_than_every_other_time(planned_s, drilled_s):
    found = allowed(planned_s, drilled_s)

    assert 0 < found.middle_s < found.slow_s


def test_times_of_nothing_and_too_few_drills_are_refused():
    with pytest.raises(ValueError, match="above 0 s"):
        allowed(0.0, ())
    with pytest.raises(ValueError, match="three drills or more, got 2"):
        next_attempt_s((500.0, 510.0), T_90)
