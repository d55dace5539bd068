"""A worse site never gets a better answer: heavier, longer, smaller, slower, older, or missing."""

import tomllib
from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest
from broken_sites import SAMPLES, WORST_FIRST, Break, entry, plan_with, space, way
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from planbuilder.findings import Finding, Verdict
from planbuilder.plan import Plan
from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.load import declared_ids

Key = tuple[str, str | None, str]
Setter = Callable[[float], Break]


def answers(plan: Plan) -> dict[Key, Verdict]:
    """The verdict of each finding, the worst where one is asked several times."""
    rows: dict[Key, Verdict] = {}
    for one in plan.findings:
        key = (one.rule.id, one.space, one.about)
        rows[key] = min(one.verdict, rows.get(key, one.verdict), key=WORST_FIRST.index)
    return rows


def never_better(before: Plan, after: Plan, *, ignoring: tuple[str, ...] = ()) -> None:
    """Asserts that no finding of *after* is better than its twin of *before*."""
    old, new = answers(before), answers(after)
    better = [
        (key, old[key], new[key])
        for key in old.keys() & new.keys()
        if key[0] not in ignoring and WORST_FIRST.index(new[key]) > WORST_FIRST.index(old[key])
    ]

    assert better == []


def _m(value: float) -> str:
    return f"{value:.4f} m"


def rig(**values: str) -> Break:
    return lambda data: way(data)["rig"].update(values)


def tripod_rig(**values: Any) -> Break:
    return lambda data: way(data, number=1)["rig"].update(values)


def _slope(degrees: float) -> Break:
    """The ground falls to the side of the wet well's davit."""

    def change(data: dict[str, Any]) -> None:
        stand = way(data)["rig"]["stand"]
        stand.update(slope=f"{degrees:.3f} deg", slope_towards="90 deg")

    return change


def step(name: str, **values: str) -> Break:
    def change(data: dict[str, Any]) -> None:
        next(one for one in way(data)["step"] if one["id"] == name).update(values)

    return change


def fact(table: str, entry_id: str, **values: str) -> Break:
    return lambda data: entry(data, table, entry_id).update(values)


def number(table: str, entry_id: str, **values: float | None) -> Break:
    return lambda data: entry(data, table, entry_id).update(values)


def sets(**values: str) -> Break:
    return lambda data: entry(data, "equipment", "set")["air"].update(values)


def on_air(**values: str) -> Break:
    return lambda data: way(data, "fallback", 1)["air"].update(values)


def at(part: str, **values: str) -> Break:
    return lambda data: space(data)[part].update(values)


EDGE = {"material": "concrete", "turn": "90 deg"}


def by_hand(**values: Any) -> Break:
    """Sets keys of the rig with the rope system."""
    return lambda data: way(data, "fallback")["rig"].update(values)


def _drag(**values: str) -> Break:
    return by_hand(drag={"length": "2 m", "slope": "0 deg", "on": "floor", **values})


def _absorbed(slack_m: float) -> Break:
    absorber: Any = {"force": "4 kN", "travel": "8 in"}
    return lambda data: way(data)["rig"].update(slack=_m(slack_m), absorber=absorber)


def _stiff(kilonewtons: float) -> Break:
    def change(data: dict[str, Any]) -> None:
        entry(data, "device", "rope-set")["line_stiffness"] = f"{kilonewtons:.3f} kN"
        entry(data, "support", "gantry")["arrest_load"] = "12 kN"
        by_hand(slack="6 in")(data)

    return change


