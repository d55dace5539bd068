"""Ways of changing the breathing air of the valve chamber's fallback, which is by entry."""

from typing import Any

from broken_sites import Break, entry, way

BANK = {
    "kind": "line",
    "water_volume": "50 L",
    "cylinders": 2,
    "fill_pressure": "200 bar",
    "filled_at": "20 degC",
    "coldest": "5 degC",
    "least_pressure": "20 bar",
    "flow": "170 L/min",
    "hose_length": "150 ft",
}
ESCAPE = {
    "id": "escape",
    "kind": "Escape set",
    "name": "Escape sets",
    "quantity": 2,
    "inspected": "2026-10-05",
    "inspection_interval": "6 months",
    "air": {"kind": "escape", "rated_volume": "400 L"},
}
# The worked mission of the reference: 6 min in, 5 min of work, 9 min out.
WORKED = {"time_in": "6 min", "time_work": "5 min", "time_out": "9 min"}


def method(data: dict[str, Any]) -> dict[str, Any]:
    """The method that goes in with sets."""
    return way(data, "fallback", 1)


def supply(**values: Any) -> Break:
    """Sets keys of the air of the sets; None takes the key away."""
    return lambda data: _put(entry(data, "equipment", "set")["air"], values)


def taken(**values: Any) -> Break:
    """Sets keys of what the method takes of it; None takes the key away."""
    return lambda data: _put(method(data).setdefault("air", {}), values)


def _put(target: dict[str, Any], values: dict[str, Any]) -> None:
    for key, value in values.items():
        target.pop(key, None)
        if value is not None:
            target[key] = value


def no_air(data: dict[str, Any]) -> None:
    """Nothing is said about the air of the sets."""
    del entry(data, "equipment", "set")["air"]


def bad_air(data: dict[str, Any]) -> None:
    """The air of the valve chamber can hurt."""
    data["space"][1]["hazard"].append(
        {"kind": "oxygen-deficiency", "level": "12 %", "control": "Ventilation"}
    )


def on_line(**values: Any) -> Break:
    """The rescuers are on an air line in bad air, with these keys of it changed."""

    def change(data: dict[str, Any]) -> None:
        bad_air(data)
        air = dict(BANK)
        _put(air, values)
        entry(data, "equipment", "set")["air"] = air

    return change


def with_escape(**values: Any) -> Break:
    """Escape sets, with these keys of their air changed."""

    def change(data: dict[str, Any]) -> None:
        air = dict(ESCAPE["air"])  # type: ignore[call-overload]
        _put(air, values)
        inspected = entry(data, "equipment", "set")["inspected"]
        data["equipment"].append({**ESCAPE, "air": air, "inspected": inspected})
        method(data).setdefault("air", {})["escape_set"] = "escape"

    return change


def backup_with(**values: Any) -> Break:
    """The back-up wears other sets, with these keys of their air changed."""

    def change(data: dict[str, Any]) -> None:
        first = entry(data, "equipment", "set")
        air = dict(first["air"])
        _put(air, values)
        data["equipment"].append({**first, "id": "other", "name": "Other sets", "air": air})
        method(data).setdefault("air", {})["backup_set"] = "other"

    return change
