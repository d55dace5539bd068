"""Times of outside services and of ways against the road and the route; ways that are computed."""

from datetime import date
from typing import Any

import pytest
from broken_crew import in_space, put, step_of
from broken_haul import both, nothing
from broken_sites import WORST_FIRST, Break, entry, found, plan_with, rules_of, space, way, worst
from printed_formula import work_out

from planbuilder.checks.timing import journeys
from planbuilder.checks.timing.timeline import TimedStep, Timeline
from planbuilder.findings import Compared, Finding, Mark, Verdict
from planbuilder.response.spread import LogNormal
from planbuilder.site.file import UnitSystem
from planbuilder.view.timelines import timeline_view

TANK = "storage_tank"
ROAD, ROUTE = "response/service-quicker-than-road", "response/route-longer-than-steps"


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks, sample=TANK), rule)


def service(**values: Any) -> Break:
    return lambda data: put(entry(data, "service", "ambulance"), **values)


def ambulance(**values: Any) -> Break:
    return step_of("primary", 0, "ambulance", **values)


def stretch(number: int, **values: Any) -> Break:
    return lambda data: put(space(data)["route"][number], **values)


# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: dict[str, tuple[Break, Break, Break]] = {
    ROAD: (service(driven="40 min"), nothing, ambulance(service=None)),
    ROUTE: (stretch(1, pause_out="90 min"), nothing, stretch(1, coming_out=None)),
}


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(journeys)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, rests, unknown = CASES[rule]

    assert worst(asked(rule, fires)) is Verdict.FAILS
    assert {one.verdict for one in asked(rule, rests)} == {Verdict.MEETS}
    assert worst(asked(rule, unknown)) is Verdict.UNKNOWN


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("which", [0, 1])
def test_the_printed_formula_gives_the_result(rule: str, which: int) -> None:
    for one in asked(rule, CASES[rule][which]):
        assert isinstance(one.outcome, Compared)
        values = {each.symbol: each.value for each in one.outcome.inputs}
        assert work_out(one.outcome.formula, values) == pytest.approx(one.outcome.result.value)


# ---- the road -------------------------------------------------------------------------------


def test_nine_minutes_are_not_enough_for_a_road_of_eight_minutes_and_twenty_seconds() -> None:
    """By hand: 64 s for the call, 2 min turn-out, 8 min 20 s drive, 1 min 30 s walk: 12:54."""
    (one,) = asked(ROAD, ambulance(usual="9 min"))

    assert isinstance(one.outcome, Compared)
    assert one.outcome.limit.value == 64 + 120 + 500 + 90
    assert one.blocks
    assert 'computed = "off-site"' in one.settle_by


@pytest.mark.parametrize("key", ["turn_out", "driven", "driven_on", "walk_in"])
def test_half_a_journey_is_unknown(key: str) -> None:
    assert worst(asked(ROAD, service(**{key: None}))) is Verdict.UNKNOWN


@pytest.mark.parametrize("source", ["drill", "estimate", "published"])
def test_a_stated_time_is_held_against_the_road_wherever_it_comes_from(source: str) -> None:
    quick = ambulance(usual="9 min", source=source, drilled_on=date(2026, 10, 28))

    assert worst(asked(ROAD, quick)) is Verdict.FAILS


def test_a_service_of_which_no_journey_is_stated_is_asked_nothing() -> None:
    silent = service(turn_out=None, driven=None, driven_on=None, walk_in=None)

    assert asked(ROAD, silent) == []
    assert asked(ROAD, silent, ambulance(service=None)) == []


def test_the_usual_nine_minutes_are_an_estimate_that_the_road_contradicts() -> None:
    def usual(data: dict[str, Any]) -> None:
        own = [{"id": "ambulance", "service": "ambulance"}]
        put(way(data), step=own, steps_from="usual")

    assert worst(asked(ROAD, usual)) is Verdict.FAILS


def test_a_team_off_site_comes_in_a_step() -> None:
    """The method leans on a team whose journey is known; no step says when it comes."""

    def off_site(data: dict[str, Any]) -> None:
        team = {"id": "weir", "name": "Weir rescue", "kind": "contract-team", "phone": "1"}
        data["service"].append({**team, "turn_out": "1 min"})
        put(way(data), posture="available-off-site", service="weir")

    asked_of = [one for one in asked(ROAD, off_site) if one.about == "primary, outside service"]

    assert worst(asked_of) is Verdict.UNKNOWN


# ---- computed steps -------------------------------------------------------------------------


def times(*breaks: Break) -> Timeline:
    return plan_with(*breaks, sample=TANK).spaces[0].timelines[0]


def computed(step_id: str, how: str, **values: Any) -> Break:
    gone = {"usual": None, "one_in_ten": None, "source": None, "drilled_on": None}
    return step_of("primary", 0, step_id, computed=how, **gone, quoted_as=None, **values)


