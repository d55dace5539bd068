"""Ways of breaking the line to a casualty, and what shares the column with it; a case a rule."""

from dataclasses import dataclass
from typing import Any

from broken_haul import both, nothing, rig
from broken_sites import Break, space


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what lets it rest, and what leaves it unknown."""

    fires: Break
    rests: Break
    unknown: Break | None


def at(number: int = 0, **values: Any) -> Break:
    """Sets keys of a space, the wet well unless said otherwise; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        for key, value in values.items():
            if value is None:
                space(data, number).pop(key, None)
            else:
                space(data, number)[key] = value

    return change


def lies(far: str) -> Break:
    """The casualty lies that far from under the opening."""
    return at(lies_off=far)


def drag(length: str | None, name: str = "primary") -> Break:
    """A drag along the floor; without a length if None."""
    stated = {"length": length, "slope": "0 deg", "on": "floor"}
    return rig(name, drag={key: value for key, value in stated.items() if value is not None})


def dragged(length: str | None) -> Break:
    """The same drag in both methods."""
    return both(drag(length), drag(length, "fallback"))


def edges(turn: str) -> Break:
    """An edge of concrete in the line's path, in both methods."""
    one = [{"material": "concrete", "turn": turn}]
    return both(rig(edges=one), rig("fallback", edges=one))


def ladder(**values: Any) -> Break:
    """A ladder in a cage of 27 in, inside which the casualty is raised, to a foot off the floor."""
    stated = {
        "to_depth": "20 ft",
        "guard": "cage",
        "guard_width": "27 in",
        "guard_depth": "27 in",
        "lift_inside": True,
        **values,
    }
    return at(ladder={key: value for key, value in stated.items() if value is not None})


def hose(**values: Any) -> Break:
    """The blower's hose through the opening of the wet well, unless said otherwise."""
    stated = {"name": "Blower hose", "through": "this-opening", "width": "8 in", **values}
    return at(hose=[{key: value for key, value in stated.items() if value is not None}])


def two_lines(**second: Any) -> Break:
    """Two inside, each at work under a head of their own; *second* changes the other one."""
    one = {"person": "bode", "head": ["0 in", "0 in"], "at": ["-2 ft", "0 in"], "turned": "0 deg"}
    other = {"head": ["1 ft", "0 in"], "at": ["2 ft", "1 ft"], "turned": "90 deg", **second}
    lines = [{**one, "together": True}, {"person": "sunniva", "together": False, **other}]
    kept = [{key: value for key, value in line.items() if value is not None} for line in lines]

    def change(data: dict[str, Any]) -> None:
        space(data)["task"]["inside_at_once"] = 2
        space(data)["entrant_line"] = kept

    return change


FAR = ["3 ft", "0 in"]
ALONG = rig(rides_along="ines")


CASES = {
    "clearance/line-on-rim": Case(
        fires=lies("4 ft"), rests=both(lies("4 ft"), dragged("20 in")), unknown=at(lies_off=None)
    ),
    "clearance/rim-friction-not-counted": Case(
        fires=lies("6 ft"),
        rests=both(lies("6 ft"), edges("15 deg")),
        unknown=both(lies("6 ft"), rig(edges=None)),
    ),
    "clearance/drags-before-it-lifts": Case(
        fires=lies("4 ft"), rests=both(lies("4 ft"), dragged("31 in")), unknown=dragged(None)
    ),
    "clearance/swings-at-lift-off": Case(
        fires=both(lies("2 ft"), rig(tag_line=None)),
        rests=rig(tag_line=None),
        unknown=rig(hook_height=None),
    ),
    "clearance/ladder-ends-short": Case(
        fires=ladder(to_depth="19 ft"), rests=ladder(), unknown=ladder(to_depth=None)
    ),
    "clearance/cage-too-tight": Case(
        fires=ladder(guard_width="22 in"),
        rests=ladder(),
        unknown=ladder(lift_inside=None),
    ),
    "clearance/cage-blocks-pair": Case(
        fires=both(ladder(guard_depth="24 in"), ALONG),
        rests=both(ladder(guard_depth="30 in"), ALONG),
        unknown=both(ladder(guard_depth=None), ALONG),
    ),
    "clearance/cage-off-published": Case(
        fires=ladder(guard_width="26 in"),
        rests=ladder(),
        unknown=ladder(guard_width=None),
    ),
    "clearance/hose-in-column": Case(
        fires=hose(), rests=hose(out_before_lift=True), unknown=at(hose=None)
    ),
    "clearance/casualty-spins": Case(
        fires=rig(tag_line=None),
        rests=nothing,
        unknown=None,  # no tag line stated is none
    ),
    "clearance/lines-cross": Case(
        fires=two_lines(at=["-3 ft", "0 in"]), rests=two_lines(), unknown=two_lines(at=None)
    ),
    "clearance/lines-on-one-head": Case(
        fires=two_lines(head=["2 in", "0 in"]), rests=two_lines(), unknown=two_lines(head=None)
    ),
    "clearance/lines-hoisted-too-near": Case(
        fires=two_lines(together=True),
        rests=two_lines(together=True, head=FAR),
        unknown=two_lines(together=None),
    ),
    "clearance/lines-wound": Case(
        fires=two_lines(turned="180 deg"), rests=two_lines(), unknown=two_lines(turned=None)
    ),
}
