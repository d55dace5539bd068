"""Hazards that harm in seconds: line on and manned, air on the entrant, or a masked crew."""

from typing import Any

import pytest
from broken_crew import in_space, put
from broken_haul import both, nothing, rig
from broken_sites import WORST_FIRST, Break, entry, found, plan_with, rules_of, space, way, worst

from planbuilder.checks.timing import seconds
from planbuilder.findings import Finding, Verdict

RULE, TANK = "response/entry-for-seconds", "storage_tank"
LINE: dict[str, Any] = {
    "id": "line",
    "kind": "Air line from a bank",
    "name": "Air line no. 1",
    "air": {"kind": "line", "users": 2},
}
ESCAPE: dict[str, Any] = {
    "id": "escape",
    "kind": "Escape set",
    "name": "Escape sets",
    "quantity": 2,
    "air": {"kind": "escape", "rated_time": "10 min"},
}


def asked(*breaks: Break, sample: str = TANK) -> list[Finding]:
    return found(plan_with(*breaks, sample=sample), RULE)


def hazard(kind: str, level: str | None = None) -> Break:
    """The first hazard of the tank."""
    return lambda data: put(space(data)["hazard"][0], kind=kind, level=level)


def method(**values: Any) -> Break:
    return lambda data: put(way(data), **values)


def supplied(**values: Any) -> Break:
    """The entrants breathe from an air line; *values* change it."""

    def change(data: dict[str, Any]) -> None:
        data["equipment"] += [LINE | {"air": dict(LINE["air"])}, dict(ESCAPE)]
        put(space(data)["task"], **{"air_line": "line", "escape_set": "escape"} | values)

    return change


def faster(data: dict[str, Any]) -> None:
    """The mask is on: that step is over at once, in the plan and in its drills."""
    steps = {one["id"]: one for one in way(data)["step"]}
    steps["mask"].update(usual="2 s", one_in_ten="3 s")
    for drill in data["drill"]:
        drill.pop("took")
        drill["step"] = [one for one in drill["step"] if one["id"] != "mask"]


INERT = hazard("oxygen-deficiency", "4 %")
MASKED = both(INERT, method(masked_at_opening=True))


def test_every_rule_has_a_case() -> None:
    assert rules_of(seconds) == {RULE}


def test_a_hazard_that_leaves_minutes_is_not_asked() -> None:
    assert asked() == []


@pytest.mark.parametrize(
    "quick",
    [
        INERT,
        hazard("inert-gas"),
        hazard("hydrogen-sulfide", "600 ppm"),
        hazard("carbon-monoxide", "0.7 %"),
        hazard("drowning"),
        hazard("oxygen-deficiency"),  # no level: the worst there is
    ],
)
def test_standby_alone_is_not_said_to_be_in_time(quick: Break) -> None:
    (one,) = asked(quick)

    assert one.verdict is Verdict.UNKNOWN
    assert one.blocks
    assert "face pieces on" in one.settle_by


def test_a_crew_masked_at_the_opening_is_in_time() -> None:
    assert worst(asked(MASKED)) is Verdict.MEETS
    assert worst(asked(MASKED, faster)) is Verdict.MEETS


@pytest.mark.parametrize(
    "change",
    [
        method(masked_at_opening=False),
        method(posture="available-on-site"),
        lambda data: space(data)["rescue"].update(air_limit="1 min"),
    ],
    ids=["masks after the alarm", "not at the opening", "beyond the limit"],
)
def test_a_crew_that_is_not_ready_fails(change: Break) -> None:
    assert worst(asked(MASKED, change)) is Verdict.FAILS


@pytest.mark.parametrize(
    "change",
    [
        method(breathing_set=None),
        lambda data: way(data).update(crew=way(data)["crew"][:3]),
        lambda data: way(data)["step"][1].pop("usual"),
    ],
    ids=["no sets", "no back-up", "no time to air"],
)
def test_a_masked_crew_needs_sets_back_up_and_times(change: Break) -> None:
    assert worst(asked(MASKED, change)) is Verdict.UNKNOWN


def test_nobody_goes_in_after_engulfment() -> None:
    assert worst(asked(MASKED, hazard("engulfment"))) is Verdict.FAILS


def test_an_air_line_on_the_entrants_does() -> None:
    assert worst(asked(INERT, supplied())) is Verdict.MEETS


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (supplied(escape_set=None), Verdict.UNKNOWN),
        (supplied(air_line="set"), Verdict.UNKNOWN),  # cylinders run out; masks may yet be on
        (supplied(inside_at_once=3), Verdict.UNKNOWN),
        (
            both(supplied(), lambda data: entry(data, "equipment", "line")["air"].pop("users")),
            Verdict.UNKNOWN,
        ),
        (both(supplied(), hazard("drowning")), Verdict.UNKNOWN),
        (both(supplied(air_line="set"), method(masked_at_opening=False)), Verdict.FAILS),
        (both(supplied(inside_at_once=3), method(masked_at_opening=False)), Verdict.FAILS),
    ],
)
def test_what_an_air_line_needs(change: Break, verdict: Verdict) -> None:
    assert worst(asked(INERT, change)) is verdict


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (nothing, Verdict.MEETS),
        (rig(line_worn=None), Verdict.UNKNOWN),
        (rig(line_worn=False), Verdict.FAILS),
        (method(posture="available-on-site"), Verdict.FAILS),
        (lambda data: way(data).update(crew=way(data)["crew"][:1]), Verdict.FAILS),
        (lambda data: way(data).pop("rig"), Verdict.FAILS),
        (method(method="self"), Verdict.FAILS),
    ],
)
def test_a_line_that_is_on_and_manned_does(change: Break, verdict: Verdict) -> None:
    """The wet well has drowning among its hazards, and a winch."""
    (one,) = [one for one in asked(change, sample="pump_station") if one.space == "wet-well"]

    assert one.verdict is verdict


@pytest.mark.parametrize(
    "changes",
    [
        [INERT, both(INERT, in_space(0, "task", inside_at_once=2))],
        [both(MASKED, in_space(0, "rescue", air_limit=f"{s} s")) for s in (240, 200, 100, 60)],
        [hazard("oxygen-deficiency", f"{p} %") for p in (7.9, 4, 1)],
    ],
)
def test_worse_never_helps(changes: list[Break]) -> None:
    verdicts = [WORST_FIRST.index(worst(asked(one))) for one in changes]

    assert verdicts == sorted(verdicts, reverse=True)
