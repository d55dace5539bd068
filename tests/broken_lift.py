"""Ways of breaking the room over, beside and below a rig, and a case a rule."""

from dataclasses import dataclass
from typing import Any

from broken_haul import both, rig
from broken_sites import Break, way

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
}