# What worsens as the number grows, and its range.
GROWING: dict[str, tuple[Setter, float, float]] = {
    "heavier casualty": (lambda v: fact("person", "bode", mass=f"{v:.2f} kg"), 40, 300),
    "broader casualty": (lambda v: fact("person", "bode", shoulder_breadth=_m(v)), 0.35, 1.0),
    "thicker casualty": (lambda v: fact("person", "bode", body_depth=_m(v)), 0.2, 1.0),
    "taller casualty": (lambda v: fact("person", "bode", stature=_m(v)), 1.4, 2.5),
    "longer reach": (lambda v: rig(reach=_m(v)), 0.1, 3),
    "leaning line": (lambda v: rig(line_lean=f"{v:.3f} deg"), 0, 40),
    "line led farther off": (lambda v: rig(lead_distance=_m(v)), 0, 30),
    "steeper slope": (_slope, 0, 30),
    "leaning line of a tripod": (lambda v: tripod_rig(line_lean=f"{v:.3f} deg"), 0, 40),
    "line of a tripod led farther off": (
        lambda v: tripod_rig(winch_on_leg=False, lead_distance=_m(v)),
        0,
        30,
    ),
    "higher coaming": (lambda v: at("opening", coaming=_m(v)), 0, 2),
    "longer connector": (lambda v: rig(block=_m(v)), 0, 2),
    "deeper space": (lambda v: at("shape", depth=_m(v)), 2, 60),
    "slower step": (
        lambda v: step("lay-down", usual=f"{v:.1f} s", one_in_ten=f"{v * 1.5:.1f} s"),
        28,  # a shorter time is withdrawn by the drills, and what they allow takes its place
        900,
    ),
    "rarer checks": (lambda v: at("contact", check_interval=f"{v:.1f} s"), 1, 2000),
    "farther from the plumb line": (lambda v: at("fall", offset=_m(v)), 0, 6),
    "longer arrest": (lambda v: fact("device", "retractor-3", arrest_distance=_m(v)), 0.3, 6),
    "looser alarm": (lambda v: at("set_points", flammable=f"{v:.3f} %"), 1, 60),
    "longer way out in a set": (lambda v: on_air(time_out=f"{v:.1f} s"), 1, 1500),
    "longer work in a set": (lambda v: on_air(work_in_all=f"{v:.1f} s"), 1, 1500),
    "warmer fill": (lambda v: sets(filled_at=f"{v:.2f} degC"), -5, 60),
    "higher reserve": (lambda v: sets(reserve=f"{v:.2f} bar"), 1, 400),
    "more dead travel": (lambda v: rig(head_to_drum=_m(v)), 0, 30),
    "more slack": (lambda v: rig(slack=_m(v)), 0, 1),
    "more slack on an absorber": (_absorbed, 0, 1),
    "longer drag": (lambda v: _drag(length=_m(v)), 0, 40),
    "steeper drag": (lambda v: _drag(slope=f"{v:.3f} deg"), 0, 63),
    "farther haulers": (lambda v: by_hand(haul_run=_m(v)), 0, 60),
    "slower over the edge": (lambda v: by_hand(edges=[EDGE], edge_time=f"{v:.1f} s"), 0, 600),
    "sharper turn": (lambda v: by_hand(edges=[{**EDGE, "turn": f"{v:.2f} deg"}]), 0, 90),
    "stiffer rope": (_stiff, 5, 900),
    "quicker claim for the winch": (
        lambda v: fact("device", "winch-4", line_speed=f"{v:.4f} m/s"),
        0.005,
        1,
    ),
}
# What worsens as the number shrinks.
SHRINKING: dict[str, tuple[Setter, float, float]] = {
    "smaller opening": (lambda v: at("opening", diameter=_m(v)), 0.3, 1.2),
    "lower hook": (lambda v: rig(hook_height=_m(v)), 1, 4),
    "weaker winch": (lambda v: fact("device", "winch-4", rated_load=f"{v:.1f} N"), 100, 5000),
    "weaker davit": (lambda v: fact("support", "davit-2", rated_load=f"{v:.1f} N"), 100, 5000),
    "shorter line": (lambda v: fact("device", "winch-4", line_length=_m(v)), 1, 40),
    "slower winch": (
        lambda v: fact("device", "winch-4", line_speed=f"{v:.4f} m/s"),
        0.005,
        1,
    ),
    "less room below": (lambda v: at("fall", below=_m(v)), 0.5, 12),
    "lower alarm for oxygen": (lambda v: at("set_points", oxygen_low=f"{v:.3f} %"), 5, 20.9),
    "worse winch": (
        lambda v: number("device", "winch-4", efficiency=v, line_speed=None),
        0.2,
        1,
    ),
    "worse sheaves of the winch": (
        lambda v: number("device", "winch-4", pulley_efficiency=v, plate_rates=None),
        0.3,
        1,
    ),
    "shorter crank": (
        lambda v: fact("device", "winch-4", crank_radius=_m(v)),
        0.05,
        0.5,
    ),
    "smaller sheave": (
        lambda v: fact("device", "winch-4", sheave_diameter=_m(v)),
        0.005,
        0.2,
    ),
    "lower flange": (
        lambda v: fact("device", "winch-4", flange_diameter=_m(v)),
        0.09,
        0.3,
    ),
    "weaker line": (
        lambda v: fact("device", "winch-4", line_breaking=f"{v:.1f} N"),
        2000,
        40000,
    ),
    "smaller cylinder": (lambda v: sets(water_volume=f"{v:.3f} L"), 0.3, 9),
    "emptier cylinder": (lambda v: sets(fill_pressure=f"{v:.2f} bar"), 60, 450),
    "colder place": (lambda v: sets(coldest=f"{v:.2f} degC"), -40, 30),
    "lower anchor": (lambda v: at("fall", anchor_height=_m(v)), 1.46, 5),
}
# The hook that is lower takes less line, and a deeper anchor line is another matter.
PLANS_MORE_TIME = ("response/drills-contradict-plan",)  # the same drills then agree with it
QUICKER = ("haul/raise-longer-than-limit", "response/air-too-late")
AT_RIM = ("clearance/line-on-rim", "clearance/rim-friction-not-counted")
AT_LIFT_OFF = ("clearance/drags-before-it-lifts", "clearance/swings-at-lift-off")
OTHER_WAY = {
    # a fill as warm as the coldest use is no riddle any more
    "warmer fill": ("response/cylinder-warmer-than-filled",),
    # The line to somebody who lies aside is straighter in a deep space, and nearer to plumb there.
    "deeper space": (*PLANS_MORE_TIME, *AT_RIM, *AT_LIFT_OFF),
    "slower step": PLANS_MORE_TIME,
    # A stiff rope stretches less.
    "stiffer rope": ("haul/first-stroke-lost",),
    "lower hook": ("haul/line-too-short", "haul/lean-uses-margin", *AT_RIM),
    # A longer boom lands farther off; round a smaller opening there is more room.
    "longer reach": ("clearance/swing-too-short", "clearance/feet-near-edge"),
    "smaller opening": ("clearance/swing-too-short", "clearance/feet-near-edge"),
    # What takes longer is later for the casualty, and lighter for the person at the crank.
    "slower winch": ("haul/raise-quicker-than-power", *PLANS_MORE_TIME),
    "worse winch": ("haul/raise-quicker-than-power", *PLANS_MORE_TIME),
    "worse sheaves of the winch": ("haul/raise-quicker-than-power", *PLANS_MORE_TIME),
    "quicker claim for the winch": QUICKER,
    # A shorter line lies in fewer layers.
    "shorter line": (
        "haul/drum-overfull",
        "haul/flange-low",
        "haul/crank-too-heavy",
        "haul/device-overloaded",
    ),
}


