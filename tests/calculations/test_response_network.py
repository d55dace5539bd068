"""Critical path: a worked rescue network, and networkx as oracle on random networks."""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.response.network import (
    Activity,
    critical_path,
    finish_s,
    one_at_a_time,
    schedule,
)

# Worked example, derived and cross-checked; in min. K: air to the casualty, M: casualty out,
# O: handed to the ambulance.
RESCUE = (
    Activity("A", 1.0, ()),
    Activity("B", 0.5, ("A",)),
    Activity("C", 0.5, ("B",)),
    Activity("D", 2.0, ("B",)),
    Activity("E", 2.0, ("C",)),
    Activity("F", 2.0, ("E",)),
    Activity("G", 3.0, ("E",)),
    Activity("H", 2.0, ("E",)),
    Activity("V", 2.0, ("E",)),
    Activity("I", 1.0, ("F", "G", "H", "V")),
    Activity("J", 1.0, ("I",)),
    Activity("K", 0.5, ("J",)),
    Activity("L", 3.5, ("K",)),
    Activity("M", 2.5, ("L",)),
    Activity("N", 1.0, ("M",)),
    Activity("R", 9.0, ("D",)),
    Activity("O", 1.0, ("N", "R")),
)


# Two durations are either alike or at least a tenth apart, as clocked durations are.
tenths_of_seconds = st.integers(0, 9000).map(lambda tenths: tenths / 10)


@st.composite
def networks(draw):
    """Some activities, each waiting for some of those before it, given in any order."""
    count = draw(st.integers(1, 9))
    durations = draw(st.lists(tenths_of_seconds, min_size=count, max_size=count))
    activities = [
        Activity(
            f"t{number}",
            durations[number],
            tuple(f"t{one}" for one in range(number) if draw(st.booleans())),
        )
        for number in range(count)
    ]
    return draw(st.permutations(activities))


def graph_of(activities):
    """Activities as arcs from start to finish, links as arcs without length."""
    graph = nx.DiGraph()
    for one in activities:
        graph.add_edge((one.id, "start"), (one.id, "finish"), weight=one.duration_s)
        graph.add_edges_from(
            (((before, "finish"), (one.id, "start")) for before in one.after), weight=0.0
        )
    return graph


def longest_to(graph, node):
    return nx.dag_longest_path_length(graph.subgraph(nx.ancestors(graph, node) | {node}))


def longest_from(graph, node):
    return nx.dag_longest_path_length(graph.subgraph(nx.descendants(graph, node) | {node}))


@pytest.mark.parametrize(("milestone", "minutes"), [("K", 9.5), ("M", 15.5), ("O", 17.5)])
def test_rescue_reaches_its_milestones_as_in_the_worked_example(milestone, minutes):
    assert finish_s(schedule(RESCUE), milestone) == pytest.approx(minutes)


@pytest.mark.parametrize(
    ("task", "total", "free"),
    [("D", 4.0, 0.0), ("R", 4.0, 4.0), ("F", 1.0, 1.0), ("H", 1.0, 1.0), ("V", 1.0, 1.0)],
)
def test_floats_of_the_rescue_are_those_of_the_worked_example(task, total, free):
    timing = next(one for one in schedule(RESCUE) if one.id == task)

    assert timing.total_float_s == pytest.approx(total)
    assert timing.free_float_s == pytest.approx(free)
    assert not timing.critical


def test_critical_tasks_of_the_rescue_are_those_of_the_worked_example():
    critical = "".join(one.id for one in schedule(RESCUE) if one.critical)

    assert critical == "ABCEGIJKLMNO"
    assert "".join(critical_path(RESCUE, "O")) == critical


def test_path_to_an_earlier_milestone_stops_there():
    assert "".join(critical_path(RESCUE, "K")) == "ABCEGIJK"


@given(activities=networks())
def test_times_are_the_longest_paths_of_networkx(activities):
    graph = graph_of(activities)
    end = nx.dag_longest_path_length(graph)

    for one in schedule(activities):
        begin = (one.id, "start")
        finish = (one.id, "finish")
        assert one.earliest_start_s == pytest.approx(longest_to(graph, begin))
        assert one.earliest_finish_s == pytest.approx(longest_to(graph, finish))
        assert one.latest_start_s == pytest.approx(end - longest_from(graph, begin), abs=1e-6)
        assert one.latest_finish_s == pytest.approx(end - longest_from(graph, finish), abs=1e-6)
        through = longest_to(graph, begin) + longest_from(graph, begin)
        assert one.total_float_s == pytest.approx(end - through, abs=1e-6)
        assert one.critical == (end - through < 1e-6)


@given(activities=networks())
def test_free_float_delays_no_follower_but_more_delays_one(activities):
    timings = {one.id: one for one in schedule(activities)}
    end_s = max(one.earliest_finish_s for one in timings.values())

    for one in activities:
        followers = [timings[later.id] for later in activities if one.id in later.after]
        room = [later.earliest_start_s for later in followers] or [end_s]
        timing = timings[one.id]
        assert timing.earliest_finish_s + timing.free_float_s == pytest.approx(min(room))
        assert timing.free_float_s <= timing.total_float_s + 1e-6


