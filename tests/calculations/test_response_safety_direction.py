"""Safety direction, response: what makes a rescue harder never improves a figure.

Each test changes one input for the worse. A slack of 1e-9 allows for binary fractions.
"""

from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.classes import (
    air_limit_s,
    carbon_monoxide_class,
    hydrogen_sulfide_class,
    oxygen_class,
)
from planbuilder.response.detection import slow_delay_s, usual_delay_s
from planbuilder.response.network import Activity, finish_s, schedule
from planbuilder.response.spread import slow_duration_s


@given(check_interval_s=st.floats(0, 3600), rarer_s=st.floats(0, 3600))
def test_rarer_checks_never_notice_sooner(check_interval_s, rarer_s):
    assert usual_delay_s(check_interval_s + rarer_s) >= usual_delay_s(check_interval_s)
    assert slow_delay_s(check_interval_s + rarer_s) >= slow_delay_s(check_interval_s)
    assert slow_delay_s(check_interval_s) >= usual_delay_s(check_interval_s)


@given(usual_s=st.floats(1, 3600), sigma=st.floats(0, 1), wider=st.floats(0, 1))
def test_wider_spread_never_shortens_the_slow_duration(usual_s, sigma, wider):
    slow_s = slow_duration_s(usual_s=usual_s, sigma=sigma)

    assert slow_duration_s(usual_s=usual_s, sigma=sigma + wider) >= slow_s >= usual_s


@given(
    durations=st.lists(st.floats(0, 600), min_size=5, max_size=5),
    slower=st.integers(0, 4),
    extra_s=st.floats(0, 600),
)
def test_slower_task_never_brings_any_task_forward(durations, slower, extra_s):
    after = ((), (), ("t0",), ("t0", "t1"), ("t2", "t3"))

    def finishes(durations):
        tasks = [Activity(f"t{n}", durations[n], after[n]) for n in range(5)]
        return [finish_s(schedule(tasks), one.id) for one in tasks]

    slowed = [one + extra_s * (number == slower) for number, one in enumerate(durations)]

    assert all(
        late >= early for late, early in zip(finishes(slowed), finishes(durations), strict=True)
    )


@given(fraction=st.floats(0, 0.195), worse=st.floats(0, 0.1))
def test_worse_air_never_leaves_more_time(fraction, worse):
    for class_of in (hydrogen_sulfide_class, carbon_monoxide_class):
        assert air_limit_s(class_of(fraction + worse)) <= air_limit_s(class_of(fraction))
        assert class_of(fraction + worse) <= class_of(fraction)
    assert oxygen_class(fraction) <= oxygen_class(fraction + worse)
