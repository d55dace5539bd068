"""Ways of breaking the room over, beside and below a rig, and a case a rule."""

from dataclasses import dataclass
from typing import Any

from broken_haul import TRIPOD, both, nothing, put, rig
from broken_sites import Break, space, way

WELL, TRENCH = "pump_station", "shored_trench"


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what lets it rest, and what leaves it unknown."""

    fires: Break
    rests: Break
    unknown: Break | None
    sample: str = WELL


def roof(name: str = "primary", number: int = 0, **values: Any) -> Break:
    """A roof over the wet well's davit: 20 ft up, unless said otherwise."""
    full = {
        "clear_height": "20 ft",
        "head_above_hook": "8 in",
        "hinge_height": "1 ft",
        **values,
    }
    kept = {key: value for key, value in full.items() if value is not None}
    return rig(name, number, overhead=kept)


def opening(number: int = 0, **values: Any) -> Break:
    """Sets keys of an opening; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        there = space(data, number)["opening"]
        there.update(values)
        space(data, number)["opening"] = {k: v for k, v in there.items() if v is not None}

    return change


def landing(**values: str) -> Break:
    """A place beside the wet well, large enough unless said otherwise."""
    stated = {"length": "11 ft", "width": "7 ft", "from_opening": "3 ft", **values}
    return lambda data: space(data).update(landing=stated)


MIDDLE = ["0 in", "0 in"]


def ladder(**values: str) -> Break:
    """A ladder down the wall of the wet well."""
    one = {"name": "Ladder", "from_depth": "0 in", "to_depth": "21 ft", "towards": "90 deg"}
    stated = {"reaches_in": "8 in", **one, **values}
    return lambda data: space(data).update(obstruction=[stated])


def alone(data: dict[str, Any]) -> None:
    """A hook too low to clear the feet, and only a hauler and a caller beside the attendant."""
    one = way(data)
    one["rig"]["hook_height"] = "7 ft 6 in"
    one["crew"] = [row for row in one["crew"] if row["role"] in ("haul", "caller")]


CASES = {
    "clearance/rig-under-overhead": Case(
        fires=roof(clear_height="8 ft 6 in"),
        rests=roof(),
        unknown=roof(head_above_hook=None),
    ),
    "clearance/no-hook-window": Case(
        fires=roof(clear_height="8 ft 6 in"),
        rests=roof(),
        unknown=both(roof(), rig(connector=None)),
    ),
    "clearance/raising-hits-overhead": Case(
        fires=roof(clear_height="9 ft 3 in"),
        rests=roof(),
        unknown=roof(hinge_height=None),
    ),
    "clearance/hook-meets-head": Case(
        fires=rig(hook_length="8 in"),
        rests=rig(hook_length="5 in"),
        unknown=rig(hook_length="5 in", block=None),
    ),
    "clearance/tip-out-hands": Case(
        fires=alone,
        rests=rig(hook_height="7 ft 6 in"),
        unknown=None,  # the crew is always stated; without a hook height the feet are asked for
    ),
    "clearance/line-off-centre": Case(
        fires=rig(off_centre="3 in"),
        rests=rig(off_centre="1 in"),
        unknown=both(rig(off_centre="1 in"), opening(diameter=None)),
    ),
    "clearance/feet-near-edge": Case(
        fires=put(*TRIPOD, foot_radius="32 in"),
        rests=nothing,
        unknown=put(*TRIPOD, foot_radius=None),
    ),
    "clearance/leg-gap": Case(
        fires=put(*TRIPOD, leg_length="6 ft 6 in"),
        rests=nothing,
        unknown=put(*TRIPOD, leg_length=None),
    ),
    "clearance/swing-too-short": Case(
        fires=rig(swing_from="-45 deg", swing_to="45 deg"),
        rests=nothing,
        unknown=rig(reach=None),
    ),
    "clearance/swing-hits-something": Case(
        fires=rig(swing_clear_to="4 ft"),
        rests=rig(swing_clear_to="5 ft"),
        unknown=rig(swing_clear_to="5 ft", reach=None),
    ),
    "clearance/landing-too-small": Case(
        fires=landing(width="6 ft"),
        rests=landing(),
        unknown=None,  # a landing is stated with its size
    ),
    "clearance/landing-near-opening": Case(
        fires=landing(from_opening="1 ft"),
        rests=landing(),
        unknown=None,  # and with its distance
    ),
    "clearance/shaft-tight": Case(
        fires=both(ladder(reaches_in="40 in"), rig(plumb_at=MIDDLE)),
        rests=both(ladder(), rig(plumb_at=MIDDLE), rig("fallback", plumb_at=MIDDLE)),
        unknown=ladder(),
    ),
}
