"""Drills: what they contradict, prove and leave open."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest
from broken_sites import ON, entry, found, plan_with, way

from planbuilder.findings import Verdict

CONTRADICT = "response/drills-contradict-plan"
FEW = "response/too-few-drills"
EASIER = "response/drill-easier-than-plan"
CREW = "response/drill-crew-changed"
STALE = "plan/drill-stale"
PROVEN = "response/times-not-drilled"


def of(plan, rule, about, place="wet-well"):
    return next(one for one in found(plan, rule) if one.space == place and one.about == about)


def slow(*seconds):
    """The last wet-well drills took so long for laying down."""

    def change(data):
        drills = [one for one in data["drill"] if one["id"].startswith("ww-2026")]
        for drill, took in zip(drills[-len(seconds) :], seconds, strict=True):
            next(one for one in drill["step"] if one["id"] == "lay-down")["took"] = f"{took} s"

    return change


def clock(plan, name="air"):
    return plan.spaces[0].timelines[0].clock(name)


def test_drills_that_agree_with_the_plan_leave_it_alone():
    one = of(plan_with(), CONTRADICT, "primary, lay-down")

    assert one.verdict is Verdict.MEETS
    assert one.outcome.because.startswith("planned 0:25; last 3 of 3 drills: 0:27, 0:25, 0:23")


@pytest.mark.parametrize("seconds", [(26, 26, 26), (33, 33, 33), (24, 24, 60)])
def test_slower_drills_withdraw_the_time_and_the_clock_takes_what_they_allow(seconds):
    before, after = plan_with(), plan_with(slow(*seconds))
    one = of(after, CONTRADICT, "primary, lay-down")

    assert one.verdict is Verdict.FAILS
    assert one.blocks
    assert "the planned time is withdrawn" in one.outcome.because
    assert "by the drills alone nine in ten keep to" in one.outcome.because
    assert one.settle_by.startswith("Plan 1:")
    assert clock(after).slow_s > clock(before).slow_s


def test_a_drill_of_long_ago_withdraws_a_time_as_well():
    """Age takes away proof, never a bad experience."""

    def age(data):
        slow(33, 33, 33)(data)
        for one in data["drill"]:
            one["on"] = one["on"].replace(year=one["on"].year - 6)

    assert of(plan_with(age), CONTRADICT, "primary, lay-down").verdict is Verdict.FAILS


def test_a_drill_still_to_come_says_nothing():
    def later(data):
        slow(60, 60, 60)(data)
        for one in data["drill"]:
            one["on"] = date(2026, 12, 24)

    assert not [one for one in found(plan_with(later), CONTRADICT) if one.space == "wet-well"]


def test_a_whole_rescue_is_held_against_the_clock_it_reached():
    def change(data):
        for one in data["drill"]:
            if one["id"].startswith("ww-2026"):
                one["took"] = "4 min"

    assert of(plan_with(), CONTRADICT, "primary, out").verdict is Verdict.MEETS
    one = of(plan_with(change), CONTRADICT, "primary, out")
    assert one.verdict is Verdict.FAILS
    assert "planned 3:01" in one.outcome.because  # 10 + 105.56 + 25 + 40 s, by hand


def test_a_drill_that_was_broken_off_took_longer_than_it_says():
    def change(data):
        for one in data["drill"]:
            if one["id"].startswith("ww-2026"):
                one["passed"] = False
                one["took"] = "20 s"

    one = of(plan_with(change), CONTRADICT, "primary, out")
    assert "more than 0:20" in one.outcome.because
    assert "1.00 times the plan" in one.outcome.because


def test_easy_conditions_count_for_more_where_somebody_says_so():
    def easy(data):
        for one in data["drill"]:
            one["real_conditions"] = False

    def factor(data):
        easy(data)
        day = tomllib.loads("d=2026-11-02")["d"]
        data["override"] = [
            {"what": "drill-realism", "value": "1.4", "reason": "props", "by": "O. Vane", "on": day}
        ]

    assert of(plan_with(easy), CONTRADICT, "primary, lay-down").verdict is Verdict.MEETS
    assert of(plan_with(factor), CONTRADICT, "primary, lay-down").verdict is Verdict.FAILS


@pytest.mark.parametrize("key", ["took", "reached"])
def test_a_drill_without_its_time_or_its_end_is_not_timed(key):
    rule = "response/drill-not-timed"
    one = of(plan_with(lambda data: entry(data, "drill", "ww-2026-06").pop(key)), rule, "primary")

    assert of(plan_with(), rule, "primary").verdict is Verdict.MEETS
    assert one.verdict is Verdict.UNKNOWN
    assert one.outcome.because == "no time, or not until what: ww-2026-06"


def test_fewer_than_three_timed_drills_warn_with_their_count():
    def drop(data):
        entry(data, "drill", "ww-2026-06")["step"] = []

    assert of(plan_with(), FEW, "primary").verdict is Verdict.MEETS
    one = of(plan_with(drop), FEW, "primary")
    assert one.verdict is Verdict.FAILS
    assert not one.blocks
    assert one.outcome.because == "timed in fewer than 3 drills: alarm (2), lay-down (2)"


def test_where_a_drill_was_held_must_be_known():
    def drop(data):
        entry(data, "drill", "ww-2026-10").pop("held_in")

    one = of(plan_with(drop), EASIER, "primary, ww-2026-10")
    assert one.verdict is Verdict.UNKNOWN
    assert of(plan_with(), EASIER, "primary, ww-2026-10").verdict is Verdict.MEETS


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ({"opening": "30 in", "depth": "21 ft"}, "easier: a wider opening"),
        ({"opening": "24 in", "depth": "20 ft"}, "easier: less depth"),
        ({"held_in": "valve-chamber"}, "easier: a wider opening, less depth"),
        (
            {"opening": "22 in", "depth": "30 ft", "from_side": False},
            "no easier than this space",
        ),
    ],
)
def test_an_easier_place_is_named(place, words):
    def change(data):
        drill = entry(data, "drill", "ww-2026-10")
        drill.pop("held_in")
        drill.update(place)

    one = of(plan_with(change), EASIER, "primary, ww-2026-10")
    assert one.outcome.because == words
    assert one.verdict is (Verdict.MEETS if words.startswith("no") else Verdict.FAILS)


def test_practice_in_an_easier_place_only_is_no_practice():
    def change(data):
        for one in data["drill"]:
            if "wet-well" in one["space"]:
                one.pop("held_in")
                one.update(opening="1 m", depth="2 m")

    one = next(each for each in found(plan_with(change), STALE) if each.space == "wet-well")
    assert one.verdict is Verdict.FAILS
    assert one.outcome.because == "practised only where it is easier than here"


def test_an_entry_in_breathing_sets_is_not_drilled_without_them():
    def change(data):
        method = way(data)
        method["breathing_set"] = "set"
        drill = entry(data, "drill", "ww-2026-10")
        drill.pop("held_in")
        drill.update(opening="24 in", depth="21 ft", from_side=False)

    one = of(plan_with(change), EASIER, "primary, ww-2026-10")
    assert one.outcome.because == "easier: no breathing sets"


def test_who_never_drilled_is_named():
    def change(data):
        for one in data["drill"]:
            one["people"] = [person for person in one["people"] if person != "ines"]

    assert of(plan_with(), CREW, "primary").verdict is Verdict.MEETS
    one = of(plan_with(change), CREW, "primary")
    assert one.verdict is Verdict.FAILS
    assert one.outcome.because == "never drilled this: Ines Holloway"


def test_a_step_that_claims_a_drill_without_a_record_is_not_proven():
    def change(data):
        data["drill"] = [one for one in data["drill"] if one["id"] != "ww-2026-10"]

    assert of(plan_with(), PROVEN, "primary").verdict is Verdict.MEETS
    assert of(plan_with(change), PROVEN, "primary").verdict is Verdict.FAILS


@pytest.mark.parametrize("years", [1, 2, 5])
def test_older_drills_never_make_anything_better(years):
    def age(data):
        for one in data["drill"]:
            one["on"] = one["on"].replace(year=one["on"].year - years)
            one["space"] = list(one["space"])

    order = (Verdict.FAILS, Verdict.UNKNOWN, Verdict.MARGINAL, Verdict.MEETS)
    before = {(one.rule.id, one.space, one.about): one for one in plan_with(on=ON).findings}
    after = {(one.rule.id, one.space, one.about): one for one in plan_with(age, on=ON).findings}

    assert set(before) <= set(after)
    for key, one in before.items():
        assert order.index(after[key].verdict) <= order.index(one.verdict), key
