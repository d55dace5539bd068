"""Openings under one team, shifts, watches, ways in and out, outside teams, calling for help."""

from datetime import date
from typing import Any

import pytest
from broken_crew import (
    COVER,
    ROUTE,
    VALVE_CHAMBER,
    WET_WELL,
    both_open,
    entry_first,
    in_space,
    off_site,
    person,
    put,
    step_of,
)
from broken_haul import both, nothing
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, space, way, worst
from printed_formula import work_out

from planbuilder.checks.people import openings, shifts
from planbuilder.checks.scene import Scene, Working
from planbuilder.checks.timing import travel
from planbuilder.checks.timing.routes import off_site_time, route_time
from planbuilder.findings import Compared, Finding, Verdict

GUESSED = step_of(
    "fallback", VALVE_CHAMBER, "lift-out", source="estimate", usual="3 min", one_in_ten="5 min"
)
WAY_OUT = [{"what": "ladder", "length": "2 m", "going_in": "ladder", "coming_out": "drag"}]


def routed(*stretches: dict[str, Any]) -> Break:
    return in_space(VALVE_CHAMBER, route=[dict(one) for one in stretches])


def cover(**values: Any) -> Break:
    return both(both_open, lambda data: put(space(data, WET_WELL)["cover"], **values))


def linked(to: list[str] | None) -> Break:
    return both(both_open, in_space(WET_WELL, linked_to=to))


def facts(**values: Any) -> Break:
    return lambda data: put(data["site"], **values)


# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: dict[str, tuple[Break, Break, Break | None]] = {
    "response/team-covers-too-much": (cover(rig="3 min"), both_open, linked(None)),
    "response/work-beyond-shift": (
        in_space(WET_WELL, "task", out_by="15:29"),
        nothing,
        person("ines", shift_ends=None),
    ),
    "response/no-relief": (in_space(WET_WELL, "task", out_by="12:30"), nothing, None),
    "response/off-site-travel-not-known": (
        off_site(driven="2 min 30 s"),
        off_site(driven="20 s"),
        off_site(turn_out=None),
    ),
    "response/exit-time-copied": (
        both(GUESSED, routed(*ROUTE)),
        both(GUESSED, routed(*WAY_OUT)),
        GUESSED,
    ),
    "response/radio-not-tested": (
        in_space(WET_WELL, "contact", signal_tested_on=date(2026, 11, 3)),
        nothing,
        in_space(WET_WELL, "contact", signal_tested_on=None),
    ),
    "response/site-hard-to-find": (facts(position=None), nothing, facts(escort=None)),
}
NEVER_FAILS = {"response/site-hard-to-find"}  # what is not stated may still be so


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(openings, shifts, travel)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    verdict = worst(asked(rule, CASES[rule][0]))

    assert verdict is (Verdict.UNKNOWN if rule in NEVER_FAILS else Verdict.FAILS)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    findings = asked(rule, CASES[rule][1])

    assert findings
    assert worst(findings) is Verdict.MEETS


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case[2]])
def test_what_is_not_stated_is_unknown(rule: str) -> None:
    missing = CASES[rule][2]
    assert missing is not None

    findings = [one for one in asked(rule, missing) if one.verdict is Verdict.UNKNOWN]

    assert findings
    assert all(one.settle_by and one.keys for one in findings)


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("which", [0, 1])
def test_the_printed_formula_gives_the_result(rule: str, which: int) -> None:
    outcomes = [one.outcome for one in asked(rule, CASES[rule][which])]

    for one in outcomes:
        if isinstance(one, Compared):
            values = {each.symbol: each.value for each in one.inputs}
            assert len(values) == len(one.inputs)
            assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


# ---- several openings -----------------------------------------------------------------------


def test_openings_at_other_hours_or_days_are_no_matter_of_the_team() -> None:
    other_day = both(
        both_open,
        in_space(VALVE_CHAMBER, "task", start=date(2026, 12, 7)),
    )

    assert asked("response/team-covers-too-much") == []
    assert asked("response/team-covers-too-much", other_day) == []


