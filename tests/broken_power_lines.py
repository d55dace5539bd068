"""A power line beside the pump station, and ways of breaking what is said about it."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from broken_sites import Break, space, way

# Far enough from a mast of 10 ft whose arm reaches 30 in.
LINE = {
    "name": "Feeder",
    "voltage": "12.5 kV",
    "distance": "14 m",
    "height": "6 m",
    "sag": "1 m",
}
OFF: dict[str, Any] = {
    "state": "isolated-and-grounded",
    "confirmed_by": "Odo Brack",
    "confirmed_on": date(2026, 11, 24),
}


def line(*, top: str | None = "10 ft", country: str = "US", **values: Any) -> Break:
    """A line beside the wet well; None takes a key of it away. *top* is that of the davit."""

    def change(data: dict[str, Any]) -> None:
        facts = {key: value for key, value in {**LINE, **values}.items() if value is not None}
        space(data)["power_line"] = [facts]
        data["site"]["country"] = country
        for name in ("primary", "fallback"):
            rig = way(data, name)["rig"]
            if top is not None:
                rig["top_height"] = top

    return change


def silence(data: dict[str, Any]) -> None:
    """Nothing is said about what is overhead."""
    del data["site"]["overhead"]


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what leaves it unknown, and what it rests on."""

    fires: Break | None
    unknown: Break | None
    rests: Break


CASES: dict[str, Case] = {
    "clearance/power-line-too-near": Case(line(distance="3 m"), line(distance=None), line()),
    "clearance/power-line-in-reach-of-fall": Case(line(distance="5 m"), line(sag=None), line()),
    "clearance/power-line-voltage-unknown": Case(None, line(voltage=None), line()),
    "clearance/power-line-not-confirmed": Case(
        None, line(**{**OFF, "confirmed_by": None}), line(**OFF)
    ),
    "clearance/approach-table-elsewhere": Case(line(country="AU"), None, line()),
    "clearance/overhead-not-stated": Case(None, silence, lambda _data: None),
}