@pytest.mark.parametrize("name", GROWING)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_more_of_a_bad_thing_never_helps(name: str, data: st.DataObject) -> None:
    setter, low, high = GROWING[name]
    first, second = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))

    never_better(
        plan_with(setter(first)), plan_with(setter(second)), ignoring=OTHER_WAY.get(name, ())
    )


@pytest.mark.parametrize("name", SHRINKING)
@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_less_of_a_good_thing_never_helps(name: str, data: st.DataObject) -> None:
    setter, low, high = SHRINKING[name]
    less, more = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))

    never_better(plan_with(setter(more)), plan_with(setter(less)), ignoring=OTHER_WAY.get(name, ()))


@pytest.mark.parametrize("table", ["device", "support", "equipment"])
@settings(max_examples=8, deadline=None)
@given(older=st.integers(0, 900), newer=st.integers(0, 900))
def test_an_older_inspection_never_helps(table: str, older: int, newer: int) -> None:
    old, new = max(older, newer), min(older, newer)

    def inspected(days: int) -> Break:
        def change(data: dict[str, Any]) -> None:
            for one in data[table]:
                one["inspected"] = date(2026, 11, 25) - timedelta(days=days)

        return change

    never_better(plan_with(inspected(new)), plan_with(inspected(old)))


@settings(max_examples=10, deadline=None)
@given(older=st.integers(0, 900), newer=st.integers(0, 900))
def test_an_older_drill_never_helps(older: int, newer: int) -> None:
    old, new = max(older, newer), min(older, newer)

    def drilled(days: int) -> Break:
        return lambda data: data["drill"][0].update(on=date(2026, 11, 25) - timedelta(days=days))

    never_better(plan_with(drilled(new)), plan_with(drilled(old)))


