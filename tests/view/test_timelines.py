"""The timeline page and its picture."""

from __future__ import annotations

import re

import pytest
from broken_sites import plan_with, space, way

from planbuilder.sketches.bars import bars
from planbuilder.view.chart import NAMES_MM, RIGHT_MM, WIDTH_MM
from planbuilder.view.report import units_of
from planbuilder.view.timelines import timeline_view


def view(plan, number: int = 0, method: int = 0):
    found = plan.spaces[number]
    return timeline_view(found, found.timelines[method], units_of(plan))


def test_bars_start_when_what_they_wait_for_is_over():
    """Recognise 30 s, alarm 10 s, raise 6.7056 m at 3.81 m/min, 105.6 s: by hand."""
    plan = plan_with()
    picture = bars(plan.spaces[0].timelines[0], 240)
    assert picture is not None
    rows = {one.name: one for one in picture.bars}

    assert (rows["recognise"].start_s, rows["recognise"].usual_end_s) == (0, 30)
    assert (rows["alarm"].start_s, rows["alarm"].usual_end_s) == (30, 40)
    assert rows["alarm"].slow_end_s == 45
    assert rows["raise"].start_s == 40
    assert rows["raise"].usual_end_s == pytest.approx(40 + 105.56, abs=0.01)
    assert not rows["ambulance"].decides
    assert rows["raise"].decides


def test_the_picture_is_drawn_in_one_scale():
    chart = view(plan_with()).charts[0]
    rows = {one.name: one for one in chart.rows}
    per_second = (WIDTH_MM - NAMES_MM - RIGHT_MM) / (1.6 * 240)

    assert float(rows["alarm"].x) == pytest.approx(NAMES_MM + 30 * per_second, abs=0.01)
    assert float(rows["alarm"].width) == pytest.approx(10 * per_second, abs=0.01)
    assert float(chart.limit_x) == pytest.approx(NAMES_MM + 240 * per_second, abs=0.01)
    assert chart.limit_text == "limit 4:00"


def test_what_runs_off_the_paper_says_when_it_ends():
    chart = view(plan_with()).charts[0]
    beyond = {one.name: one.beyond for one in (*chart.rows, *chart.clocks)}

    assert beyond["ambulance"] == "> 16:10"  # usual ends: 0:30 + 0:10 + 1:30 + 14:00
    assert beyond["hand-over"] == "> 17:10"
    assert beyond["HANDED OVER"] == "> 18:00"  # the ordinary day of the table above
    assert not beyond["raise"]
    for one in (*chart.rows, *chart.clocks):
        assert float(one.tail_x) + float(one.tail_width) <= WIDTH_MM - RIGHT_MM + 0.01


def test_a_method_without_times_has_no_picture():
    plan = plan_with(lambda data: way(data)["step"][1].pop("usual"))

    assert view(plan).charts == ()
    assert view(plan).missing.startswith("No clock can be given")


def test_the_step_that_holds_up_the_air_has_no_slack():
    """Against the hand-over, 13 minutes later, it would seem to have some."""
    rows = {one.id: one for one in view(plan_with()).steps}

    assert rows["raise"].slack == "none"
    assert rows["lay-down"].slack == "none"
    assert rows["raise"].decides == "100%, air"
    assert rows["ambulance"].decides == "100%, handed over"


def test_the_owner_of_the_limit_is_named_or_said_to_be_missing():
    assert view(plan_with()).clocks[0].owner == "chosen by Osric Vane on 2 Nov 2026"

    nobody = plan_with(lambda data: space(data)["rescue"].pop("limit_accepted_by"))
    assert view(nobody).clocks[0].owner == "chosen by nobody yet"


def test_a_time_without_a_drill_is_met_on_paper_only():
    def guess(data):
        for step in way(data)["step"]:
            step.pop("drilled_on", None)
            step["source"] = "estimate" if "usual" in step else step.get("source", "estimate")

    assert view(plan_with()).clocks[0].judged == "○ meets"
    assert view(plan_with(guess)).clocks[0].judged == "○ meets on paper, not proven"


def test_the_page_counts_what_was_drilled():
    assert view(plan_with()).evidence == (
        "4 of 6 steps timed in drills, 2 estimated or taken from print; 2 computed."
    )


def test_the_page_says_how_much_the_common_cause_matters():
    sampled = view(plan_with()).sampled

    assert re.search(r"seed 1, common cause 0\.3\.", sampled)
    assert re.search(r"With no common cause allow \d:\d0, with 0\.6 allow \d:\d0\.", sampled)


def test_people_stand_by_their_steps_and_waits_are_said():
    def both(data):
        for one in way(data)["step"]:
            if one["id"] in ("call", "raise"):
                one["by"] = ["ines"]

    rows = {one.id: one for one in view(plan_with(both)).steps}

    assert rows["raise"].who == "Ines Holloway"
    assert rows["raise"].after == "alarm; same people as call"


def test_times_of_drills_are_said_as_a_stopwatch_shows_them(sample_plan):
    rows = {one.id: one for one in view(sample_plan("storage_tank")).steps}

    assert rows["drag"].evidence == "drill 28 Oct 2026; took 1:12, 1:10, 1:07"
