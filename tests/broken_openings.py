"""Ways of changing openings, and what has to pass them, of the samples."""

from datetime import date
from typing import Any

from broken_sites import Break, space, way

PACKED = {
    "length": "2.0 m",
    "width": "450 mm",
    "depth": "350 mm",
    "bends": False,
}
CORNER = {
    "name": "Gallery corner",
    "before": "1.2 m",
    "after": "1.2 m",
    "turn": "45 deg",
    "plane": "level",
    "round_bore": False,
}


def opening(number: int = 0, **values: Any) -> Break:
    """Sets keys of an opening; None takes the key away."""
    return lambda data: put_in(space(data, number)["opening"], values)


def put_in(target: dict[str, Any], values: dict[str, Any]) -> None:
    """Sets keys of a table; None takes the key away."""
    for key, value in values.items():
        target.pop(key, None)
        if value is not None:
            target[key] = value


def ring(**values: Any) -> Break:
    """A neck under the cover of the first space."""
    return opening(ring=[{"name": "neck", **values}])


def stretcher(**values: Any) -> Break:
    """A packed stretcher on the primary way of the first space, with these sizes changed."""

    def change(data: dict[str, Any]) -> None:
        packed = dict(PACKED)
        put_in(packed, values)
        item = {
            "id": "board",
            "kind": "Stretcher",
            "name": "Board no. 1",
            "inspected": date(2026, 10, 5),
            "inspection_interval": "6 months",
            "packed": packed,
        }
        data["equipment"].append(item)
        way(data)["stretcher"] = "board"
        space(data)["opening"].setdefault("neck", "0.3 m")

    return change


def weighed_only(data: dict[str, Any]) -> None:
    """A stretcher hangs on the line, but nobody says which."""
    way(data)["rig"]["stretcher_mass"] = "10 kg"


def bend(**values: Any) -> Break:
    """A corner on the way out, with these sizes changed."""

    def change(data: dict[str, Any]) -> None:
        corner = dict(CORNER)
        put_in(corner, values)
        space(data)["bend"] = [corner]

    return change


def by_wrists(data: dict[str, Any]) -> None:
    """Both ways lift by wristlets."""
    for name in ("primary", "fallback"):
        if "rig" in way(data, name):
            way(data, name)["rig"].update(
                attachment="wristlets",
                wristlets_because="harness-not-feasible",
                wristlets_decided_by="Osric Vane",
            )


def riding(data: dict[str, Any]) -> None:
    """A rescuer rides along with the casualty."""
    way(data)["rig"]["rides_along"] = data["person"][0]["id"]
