"""Critical path over the tasks of a rescue.

Finish-to-start links only. One person in two tasks at a time is not seen by `schedule`:
`one_at_a_time` makes such tasks wait for each other first. Where several tasks must all be
finished, times worked out from usual durations are optimistic: the slowest of them decides.
"""

import functools
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from graphlib import CycleError, TopologicalSorter

# Binary fractions only: 0.1 + 0.2 and 0.3 are the same instant. Relative to the time itself.
TIME_SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class Activity:
    """One task: how long it takes, and the ids of the tasks that must be finished before it."""

    id: str
    duration_s: float
    after: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """When a task can start and finish, in s from the start of the network, and its float."""

    id: str
    earliest_start_s: float
    earliest_finish_s: float
    latest_start_s: float
    latest_finish_s: float
    total_float_s: float
    free_float_s: float

    @property
    def critical(self) -> bool:
        """True if any delay of this task delays the end of the network."""
        return self.total_float_s <= TIME_SLACK * max(1.0, self.latest_finish_s)


def schedule(activities: Sequence[Activity]) -> tuple[Timing, ...]:
    """Earliest and latest times and floats of all *activities* (critical path method).

    Every task comes after those it waits for, otherwise in the order given. Latest times keep the
    earliest possible end of the whole network. Total float: delay that leaves that end as it is;
    free float: delay that leaves every later task as it is. Raises ValueError for an id given
    twice, an unknown id in *after*, and tasks that wait for each other in a circle.
    """
    ordered = in_order(activities)
    starts_s, finishes_s = _earliest(ordered)
    end_s = max(finishes_s.values(), default=0.0)
    timings: dict[str, Timing] = {}
    for one in reversed(ordered):
        followers = [timings[later.id] for later in ordered if one.id in later.after]
        latest_finish_s = min((later.latest_start_s for later in followers), default=end_s)
        latest_start_s = latest_finish_s - one.duration_s
        next_start_s = min((later.earliest_start_s for later in followers), default=end_s)
        timings[one.id] = Timing(
            id=one.id,
            earliest_start_s=starts_s[one.id],
            earliest_finish_s=finishes_s[one.id],
            latest_start_s=latest_start_s,
            latest_finish_s=latest_finish_s,
            total_float_s=latest_start_s - starts_s[one.id],
            free_float_s=next_start_s - finishes_s[one.id],
        )
    return tuple(timings[one.id] for one in ordered)


def in_order(activities: Sequence[Activity]) -> tuple[Activity, ...]:
    """The activities so that each follows those it waits for; else as given.

    Raises ValueError as `schedule` does.
    """
    return _in_order(tuple(activities))


@functools.lru_cache(maxsize=128)
def _in_order(activities: tuple[Activity, ...]) -> tuple[Activity, ...]:
    """Asked for by every pass over one network."""
    _require_sound(activities)
    placed: dict[str, Activity] = {}
    waiting = list(activities)
    while waiting:
        ready = next(one for one in waiting if all(before in placed for before in one.after))
        waiting.remove(ready)
        placed[ready.id] = ready
    return tuple(placed.values())


def finish_s(timings: Iterable[Timing], activity_id: str) -> float:
    """Earliest finish of one task, in s. Raises ValueError if there is no such task."""
    for one in timings:
        if one.id == activity_id:
            return one.earliest_finish_s
    raise ValueError(f"there is no task {activity_id!r}")


def critical_path(activities: Sequence[Activity], end_id: str) -> tuple[str, ...]:
    """Ids of the longest chain of tasks that ends with *end_id*, first task first.

    Of chains equally long, the one through the task that was given first. Raises ValueError for an
    unknown *end_id*, and as `schedule` does.
    """
    ordered = in_order(activities)
    starts_s, finishes_s = _earliest(ordered)
    by_id = {one.id: one for one in activities}
    if end_id not in by_id:
        raise ValueError(f"there is no task {end_id!r}")
    chain = [end_id]
    while by_id[chain[-1]].after:
        start_s, before = starts_s[chain[-1]], by_id[chain[-1]].after
        latest_s = start_s - TIME_SLACK * max(1.0, start_s)
        chain.append(next(one for one in by_id if one in before and finishes_s[one] >= latest_s))
    return tuple(reversed(chain))


def _earliest(ordered: Sequence[Activity]) -> tuple[dict[str, float], dict[str, float]]:
    """Earliest start and earliest finish by id, in s (forward pass)."""
    starts_s: dict[str, float] = {}
    finishes_s: dict[str, float] = {}
    for one in ordered:
        starts_s[one.id] = max((finishes_s[before] for before in one.after), default=0.0)
        finishes_s[one.id] = starts_s[one.id] + one.duration_s
    return starts_s, finishes_s


def _require_sound(activities: Sequence[Activity]) -> None:
    """Raise ValueError for doubled ids, unknown ids and circles."""
    times_given = Counter(one.id for one in activities)
    doubled = sorted(name for name, times in times_given.items() if times > 1)
    if doubled:
        raise ValueError(
            f"each task id must be given once, got more than once: {', '.join(doubled)}"
        )
    unknown = sorted({before for one in activities for before in one.after} - set(times_given))
    if unknown:
        raise ValueError(f"tasks may wait only for known tasks, got: {', '.join(unknown)}")
    try:
        TopologicalSorter({one.id: one.after for one in activities}).prepare()
    except CycleError as error:
        circle = " -> ".join(error.args[1])
        raise ValueError(
            f"tasks must not wait for each other in a circle, got: {circle}"
        ) from error


def leading_to(activities: Sequence[Activity], end_id: str) -> tuple[Activity, ...]:
    """The task of that id and every one that it waits for, in their order."""
    needed = {end_id}
    for one in reversed(in_order(activities)):
        if one.id in needed:
            needed.update(one.after)
    return tuple(one for one in activities if one.id in needed)


def one_at_a_time(
    activities: Sequence[Activity], busy: Mapping[str, Sequence[str]]
) -> tuple[Activity, ...]:
    """The activities with links that keep everybody to one task at a time.

    *busy* holds the people of a task by its id. Tasks of one person follow each other in the order
    in which they could start, as given where that is the same. Raises ValueError as `schedule`.
    """
    starts_s = {one.id: one.earliest_start_s for one in schedule(activities)}
    queue = sorted(in_order(activities), key=lambda one: starts_s[one.id])
    waits = {one.id: dict.fromkeys(one.after) for one in activities}
    last: dict[str, str] = {}
    for one in queue:
        for person in busy.get(one.id, ()):
            if person in last:
                waits[one.id].setdefault(last[person])
            last[person] = one.id
    return tuple(replace(one, after=tuple(waits[one.id])) for one in activities)
