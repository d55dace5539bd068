"""Ways of breaking the room over, beside and below a rig, and a case a rule."""

from dataclasses import dataclass
from typing import Any

from broken_haul import both, rig
from broken_sites import Break

WELL, TRENCH = "pump_station", "shored_trench"


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what lets it rest, and what leaves it unknown."""

    fires: Break
    rests: Break
    unknown: Break
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
}