def leaves(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of every single value of the wet well and of its equipment."""
    if isinstance(data, dict):
        return [one for key, value in data.items() for one in leaves(value, (*path, key))]
    if isinstance(data, list) and data and isinstance(data[0], dict):
        return [one for i, value in enumerate(data) for one in leaves(value, (*path, i))]
    return [path]


def optional_leaves() -> list[tuple[Any, ...]]:
    """Every value of the sample that may be left out of a site file."""
    data = tomllib.loads((SAMPLES / "pump_station.toml").read_text(encoding="utf-8"))
    return [path for path in leaves(data) if _may_go(path)]


@cache
def whole() -> Plan:
    """The plan of the sample as it is."""
    return plan_with()


def remove(path: tuple[Any, ...]) -> Break:
    def change(data: dict[str, Any]) -> None:
        here: Any = data
        for part in path[:-1]:
            here = here[part]
        del here[path[-1]]

    return change


def _may_go(path: tuple[Any, ...]) -> bool:
    data = tomllib.loads((SAMPLES / "pump_station.toml").read_text(encoding="utf-8"))
    remove(path)(data)
    try:
        Site.model_validate(data, context=FileIds(declared_ids(data)))
    except ValidationError:
        return False
    return True


# Leaving these out makes the plan ask for less, or says something else, and is no slip: the
# reason stands behind each.
FREE_TO_GO = {
    "after",  # another network; the clock check answers for its beginning
    "one_in_ten",  # the printed default spread takes its place
    "way",  # the drill is then one of the primary method
}


# Leaving these out changes no verdict; each stands here for a reason.
UNNOTICED = {
    # words for the reader
    *("supersedes", "traffic"),
    *("phone", "serial", "kept_at", "handle", "cautions", "who", "notes", "hits_first", "employer"),
    # records of a drill or a history beside the day and the result
    *("took", "people", "quantity"),
    "details",  # of an exchange, beside the rows of the rule set
    # a printed default takes the place of it, on the safe side
    *("stature", "shoulder_breadth", "body_depth", "width", "depth", "pulley_efficiency", "level"),
    "uses",  # of a step: nothing is asked of what nobody says is used
    "plate_rates",  # the plate is read the stricter way
    "liquid_depth",  # clothing counts as wet
    "inside_at_once",  # everybody may be inside together
    "finish",  # the work ends on the day it starts
    "lines",  # of an anchor with one line; where there are two, the backup check asks
    "basis",  # only "structure-judged" asks for more
    "mass",  # of those who do not go in
    "reaches",  # the two later clocks; the one to air is asked for
    "line_is",  # of a line whose stiffness is stated
    "line_speed",  # of a backup, which does not raise
    "arrest_distance",  # of a line that nobody falls on
    "carbon_monoxide",  # no hazard here
    "on",  # of a briefing: without it the sheet is still to be signed
    "walk_through",  # printed on that sheet
    "describe",  # of a scenario: words for the reader
    *("source", "drilled_on"),  # of steps that do not decide when air comes
}


def opened(plan: Plan) -> list[Finding]:
    """The findings that somebody should still do something about."""
    return [one for one in plan.findings if one.open]


@pytest.mark.parametrize("path", optional_leaves(), ids=lambda path: ".".join(map(str, path)))
def test_a_value_left_out_never_helps(path: tuple[Any, ...]) -> None:
    if path[-1] in FREE_TO_GO:
        pytest.skip("another statement, not a missing one")

    before, after = whole(), plan_with(remove(path))

    never_better(before, after)
    lost = answers(before).keys() - answers(after).keys()
    # A question that is no longer asked must leave the plan not ready by another one. Only a
    # set-point for a gas that is no hazard here may go without a word, and the line of a winch,
    # which its rating covers, and the time of a drill or the end of a
    # clock: a warning says that it is not stated.
    free = path[-1] in ("carbon_monoxide", "line_breaking", "took", "reached", "reaches")
    assert not lost or after.status == "NOT READY" or free
    said_more = after.status == "NOT READY" or len(opened(after)) > len(opened(before))
    assert said_more or path[-1] in UNNOTICED
