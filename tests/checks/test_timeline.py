"""The clocks of a rescue: usual steps, spread, people in two places, where minutes are."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from broken_sites import SAMPLES, found, plan_with, space, way

from planbuilder.checks.timing.timeline import SEED, timeline
from planbuilder.errors import FileProblemsError
from planbuilder.findings import Mark, Verdict
from planbuilder.response.percentiles import RUNS
from planbuilder.site.load import load_site
from planbuilder.site.usual import usual_steps, with_usual_steps

AIR = "response/air-too-late"
DRILLED = "response/times-not-drilled"
SAMPLE = (SAMPLES / "pump_station.toml").read_text(encoding="utf-8")


def usual_only(data):
    way(data)["steps_from"] = "usual"
    way(data)["step"] = []


def primary(plan):
    return plan.spaces[0].timelines[0]


def air(plan):
    return next(one for one in found(plan, AIR) if one.space == "wet-well")


def test_a_method_may_take_the_usual_steps_and_every_time_says_that_nobody_measured_it():
    plan = plan_with(usual_only)
    times = primary(plan)

    assert [one.step.id for one in times.steps] == [one["id"] for one in usual_steps()["non-entry"]]
    for one in times.steps:
        if one.step.computed is None:
            assert one.usual.source.mark is Mark.ESTIMATED
            assert "estimate, not measured, grade D" in one.usual.source.note
    assert {one.name for one in times.clocks} == {"air", "out", "handed-over"}
    assert found(plan, DRILLED)[0].verdict is Verdict.FAILS


def test_a_step_of_the_site_takes_the_place_of_the_usual_one():
    def change(data):
        usual_only(data)
        own = {"id": "alarm", "what": "Horn", "usual": "11 s", "source": "drill"}
        way(data)["step"] = [own | {"after": ["recognise"]}]

    times = primary(plan_with(change))
    alarm = times.step("alarm")

    assert alarm.step.what == "Horn"
    assert alarm.usual.value == 11
    assert alarm.step.one_in_ten is None  # the tool's own spread does not stay with another time
    assert alarm.usual.source.mark is Mark.SITE
    assert times.step("lay-down").usual.source.mark is Mark.ESTIMATED


def test_a_step_may_change_its_links_only_and_keep_the_usual_time():
    def change(data):
        usual_only(data)
        own = {"id": "call", "what": "Second person calls", "after": ["recognise"]}
        way(data)["step"] = [own]

    call = primary(plan_with(change)).step("call")

    assert call.step.after == ["recognise"]
    assert call.usual.value == 120
    assert call.usual.source.mark is Mark.ESTIMATED


def test_the_way_out_of_a_space_is_never_assumed():
    def change(data):
        usual_only(data)
        way(data)["method"] = "self"

    plan = plan_with(change)

    assert air(plan).verdict is Verdict.UNKNOWN
    assert "leave" in air(plan).outcome.because


@pytest.mark.parametrize("kind", sorted(usual_steps()))
def test_usual_steps_hang_together(kind):
    rows = usual_steps()[kind]
    ids = [one["id"] for one in rows]

    assert len(set(ids)) == len(ids)
    assert all(set(one.get("after", [])) <= set(ids) for one in rows)
    assert rows[0]["computed"] == "detection"
    assert all(one.get("after") for one in rows[1:])


def test_without_steps_the_finding_names_the_usual_ones():
    plan = plan_with(lambda data: way(data).update(step=[]))

    assert air(plan).verdict is Verdict.UNKNOWN
    assert 'steps_from = "usual"' in air(plan).settle_by


def test_raw_data_that_is_no_site_is_left_for_validation():
    for data in ({}, {"space": 3}, {"space": [3]}, {"space": [{"rescue": {"primary": 1}}]}):
        assert with_usual_steps(data) == data


def load_changed(tmp_path: Path, old: str, new: str):
    assert old in SAMPLE
    path = tmp_path / "site.toml"
    path.write_text(SAMPLE.replace(old, new, 1), encoding="utf-8")
    return load_site(path)


def test_dangling_link_to_a_step_that_the_usual_ones_do_not_have(tmp_path):
    old = '[space.rescue.primary]\nmethod = "non-entry"'
    with pytest.raises(FileProblemsError) as error:
        load_changed(tmp_path, old, f'{old}\nsteps_from = "usual"\nfree = 1')
    assert "free" in str(error.value)
    sound = load_changed(tmp_path, old, f'{old}\nsteps_from = "usual"')
    assert len(sound.site.space[0].rescue.primary.step) == 8


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('best = "12 s"', "must not be longer than usual (10 s)"),
        ('best = "5 s"\nworst = "7 s"', "must not be shorter than usual (10 s)"),
        ('worst = "40 s"', "needs best as well"),
    ],
)
def test_three_points_out_of_order_are_refused_with_their_line(tmp_path, line, words):
    with pytest.raises(FileProblemsError) as error:
        load_changed(tmp_path, 'usual = "10 s"\none_in_ten = "20 s"', f'usual = "10 s"\n{line}')
    assert words in str(error.value)


def test_two_kinds_of_spread_are_refused(tmp_path):
    old = 'usual = "10 s"\none_in_ten = "20 s"'
    with pytest.raises(FileProblemsError, match="must be left out where one_in_ten is given"):
        load_changed(tmp_path, old, f'{old}\nbest = "5 s"\nworst = "40 s"')


def test_three_points_lie_between_best_and_worst():
    def change(data):
        step = next(one for one in way(data)["step"] if one["id"] == "lay-down")
        del step["one_in_ten"]
        step.update(best="25 s", worst="25 s", usual="25 s")

    fixed = primary(plan_with(change)).clock("air")

    def wider(data):
        change(data)
        next(one for one in way(data)["step"] if one["id"] == "lay-down")["worst"] = "4 min"

    wide = primary(plan_with(wider)).clock("air")
    assert fixed.usual_s < wide.usual_s < fixed.usual_s + 215
    assert wide.slow_s - wide.usual_s > fixed.slow_s - fixed.usual_s


def test_one_person_in_two_steps_makes_the_clock_later_and_the_wait_is_named():
    def both(data):
        for one in way(data)["step"]:
            if one["id"] in ("call", "raise"):
                one["by"] = ["ines"]

    apart, together = primary(plan_with()), primary(plan_with(both))

    assert not any(apart.waits.values())
    assert together.waits["raise"] == ("call",)
    assert together.clock("air").slow_s > apart.clock("air").slow_s + 60


def test_clock_names_its_seed_runs_and_common_cause():
    slow = air(plan_with()).outcome.inputs[0]

    assert f"{RUNS} lattice runs, seed {SEED}, common cause 0.3" in slow.source.note


def test_common_cause_is_a_default_that_a_named_person_may_change():
    def change(data):
        data["override"] = [
            {
                "what": "common-cause",
                "value": "0.6",
                "reason": "night work",
                "by": "Osric Vane",
                "on": tomllib.loads("d=2026-11-02")["d"],
            }
        ]

    plan, other = plan_with(), plan_with(change)

    assert primary(other).clock("air").slow_s > primary(plan).clock("air").slow_s


def test_between_ordinary_day_and_nine_in_ten_a_limit_is_marginal_and_beyond_it_fails():
    clock = primary(plan_with()).clock("air")
    middle_s = (clock.usual_s + clock.slow_s) / 2

    def limit(seconds):
        return lambda data: space(data)["rescue"].update(air_limit=f"{seconds:.0f} s")

    assert air(plan_with(limit(clock.slow_s + 2))).verdict is Verdict.MEETS
    marginal = air(plan_with(limit(middle_s)))
    assert marginal.verdict is Verdict.MARGINAL
    assert not marginal.blocks
    late = air(plan_with(limit(clock.usual_s - 2)))
    assert late.verdict is Verdict.FAILS
    assert late.blocks


def test_minutes_can_be_bought_where_spread_decides_the_clock():
    times = primary(plan_with())
    names = [one.step.id for one in times.where_minutes_are(times.clock("air"))]

    assert names[0] == "raise"
    assert "recognise" not in names  # a sensor's delay does not spread
    assert "call" not in names  # nobody waits for it before air


def test_a_timeline_is_worked_out_once_a_scene():
    way_up = next(plan_with().spaces[0].scene.ways())

    assert timeline(way_up) is timeline(way_up)
