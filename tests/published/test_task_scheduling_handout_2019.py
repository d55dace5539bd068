"""CompSci 350, Fall 2019, handout Scheduling (US Air Force Academy): solved task network.

Sixteen tasks. The printed table gives earliest start, latest start and slack, and the critical
path T1, T3, T10, T12, T15.
"""

from typing import NamedTuple

import pytest

from planbuilder.response.network import Activity, critical_path, schedule

pytestmark = pytest.mark.published


class Task(NamedTuple):
    name: str
    time: float
    after: tuple[str, ...]
    early: float
    late: float
    slack: float


TASKS = (
    Task("T1", 3, (), 0, 0, 0),
    Task("T2", 5, (), 0, 5, 5),
    Task("T3", 5, ("T1",), 3, 3, 0),
    Task("T4", 4, (), 0, 4, 4),
    Task("T5", 3, ("T2",), 5, 10, 5),
    Task("T6", 3, ("T4",), 4, 8, 4),
    Task("T7", 1, ("T5",), 8, 13, 5),
    Task("T8", 3, ("T6",), 7, 11, 4),
    Task("T9", 6, ("T1",), 3, 5, 2),
    Task("T10", 3, ("T3",), 8, 8, 0),
    Task("T11", 2, ("T6",), 7, 11, 4),
    Task("T12", 2, ("T9", "T10"), 11, 11, 0),
    Task("T13", 4, ("T7", "T8"), 10, 14, 4),
    Task("T14", 2, ("T11", "T12"), 13, 16, 3),
    Task("T15", 8, ("T11", "T12"), 13, 13, 0),
    Task("T16", 3, ("T13", "T14"), 15, 18, 3),
)
NETWORK = [Activity(id=task.name, duration_s=task.time, after=task.after) for task in TASKS]


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.name)
def test_starts_and_slack_of_each_task_are_the_printed_ones(task):
    timing = next(one for one in schedule(NETWORK) if one.id == task.name)

    assert timing.earliest_start_s == task.early
    assert timing.latest_start_s == task.late
    assert timing.total_float_s == task.slack


def test_critical_path_is_the_printed_one():
    assert critical_path(NETWORK, "T15") == ("T1", "T3", "T10", "T12", "T15")
