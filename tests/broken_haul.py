"""Ways of breaking a rig, a support or a device of a sample site."""

import tomllib
from typing import Any

from broken_sites import Break, entry, way


def put(table: str, entry_id: str, **values: Any) -> Break:
    """Sets keys of an entry; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        _put(entry(data, table, entry_id), values)

    return change


def rig(name: str = "primary", number: int = 0, **values: Any) -> Break:
    """Sets keys of a rig; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data, name, number)["rig"], values)

    return change


def _put(target: dict[str, Any], values: dict[str, Any]) -> None:
    for key, value in values.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value


def both(*breaks: Break) -> Break:
    """One change after the other."""

    def change(data: dict[str, Any]) -> None:
        for one in breaks:
            one(data)

    return change


def stand(number: int = 0, **values: Any) -> Break:
    """Sets what the support of a primary rig stands on."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data, number=number)["rig"].setdefault("stand", {}), values)

    return change


def link(**values: Any) -> Break:
    """Sets keys of the wet well's first link."""

    def change(data: dict[str, Any]) -> None:
        _put(way(data)["rig"]["link"][0], values)

    return change


def support(text: str) -> Break:
    """Puts another support in the place of the wet well's davit."""

    def change(data: dict[str, Any]) -> None:
        old = entry(data, "support", "davit-2")
        kept = {key: old[key] for key in _KEPT if key in old}
        old.clear()
        old.update({**kept, "id": "davit-2", **tomllib.loads(text)})

    return change


_KEPT = (
    "name",
    "rated_load",
    "two_line_load",
    "arrest_load",
    "separate_pins",
    "for_people",
    "rated_reach",
    "lines",
    "inspected",
    "inspection_interval",
)
COLLAR = """
kind = "opening-collar"
fits_least = "18 in"
fits_most = "30 in"
ring_radius = "13 in"
collar_mass = "120 kg"
neck_depth = "10 in"
neck_rating = "4000 lbf"
judged_by = "A. Brandt"
"""
FLOOR = """
kind = "floor-sleeve"
bolts = [["-10 in", "-10 in"], ["-10 in", "10 in"], ["10 in", "-10 in"], ["10 in", "10 in"]]
toe = "12 in"
bolt_tension = "8000 lbf"
bolt_shear = "4000 lbf"
judged_by = "A. Brandt"
"""
WALL = """
kind = "wall-sleeve"
bracket_spacing = "20 in"
bolts_per_bracket = 2
bolt_tension = "6000 lbf"
bolt_shear = "4000 lbf"
judged_by = "A. Brandt"
"""
WALL_OWN = """
sleeve_mass = "20 kg"
sleeve_offset = "4 in"
"""
LINE = """
kind = "horizontal-lifeline"
span = "12 m"
slack_length = "12.6 m"
stiffness = "1 MN"
line_mass = "6 kg"
end_rating = "30 kN"
users = 1
judged_by = "A. Brandt"
"""
LINE = LINE.replace("1 MN", "1000 kN")
SLIDING: dict[str, Any] = {
    "joint": "sliding",
    "joint_friction": 0.25,
    "leg": [
        {"lean": lean, "length": "1.2 m", "stiffness": "100 kN"} for lean in ("-30 deg", "30 deg")
    ],
}


def stopped(lean: str, **values: str) -> dict[str, str]:
    """A leg of a sliding sling with a knot a hand's breadth from the connector."""
    return {"lean": lean, "length": "1.2 m", "stiffness": "100 kN", "stopped_at": "0.1 m", **values}


DAVIT, WINCH, ROPES = ("support", "davit-2"), ("device", "winch-4"), ("device", "rope-set")
TRIPOD, CLAMP, TRUCK = ("support", "tripod-1"), ("support", "clamp-3"), ("support", "receiver-1")
POST, ARM = ("support", "post-1"), ("support", "arm-1")
EYE = ("support", "excavator-eye")

# The truck of the shored trench anchors the line of a head over the manhole, without a mast.
ANCHORED = both(
    rig(
        number=1,
        reach=None,
        pull_elevation="10 deg",
        redirect=[{"angle": "80 deg", "rating": "3000 lbf"}],
    ),
    put(*TRUCK, wheelbase="3.4 m"),
)


def nothing(data: dict[str, Any]) -> None:
    """Leaves the sample as it is."""
