"""How many people, how far one team reaches, and whether shifts cover the work.

Times of day are s after midnight and may run over it.
"""

from collections.abc import Iterable

DAY_S = 86_400.0


def least_people(*, attendants: int, haulers: int) -> int:
    """People for a retrieval from outside: each attendant, and everybody on the line.

    One of them calls and gives first aid once the casualty lies down (a choice of this tool).
    """
    return attendants + haulers


def least_people_to_enter(
    *, attendants: int, haulers: int, entry_rescuers: int, back_ups: int
) -> int:
    """People for an entry rescue: as from outside, those who go in, and their back-up.

    With a leader, a medic and a caller who each do nothing else then (a choice of this tool).
    """
    leader = medic = caller = 1
    return attendants + haulers + entry_rescuers + back_ups + leader + medic + caller


def cover_s(*, notify_s: float, derig_s: float, walk_s: float, rig_s: float, don_s: float) -> float:
    """Time for a team at another opening to stand ready at this one, in s (derived)."""
    return notify_s + derig_s + walk_s + rig_s + don_s


def later_by_s(clock_s: float, *, than_s: float) -> float:
    """How long after *than_s* the time of day *clock_s* comes next, in s, below 24 h."""
    return (clock_s - than_s) % DAY_S


def open_at_once(
    *, start_s: float, stay_s: float, other_start_s: float, other_stay_s: float
) -> bool:
    """Whether two daily stretches of time share a moment; touching ends do not."""
    return (
        later_by_s(other_start_s, than_s=start_s) < stay_s
        or later_by_s(start_s, than_s=other_start_s) < other_stay_s
    )


def first_gap_s(shifts: Iterable[tuple[float, float]], *, until_s: float) -> float | None:
    """When nobody is there for the first time between 0 and *until_s*, in s; None if somebody is.

    *shifts* are start and end in s from the same moment, in any order, and may overlap.
    """
    covered_s = 0.0
    for start_s, end_s in sorted(shifts):
        if start_s > covered_s:
            break
        covered_s = max(covered_s, end_s)
    return None if covered_s >= until_s else covered_s
