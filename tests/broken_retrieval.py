"""The retrieval rig of the wet well, and ways of breaking it."""

from dataclasses import dataclass
from typing import Any

from broken_haul import put, rig
from broken_sites import Break, space

WRISTS: dict[str, Any] = {
    "attachment": "wristlets",
    "wristlets_because": "harness-not-feasible",
    "wristlets_decided_by": "Osric Vane",
}


IRONS = {
    "name": "step irons",
    "from_depth": "1 ft",
    "to_depth": "20 ft",
    "reaches_in": "5 in",
    "towards": "180 deg",
}


def wrists(**values: Any) -> Break:
    """The casualty is lifted by wristlets; None takes a key away."""
    return rig(**{**WRISTS, **values})


def rescue(**values: Any) -> Break:
    """Facts of the rescue of the wet well; None takes a key away."""

    def change(data: dict[str, Any]) -> None:
        table = space(data)["rescue"]
        table.update(values)
        for key in [name for name, value in values.items() if value is None]:
            del table[key]

    return change


def shared(state: bool | None) -> Break:
    """The winch also lifts goods, or does not, or nobody says."""
    return put("device", "winch-4", shared_with_material=state)


def two_inside(*, apart: str | None = None, irons: bool = False) -> Break:
    """Two people in the wet well at once, with step irons to catch on or without."""

    def change(data: dict[str, Any]) -> None:
        one = space(data)
        one["task"]["inside_at_once"] = 2
        if irons:
            one["obstruction"] = [dict(IRONS)]
        rig(lines_apart=apart)(data)

    return change


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what leaves it unknown, and what it rests on."""

    fires: Break | None
    unknown: Break
    rests: Break


CASES: dict[str, Case] = {
    "plan/wristlets-without-reason": Case(None, wrists(wristlets_because=None), wrists()),
    "plan/device-shared-with-goods": Case(shared(True), shared(None), shared(False)),
    "plan/line-not-made-off": Case(
        rig(made_off_outside=False), rig(made_off_outside=None), rig(made_off_outside=True)
    ),
    "plan/lines-may-tangle": Case(
        two_inside(irons=True), two_inside(), two_inside(apart="One works left, one right")
    ),
    "plan/help-not-confirmed": Case(
        rescue(help_confirmed_by="bode"),
        rescue(help_confirmed_how=None),
        rescue(help_confirmed_by="mirela"),
    ),
}