@given(activities=networks())
def test_path_to_any_task_is_as_long_as_its_earliest_finish(activities):
    by_id = {one.id: one for one in activities}
    timings = schedule(activities)

    for end in by_id:
        path = critical_path(activities, end)
        length_s = sum(by_id[one].duration_s for one in path)
        assert path[-1] == end
        assert length_s == pytest.approx(finish_s(timings, end))
        assert all(before in by_id[after].after for before, after in pairwise(path))


@given(activities=networks())
def test_each_task_comes_after_those_it_waits_for(activities):
    order = [one.id for one in schedule(activities)]

    assert sorted(order) == sorted(one.id for one in activities)
    for one in activities:
        assert all(order.index(before) < order.index(one.id) for before in one.after)


def test_order_given_is_kept_where_it_can_be():
    assert [one.id for one in schedule(RESCUE)] == [one.id for one in RESCUE]


def test_task_given_too_early_moves_behind_what_it_waits_for():
    given_order = [Activity("out", 1, ("in",)), Activity("call", 1, ()), Activity("in", 1, ())]

    assert [one.id for one in schedule(given_order)] == ["call", "in", "out"]


def test_of_two_equal_paths_the_first_given_is_named():
    """0.1 + 0.2 and 0.3 are the same instant, whatever their binary fractions."""
    activities = [
        Activity("plain", 0.3, ()),
        Activity("one", 0.1, ()),
        Activity("two", 0.2, ("one",)),
        Activity("end", 1.0, ("two", "plain")),
    ]

    assert critical_path(activities, "end") == ("plain", "end")
    assert all(one.critical for one in schedule(activities))


def test_network_without_tasks_has_no_times():
    assert schedule([]) == ()


def test_task_given_twice_is_refused_by_name():
    with pytest.raises(ValueError, match=r"given once, got more than once: B$"):
        schedule([Activity("A", 1, ()), Activity("B", 1, ()), Activity("B", 2, ())])


def test_unknown_tasks_are_refused_by_name():
    with pytest.raises(ValueError, match=r"only for known tasks, got: Y, Z$"):
        schedule([Activity("A", 1, ("Z", "Y"))])


def test_circle_is_refused_and_named():
    circle = [Activity("A", 1, ("C",)), Activity("B", 1, ("A",)), Activity("C", 1, ("B",))]

    with pytest.raises(
        ValueError, match=r"in a circle, got: (A -> B -> C -> A|B -> C -> A -> B|C -> A -> B -> C)$"
    ):
        schedule(circle)


def test_task_that_waits_for_itself_is_refused():
    with pytest.raises(ValueError, match=r"in a circle, got: A -> A$"):
        critical_path([Activity("A", 1, ("A",))], "A")


def test_unknown_end_is_refused_by_name():
    with pytest.raises(ValueError, match=r"there is no task 'Q'$"):
        critical_path(RESCUE, "Q")
    with pytest.raises(ValueError, match=r"there is no task 'Q'$"):
        finish_s(schedule(RESCUE), "Q")


@st.composite
def networks_with_people(draw):
    """A network with a few people spread over its tasks."""
    count = draw(st.integers(1, 9))
    activities, busy = [], {}
    for number in range(count):
        before = draw(st.sets(st.integers(0, number - 1), max_size=3)) if number else set()
        duration_s = draw(st.sampled_from([0.0, 1.0, 2.5, 10.0]))
        activities.append(
            Activity(f"t{number}", duration_s, tuple(f"t{one}" for one in sorted(before)))
        )
        busy[f"t{number}"] = tuple(draw(st.sets(st.sampled_from("abc"), max_size=2)))
    return draw(st.permutations(activities)), busy


@given(networks_with_people())
def test_nobody_is_in_two_tasks_at_once(given_network):
    activities, busy = given_network

    linked = one_at_a_time(activities, busy)
    timings = {one.id: one for one in schedule(linked)}

    assert nx.is_directed_acyclic_graph(graph_of(linked))
    assert [one.id for one in linked] == [one.id for one in activities]
    for first in activities:
        for other in activities:
            if first.id < other.id and set(busy[first.id]) & set(busy[other.id]):
                one, two = timings[first.id], timings[other.id]
                apart = (
                    one.earliest_finish_s <= two.earliest_start_s
                    or two.earliest_finish_s <= one.earliest_start_s
                )
                assert apart


@given(networks_with_people())
def test_keeping_people_apart_keeps_every_link_and_never_ends_earlier(given_network):
    activities, busy = given_network
    free_s = {one.id: one.earliest_finish_s for one in schedule(activities)}

    linked = one_at_a_time(activities, busy)

    assert all(
        set(old.after) <= set(new.after) for old, new in zip(activities, linked, strict=True)
    )
    assert all(one.earliest_finish_s >= free_s[one.id] for one in schedule(linked))
    assert one_at_a_time(activities, {}) == tuple(activities)


def test_one_person_rigs_and_then_dons():
    """Side by side 3 and 2 min take 3 min; with one pair of hands they take 5."""
    team = [Activity("rig", 180, ()), Activity("don", 120, ()), Activity("go", 0, ("rig", "don"))]

    linked = one_at_a_time(team, {"rig": ["ida"], "don": ["ida"]})

    assert finish_s(schedule(team), "go") == 180
    assert finish_s(schedule(linked), "go") == 300