@pytest.mark.parametrize("key", ["enter_from", "out_by"])
def test_hours_that_are_not_stated_count_as_all_day(key: str) -> None:
    unsaid = in_space(VALVE_CHAMBER, "task", **{key: None})
    apart = in_space(WET_WELL, entrants=["sunniva"])  # Bode is in the other crew

    assert worst(asked("response/team-covers-too-much", unsaid)) is Verdict.FAILS
    assert worst(asked("response/team-covers-too-much", unsaid, apart)) is Verdict.UNKNOWN


@pytest.mark.parametrize(
    "change",
    [
        linked(["valve-chamber"]),
        both(both_open, in_space(VALVE_CHAMBER, linked_to=["wet-well"])),
        cover(stop_others=False),
        both(both_open, in_space(VALVE_CHAMBER, entrants=["sunniva", "kester"])),
    ],
)
def test_one_team_does_not_do_for_linked_openings_or_without_stopping_the_others(
    change: Break,
) -> None:
    findings = asked("response/team-covers-too-much", change)

    assert worst([one for one in findings if one.space == "wet-well"]) is Verdict.FAILS


@pytest.mark.parametrize("key", COVER)
def test_each_part_of_cover_is_asked_for(key: str) -> None:
    findings = asked(
        "response/team-covers-too-much",
        both(both_open, lambda data: space(data, VALVE_CHAMBER)["cover"].pop(key)),
    )

    (own,) = [one for one in findings if one.space == "valve-chamber"]
    assert own.verdict is Verdict.UNKNOWN
    assert own.keys == (f"space.valve-chamber.cover.{key}",)


def test_an_opening_250_m_off_is_out_of_reach_for_four_minutes() -> None:
    """Worked example of the reference: 9.972 min fails a limit of 4 min."""
    far = [{"what": "yard", "length": "250 m", "going_in": "walk"}]
    slow = cover(notify="30 s", derig="3 min", rig="3 min", don=None, way=far)

    (own,) = [
        one for one in asked("response/team-covers-too-much", slow) if one.space == "wet-well"
    ]

    assert isinstance(own.outcome, Compared)
    assert own.outcome.result.value / 60 == pytest.approx(9.972, abs=5e-4)
    assert own.outcome.limit.value == 240
    assert own.verdict is Verdict.FAILS


# ---- shifts ---------------------------------------------------------------------------------


def no_shifts(data: dict[str, Any]) -> None:
    """Nobody says when anybody works."""
    for one in data["person"]:
        put(one, shift_starts=None, shift_ends=None)
    for number in (WET_WELL, VALVE_CHAMBER):
        put(space(data, number)["task"], enter_from=None, out_by=None)


def other_week(data: dict[str, Any]) -> None:
    """The two openings are not worked in on one day."""
    space(data, VALVE_CHAMBER)["task"]["start"] = date(2026, 12, 7)


def test_shifts_are_asked_for_only_where_they_matter() -> None:
    quiet = both(no_shifts, other_week)

    assert asked("response/work-beyond-shift", quiet) == []
    for change in (entry_first, off_site(), in_space(VALVE_CHAMBER, "task", out_by="14:00")):
        assert worst(asked("response/work-beyond-shift", quiet, change)) is Verdict.UNKNOWN
    assert worst(asked("response/work-beyond-shift", no_shifts)) is Verdict.UNKNOWN


def test_a_night_shift_runs_over_midnight() -> None:
    def by_night(data: dict[str, Any]) -> None:
        for one in data["person"]:
            one.update(shift_starts="22:00", shift_ends="06:00")
        space(data)["task"].update(enter_from="23:00", out_by="02:00")
        space(data, VALVE_CHAMBER)["task"].update(enter_from="03:00", out_by="05:30")

    findings = asked("response/work-beyond-shift", by_night)

    assert worst(findings) is Verdict.MEETS
    early = both(by_night, in_space(WET_WELL, "task", enter_from="21:00"))
    assert worst(asked("response/work-beyond-shift", early)) is Verdict.FAILS


