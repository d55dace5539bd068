"""Taylor, B. W., Introduction to Management Science, chapter 8, Project Management: solutions.

Activity tables of two networks, pages 114 to 116 of the solutions to an earlier edition; the first
is problem 5 in the solutions to the 12th edition, 2016. Activities are arrows from event to event:
an arrow waits for every arrow that ends where it starts.
"""

from typing import NamedTuple

import pytest

from planbuilder.response.network import Activity, critical_path, finish_s, schedule

pytestmark = pytest.mark.published


class Arrow(NamedTuple):
    name: str
    time: float
    earliest_start: float
    earliest_finish: float
    latest_start: float
    latest_finish: float
    slack: float


FIRST = (
    Arrow("1-2", 7, 0, 7, 2, 9, 2),
    Arrow("1-3", 10, 0, 10, 0, 10, 0),
    Arrow("2-4", 6, 7, 13, 9, 15, 2),
    Arrow("3-4", 5, 10, 15, 10, 15, 0),
    Arrow("3-5", 4, 10, 14, 14, 18, 4),
    Arrow("4-5", 3, 15, 18, 15, 18, 0),
    Arrow("5-6", 2, 18, 20, 18, 20, 0),
)

# 4-5 is a dummy: it takes no time and only makes 5-7 and 5-8 wait for 1-4.
SECOND = (
    Arrow("1-2", 8, 0, 8, 1, 9, 1),
    Arrow("1-3", 10, 0, 10, 0, 10, 0),
    Arrow("1-4", 9, 0, 9, 6, 15, 6),
    Arrow("2-5", 6, 8, 14, 9, 15, 1),
    Arrow("2-6", 4, 8, 12, 16, 20, 8),
    Arrow("3-5", 5, 10, 15, 10, 15, 0),
    Arrow("4-5", 0, 9, 9, 15, 15, 6),
    Arrow("4-7", 7, 9, 16, 20, 27, 11),
    Arrow("5-7", 12, 15, 27, 15, 27, 0),
    Arrow("5-8", 15, 15, 30, 16, 31, 1),
    Arrow("6-9", 18, 12, 30, 20, 38, 8),
    Arrow("7-8", 4, 27, 31, 27, 31, 0),
    Arrow("8-9", 7, 31, 38, 31, 38, 0),
)


def network_of(arrows: tuple[Arrow, ...]) -> list[Activity]:
    return [
        Activity(
            id=arrow.name,
            duration_s=arrow.time,
            after=tuple(
                other.name
                for other in arrows
                if other.name.split("-")[1] == arrow.name.split("-")[0]
            ),
        )
        for arrow in arrows
    ]


@pytest.mark.parametrize(
    ("arrows", "printed"),
    [pytest.param(FIRST, row, id=f"first table, {row.name}") for row in FIRST]
    + [pytest.param(SECOND, row, id=f"second table, {row.name}") for row in SECOND],
)
def test_times_and_slack_of_each_activity_are_the_printed_ones(arrows, printed):
    timing = next(one for one in schedule(network_of(arrows)) if one.id == printed.name)

    assert (
        timing.earliest_start_s,
        timing.earliest_finish_s,
        timing.latest_start_s,
        timing.latest_finish_s,
        timing.total_float_s,
    ) == printed[2:]
    assert timing.critical == (printed.slack == 0)


def test_first_network_ends_after_20_along_the_printed_critical_path():
    network = network_of(FIRST)

    assert finish_s(schedule(network), "5-6") == 20
    assert critical_path(network, "5-6") == ("1-3", "3-4", "4-5", "5-6")


def test_second_network_ends_after_38_along_the_activities_without_slack():
    network = network_of(SECOND)

    assert finish_s(schedule(network), "8-9") == 38
    assert critical_path(network, "8-9") == ("1-3", "3-5", "5-7", "7-8", "8-9")