def timed(step_id: str, how: str, *breaks: Break) -> TimedStep:
    return times(computed(step_id, how), *breaks).step(step_id)


def test_the_journey_of_a_service_is_a_step() -> None:
    one = timed("ambulance", "off-site")

    assert one.usual.value == 64 + 120 + 500 + 90
    assert one.usual.source.mark is Mark.DERIVED
    assert isinstance(one.spread, LogNormal)
    assert one.slow.value > one.usual.value
    assert asked(ROAD, computed("ambulance", "off-site")) == []


def test_ways_in_and_out_are_steps() -> None:
    """By hand: 10 m at 0.5 m/s and 1 m at 0.1 m/s; back 11 m at 0.2 m/s and two pauses of 30 s."""
    plain = [
        {"what": "walk", "length": "10 m", "going_in": "walk", "speed_in": "0.5 m/s"},
        {"what": "hatch", "length": "1 m", "going_in": "crawl", "speed_in": "0.1 m/s"},
    ]
    out = {"coming_out": "drag", "speed_out": "0.2 m/s", "pause_out": "30 s"}
    route = in_space(0, route=[one | out for one in plain])

    assert timed("reach", "route-in", route).usual.value == pytest.approx(20 + 10)
    assert timed("drag", "route-out", route).usual.value == pytest.approx(50 + 5 + 60)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (computed("drag", "route-out"), "space.tank-3.route"),
        (computed("reach", "route-in"), "space.tank-3.route"),
        (computed("ambulance", "off-site"), "service.ambulance.driven"),
    ],
)
def test_what_a_computed_step_lacks_is_named(change: Break, key: str) -> None:
    gone = both(in_space(0, route=[]), service(driven=None))

    assert times(change, gone).missing == (key,)


def test_a_journey_of_nobody_is_missing() -> None:
    change = computed("ambulance", "off-site", service=None)

    assert times(change).missing == ("space.tank-3.rescue.primary.step.ambulance.service",)


def test_a_route_that_is_raised_all_the_way_is_no_time() -> None:
    route = [{"what": "up", "length": "2 m", "going_in": "ladder", "coming_out": "raised"}]

    def rigged(data: dict[str, Any]) -> None:
        data["support"] = [{"id": "beam", "name": "Beam", "kind": "structure"}]
        put(way(data), rig={"support": "beam", "device": "winch"})
        data["device"] = [{"id": "winch", "name": "Winch", "kind": "winch"}]

    found_times = times(computed("drag", "route-out"), in_space(0, route=route), rigged)

    assert found_times.missing == ("space.tank-3.rescue.primary.step.drag.usual",)


def test_the_plan_says_what_is_computed() -> None:
    plan = plan_with(computed("ambulance", "off-site"), sample=TANK)
    view = timeline_view(plan.spaces[0], plan.spaces[0].timelines[0], UnitSystem.SI)

    (row,) = [one for one in view.steps if one.id == "ambulance"]
    assert row.evidence == "computed, off-site"
    assert [one.symbol for one in view.workings] == ["t_ambulance"]


def test_speeds_out_of_a_table_are_no_drill() -> None:
    findings = asked("response/times-not-drilled", computed("reach", "route-in"))

    assert worst([one for one in findings if one.about == "primary"]) is Verdict.FAILS


def test_the_way_in_says_nothing_of_the_way_out() -> None:
    plain = asked("response/exit-time-copied", computed("drag", "route-out"))
    copied = asked("response/exit-time-copied", computed("drag", "route-in"))

    assert not isinstance(plain[0].outcome, Compared)
    assert isinstance(copied[0].outcome, Compared)


# ---- direction ------------------------------------------------------------------------------

GROWING: dict[str, tuple[str, list[Break]]] = {
    "longer drive": (ROAD, [service(driven=f"{one} min") for one in (1, 5, 8, 9, 20, 90)]),
    "slower turn-out": (ROAD, [service(turn_out=f"{one} min") for one in (1, 2, 3, 9)]),
    "quicker step": (ROAD, [ambulance(usual=f"{one} min") for one in (19, 15, 13, 12, 2)]),
    "longer pause": (ROUTE, [stretch(1, pause_out=f"{one} min") for one in (1, 5, 9, 15, 90)]),
    "longer way": (ROUTE, [stretch(2, length=f"{one} ft") for one in (9, 99, 999, 9999)]),
}


@pytest.mark.parametrize("name", GROWING)
def test_worse_never_helps(name: str) -> None:
    rule, changes = GROWING[name]

    verdicts = [WORST_FIRST.index(worst(asked(rule, one))) for one in changes]

    assert verdicts == sorted(verdicts, reverse=True)
    assert len(set(verdicts)) > 1