@pytest.mark.parametrize(
    ("relief_starts", "verdict"), [("09:00", Verdict.MEETS), ("10:30", Verdict.FAILS)]
)
def test_attendants_relieve_each_other_without_a_gap(relief_starts: str, verdict: Verdict) -> None:
    relieved = both(
        in_space(WET_WELL, relief_attendant="junia"),
        person("tobiah", shift_ends="10:00"),
        person("junia", shift_starts=relief_starts, shift_ends="17:00"),
    )

    findings = [
        one
        for one in asked("response/work-beyond-shift", relieved)
        if one.space == "wet-well" and one.about == "attendants"
    ]

    assert worst(findings) is verdict


@pytest.mark.parametrize("who", ["tobiah", "ines", "mirela"])
@pytest.mark.parametrize("key", ["shift_starts", "shift_ends"])
def test_every_shift_is_asked_for(who: str, key: str) -> None:
    findings = asked("response/work-beyond-shift", person(who, **{key: None}))

    assert worst(findings) is Verdict.UNKNOWN
    assert any(f"person.{who}.{key}" in one.keys for one in findings)


# ---- ways -----------------------------------------------------------------------------------


def scene_with(*breaks: Break, number: int = VALVE_CHAMBER) -> Scene:
    return plan_with(*breaks).spaces[number].scene


def test_way_in_and_way_out_have_speeds_of_their_own() -> None:
    """Worked example W25; what is raised is a step of its own: 335 - 120 s."""
    scene = scene_with(routed(*ROUTE))

    inward, outward = route_time(scene, "in"), route_time(scene, "out")

    assert isinstance(inward, Working)
    assert isinstance(outward, Working)
    assert inward.value == pytest.approx(151.3, abs=0.05)
    assert outward.value == pytest.approx(335.0 - 120.0)


def test_own_speeds_and_pauses_count() -> None:
    slow = {**ROUTE[0], "speed_in": "0.6 m/s", "pause_in": "20 s", "pause_out": "40 s"}
    scene = scene_with(routed(slow))

    inward, outward = route_time(scene, "in"), route_time(scene, "out")

    assert isinstance(inward, Working)
    assert isinstance(outward, Working)
    assert inward.value == pytest.approx(100 + 20)
    assert outward.value == pytest.approx(75 + 40)


def test_a_way_out_that_nobody_described_is_missing() -> None:
    half = {key: value for key, value in ROUTE[0].items() if key != "coming_out"}

    assert route_time(scene_with(), "in") == ("space.valve-chamber.route",)
    assert route_time(scene_with(routed(ROUTE[0], half)), "out") == (
        "space.valve-chamber.route.2.coming_out",
    )


def test_nobody_is_raised_without_a_rig() -> None:
    scene = scene_with(routed(ROUTE[2]), lambda data: way(data, number=VALVE_CHAMBER).pop("rig"))

    assert route_time(scene, "out") == ("space.valve-chamber.rescue.primary.rig",)


def test_a_rescue_that_ends_when_air_comes_has_no_time_out() -> None:
    at_once = both(
        step_of("fallback", VALVE_CHAMBER, "reach", reaches="out"),
        step_of("fallback", VALVE_CHAMBER, "lift-out", reaches=None),
    )

    assert worst(asked("response/exit-time-copied", at_once)) is Verdict.UNKNOWN


# ---- outside teams --------------------------------------------------------------------------


def journey(**values: Any) -> Working | tuple[str, ...]:
    scene = scene_with(off_site(**values))
    return off_site_time(next(scene.ways()))


def test_a_team_12_km_away_needs_almost_19_minutes() -> None:
    """Worked example W24, with the tool's 64 s for the call."""
    total = journey(driven=None, road_distance="12 km", turn_out="80 s", walk_in="3 min")

    assert isinstance(total, Working)
    assert total.value / 60 == pytest.approx(18.72, abs=0.01)
    assert work_out(
        total.formula, {one.symbol: one.value for one in total.inputs}
    ) == pytest.approx(total.value)


def test_a_short_road_prints_its_own_formula() -> None:
    total = journey(driven=None, road_distance="300 m")

    assert isinstance(total, Working)
    assert work_out(
        total.formula, {one.symbol: one.value for one in total.inputs}
    ) == pytest.approx(total.value)


