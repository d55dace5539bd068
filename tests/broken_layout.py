"""What is drawn round the wet well, and ways of drawing it too near.

Its davit, of a base 60 in by 80 in, stands along the first axis: x from -20 in to 40 in.
"""

from dataclasses import dataclass
from typing import Any

from broken_haul import both
from broken_lift import landing
from broken_power_lines import line
from broken_sites import Break, space, way


def box(x: float, y: float, to_x: float, to_y: float) -> list[list[str]]:
    """The corners of a box in turn, in metres."""
    return [[f"{a} m", f"{b} m"] for a, b in ((x, y), (to_x, y), (to_x, to_y), (x, to_y))]


def drawn(towards: str | None = "0 deg", **values: Any) -> Break:
    """A layout round the wet well; *towards* is where the supports of both ways stand."""

    def change(data: dict[str, Any]) -> None:
        space(data)["layout"] = values
        for name in ("primary", "fallback"):
            if towards is not None:
                way(data, name)["rig"]["stands_towards"] = towards

    return change


def thing(*corners: float, name: str = "Kiosk") -> list[dict[str, Any]]:
    """One obstacle or drop."""
    return [{"name": name, "outline": box(*corners)}]


def obstacle(y: float, towards: str | None = "0 deg") -> Break:
    """A kiosk beside the base, from *y* on."""
    return drawn(towards, obstacle=thing(-0.5, y, 0.5, y + 1))


def drop(y: float, towards: str | None = "0 deg") -> Break:
    """A trench beside the base, from *y* on."""
    return drawn(towards, drop=thing(-5, y, 5, y + 1, name="Trench"))


# Behind the opening: 3.2 m by 2 m, 0.7 m from its edge.
PLACE = box(-4.2, -1, -1, 1)


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what lets it rest, and what leaves it unknown."""

    fires: Break
    rests: Break
    unknown: Break


BOW = [["-4 m", "-1 m"], ["-1 m", "1 m"], ["-1 m", "-1 m"], ["-4 m", "1 m"]]
CASES = {
    "haul/foot-near-edge": Case(drop(2.0), drop(2.4), drop(2.4, None)),
    "clearance/base-on-obstacle": Case(obstacle(1.2), obstacle(1.3), obstacle(1.3, None)),
    "clearance/base-off-firm-ground": Case(
        drawn(firm=box(-0.75, -1.25, 1.1, 1.25)),
        drawn(firm=box(-0.75, -1.25, 1.25, 1.25)),
        drawn(None, firm=box(-0.75, -1.25, 1.25, 1.25)),
    ),
    "clearance/boom-sweep-blocked": Case(
        drawn(obstacle=thing(-0.7, -0.1, -0.5, 0.1)),
        drawn(obstacle=thing(-1.4, -0.1, -1.2, 0.1)),
        drawn(None, obstacle=thing(-1.4, -0.1, -1.2, 0.1)),
    ),
    "clearance/landing-near-opening": Case(
        drawn(landing=box(-4, -1, -0.8, 1)),
        drawn(landing=PLACE),
        drawn(landing=BOW),
    ),
    "clearance/landing-on-obstacle": Case(
        drawn(landing=PLACE, obstacle=thing(-5, 0, -4.15, 1)),
        drawn(landing=PLACE, obstacle=thing(-6, 0, -4.4, 1)),
        drawn(landing=BOW, obstacle=thing(-6, 0, -4.4, 1)),
    ),
    "clearance/landing-at-drop": Case(
        drawn(landing=PLACE, drop=thing(-6, -1, -4.5, 1)),
        drawn(landing=PLACE, drop=thing(-6, -1, -4.9, 1)),
        drawn(landing=BOW, drop=thing(-6, -1, -4.9, 1)),
    ),
    "clearance/traffic-lane-too-near": Case(
        drawn(landing=PLACE, lane=box(-20, 1.5, 20, 5)),
        drawn(landing=PLACE, lane=box(-20, 1.8, 20, 5)),
        drawn(None, landing=PLACE, lane=box(-20, 1.8, 20, 5)),
    ),
    "clearance/landing-near-power-line": Case(
        both(line(), landing(to_line="1 m")),
        both(line(), landing()),
        both(line(height=None), landing()),
    ),
}