@pytest.mark.parametrize(
    ("values", "keys"),
    [
        ({"driven": None}, ("service.weir.driven",)),
        ({"driven": None, "road_distance": "20 km"}, ("service.weir.driven",)),
        ({"driven_on": None}, ("service.weir.driven_on",)),
        ({"driven_on": date(2026, 11, 28)}, ("service.weir.driven_on",)),
        ({"walk_in": None, "turn_out": None}, ("service.weir.turn_out", "service.weir.walk_in")),
    ],
)
def test_what_the_journey_lacks_is_named(values: dict[str, Any], keys: tuple[str, ...]) -> None:
    assert journey(**values) == keys


def test_a_team_that_nobody_named_is_missing() -> None:
    nobody = both(off_site(), lambda data: way(data, number=VALVE_CHAMBER).pop("service"))

    assert worst(asked("response/off-site-travel-not-known", nobody)) is Verdict.UNKNOWN


# ---- calling --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("contact", "verdict"),
    [
        ({"call_by": "runner", "signal_tested_on": None}, Verdict.MEETS),
        ({"call_by": "fixed-line", "signal_tested_on": None}, Verdict.MEETS),
        ({"call_by": "phone"}, Verdict.MEETS),
        ({"call_by": None}, Verdict.UNKNOWN),
        ({"signal_tested_on": date(2026, 11, 28)}, Verdict.FAILS),
    ],
)
def test_radio_and_telephone_are_tried_where_they_are_needed(
    contact: dict[str, Any], verdict: Verdict
) -> None:
    findings = asked("response/radio-not-tested", in_space(WET_WELL, "contact", **contact))

    assert worst(findings) is verdict


# ---- direction ------------------------------------------------------------------------------

MINUTES = (0.5, 1, 1.5, 2, 3, 5, 15)
GROWING: dict[str, tuple[str, list[Break]]] = {
    "slower rigging": (
        "response/team-covers-too-much",
        [cover(rig=f"{one} min") for one in MINUTES],
    ),
    "longer way between": (
        "response/team-covers-too-much",
        [
            cover(way=[{"what": "yard", "length": f"{one * 60} m", "going_in": "walk"}])
            for one in MINUTES
        ],
    ),
    "later out": (
        "response/work-beyond-shift",
        [in_space(WET_WELL, "task", out_by=f"{hour}:15") for hour in range(11, 20)],
    ),
    "earlier in": (
        "response/work-beyond-shift",
        [in_space(WET_WELL, "task", enter_from=f"{hour:02}:00") for hour in range(10, 3, -1)],
    ),
    "earlier home": (
        "response/work-beyond-shift",
        [person("ines", shift_ends=f"{hour:02}:00") for hour in range(18, 8, -1)],
    ),
    "longer watch": (
        "response/no-relief",
        [in_space(WET_WELL, "task", out_by=f"{hour}:00") for hour in range(10, 20)],
    ),
    "longer drive": (
        "response/off-site-travel-not-known",
        [off_site(driven=f"{one} min") for one in MINUTES],
    ),
    "longer road": (
        "response/off-site-travel-not-known",
        # Up to 8 miles; beyond, the formula has no answer.
        [off_site(driven=None, road_distance=f"{one} km") for one in (0.01, *MINUTES[:-1])],
    ),
    "longer way out": (
        "response/exit-time-copied",
        [both(GUESSED, routed({**WAY_OUT[0], "length": f"{one * 10} m"})) for one in MINUTES],
    ),
    "older test": (
        "response/radio-not-tested",
        [
            in_space(WET_WELL, "contact", signal_tested_on=date(2026, 11, day))
            for day in range(24, 1, -3)
        ],
    ),
}


@pytest.mark.parametrize("name", GROWING)
def test_worse_never_helps(name: str) -> None:
    rule, changes = GROWING[name]

    verdicts = [WORST_FIRST.index(worst(asked(rule, one))) for one in changes]

    assert verdicts == sorted(verdicts, reverse=True)
    assert len(set(verdicts)) > 1
