"""The tank entered through a side manway: its rescue in sets is ready, and what makes it not."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from broken_sites import Break, entry, found, plan_with, space, way, worst

from planbuilder.findings import Verdict
from planbuilder.plan import Plan

TANK, SHORT = "storage_tank", "storage_tank_short_air"
WAYS = ("primary", "fallback")
RUNS_OUT, IDEAL = "response/air-runs-out", "response/ideal-gas-overstates"


def blocked_by(plan: Plan) -> set[str]:
    """The rules that keep a plan from being ready."""
    return {one.rule.id for one in plan.findings if one.blocks}


def without(*people: str) -> Break:
    """Some of the crew are not there."""

    def change(data: dict[str, Any]) -> None:
        for name in WAYS:
            crew = way(data, name)["crew"]
            way(data, name)["crew"] = [one for one in crew if one["person"] not in people]

    return change


def certificate(person: str, kind: str, **days: date) -> Break:
    """Changes the dates of one certificate."""

    def change(data: dict[str, Any]) -> None:
        held = entry(data, "person", person)["certificate"]
        next(one for one in held if one["kind"] == kind).update(days)

    return change


def slower(step: str, usual: str, one_in_ten: str) -> Break:
    """One step of the primary method takes longer, in the plan and in all its drills."""

    def change(data: dict[str, Any]) -> None:
        steps = way(data)["step"]
        next(one for one in steps if one["id"] == step).update(usual=usual, one_in_ten=one_in_ten)
        for drill in data["drill"]:
            drill.pop("took")
            drill["step"] = [one for one in drill["step"] if one["id"] != step]

    return change


def test_the_plan_is_ready_with_nothing_to_look_at() -> None:
    plan = plan_with(sample=TANK)

    assert plan.status == "READY FOR REVIEW"
    assert [one for one in plan.findings if one.verdict is not Verdict.MEETS] == []


def test_air_comes_inside_the_tank_within_four_minutes_and_the_way_out_after_it() -> None:
    for times in plan_with(sample=TANK).spaces[0].timelines:
        air, out = times.clock("air"), times.clock("out")
        assert air is not None
        assert out is not None
        assert air.slow_s < 240 < out.slow_s


def test_the_variant_differs_by_its_cylinders_alone() -> None:
    def larger(data: dict[str, Any]) -> None:
        entry(data, "equipment", "set")["air"]["water_volume"] = "9 L"

    def smaller(data: dict[str, Any]) -> None:
        entry(data, "equipment", "set")["air"]["water_volume"] = "6.8 L"

    whole, short = plan_with(sample=TANK).site, plan_with(sample=SHORT).site

    assert whole == plan_with(larger, sample=SHORT).site
    assert short == plan_with(smaller, sample=TANK).site


def test_the_variant_runs_out_of_air_and_nothing_else_blocks_it() -> None:
    plan = plan_with(sample=SHORT)

    assert plan.status == "NOT READY"
    assert blocked_by(plan) == {RUNS_OUT}


def test_the_usual_sum_would_have_let_the_variant_pass() -> None:
    """6.8 L from 4350 psi (299.9 bar) down to 1450 psi (100.0 bar): 1360 L, by hand."""
    ideal = found(plan_with(sample=SHORT), IDEAL)

    assert [one.about for one in ideal] == list(WAYS)
    for one in ideal:
        assert one.verdict is Verdict.FAILS
        assert "say 1360 L of usable air, and that it is enough" in one.outcome.because


@pytest.mark.parametrize(
    ("people", "rule"),
    [
        (("petra",), "response/too-few-people"),
        (("ines",), "response/too-few-people"),
        (("hesper",), "response/too-few-people"),
        (("dagny", "kester"), "plan/role-not-filled"),
        (("mirela",), "plan/role-not-filled"),
    ],
)
def test_a_smaller_crew_is_not_enough(people: tuple[str, ...], rule: str) -> None:
    assert rule in blocked_by(plan_with(without(*people), sample=TANK))


@pytest.mark.parametrize(
    ("person", "kind", "days", "rule"),
    [
        ("dagny", "rescuer", {"expires": date(2026, 12, 2)}, "response/not-trained-for-role"),
        ("petra", "fit-test", {"issued": date(2025, 12, 2)}, "response/fit-test-missing"),
        ("rufus", "medical", {"expires": date(2026, 12, 2)}, "response/fit-test-missing"),
        ("ines", "cpr", {"expires": date(2026, 12, 2)}, "response/not-trained-for-role"),
        ("sunniva", "entrant", {"expires": date(2026, 12, 2)}, "response/not-trained-for-role"),
    ],
)
def test_a_record_that_runs_out_on_the_last_day_of_work_blocks(
    person: str, kind: str, days: dict[str, date], rule: str
) -> None:
    """Work ends on 3 December 2026; a fit test of the day before that, a year ago, is too old."""
    assert rule in blocked_by(plan_with(certificate(person, kind, **days), sample=TANK))


@pytest.mark.parametrize("step", ["drag", "pass-out"])
def test_a_slower_way_out_uses_up_the_air(step: str) -> None:
    plan = plan_with(slower(step, "5 min", "8 min"), sample=TANK)

    assert plan.status == "NOT READY"
    assert blocked_by(plan) == {RUNS_OUT}


def test_a_drill_that_took_longer_to_get_out_withdraws_the_time_and_costs_air() -> None:
    def change(data: dict[str, Any]) -> None:
        for drill in data["drill"]:
            next(one for one in drill["step"] if one["id"] == "pass-out")["took"] = "6 min"

    blocks = blocked_by(plan_with(change, sample=TANK))

    assert {"response/drills-contradict-plan", RUNS_OUT} <= blocks


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (
            lambda data: way(data).pop("no_retrieval_decided_by"),
            "plan/no-retrieval-reason",
        ),
        (
            lambda data: way(data).update(posture="available-on-site"),
            "response/posture-too-slow",
        ),
        (
            lambda data: space(data)["ventilation"].update(before_entry="40 min"),
            "response/purge-too-short",
        ),
        (
            lambda data: entry(data, "equipment", "set").update(quantity=3),
            "response/too-few-sets",
        ),
    ],
    ids=["nobody decided", "not at the manway", "less ventilation", "a set less"],
)
def test_what_the_plan_leans_on_is_needed(
    change: Callable[[dict[str, Any]], None], rule: str
) -> None:
    assert rule in blocked_by(plan_with(change, sample=TANK))


def test_a_mask_that_takes_two_minutes_is_too_late() -> None:
    plan = plan_with(slower("mask", "2 min", "3 min"), sample=TANK)

    assert worst(found(plan, "response/air-too-late")) is not Verdict.MEETS


@pytest.mark.parametrize("step", ["enter", "reach", "give-air", "pack", "drag", "pass-out"])
def test_a_step_inside_that_does_not_say_its_phase_on_air_is_asked_for(step: str) -> None:
    """Left out it would breathe nothing, and shorten what the set has to last."""

    def silent(data: dict[str, Any]) -> None:
        next(one for one in way(data)["step"] if one["id"] == step).pop("on_air")

    plan = plan_with(silent, sample=TANK)
    (asked,) = (one for one in found(plan, RUNS_OUT) if one.about.startswith("primary"))

    assert asked.verdict is Verdict.UNKNOWN
    assert f"space.tank-3.rescue.primary.step.{step}.on_air" in asked.keys
    assert plan.status == "NOT READY"


def test_a_way_out_by_stretcher_names_the_stretcher() -> None:
    def unnamed(data: dict[str, Any]) -> None:
        del way(data)["stretcher"]

    plan = plan_with(unnamed, sample=TANK)

    assert "clearance/packed-casualty-too-big" in blocked_by(plan)
    assert plan_with(sample=TANK).status == "READY FOR REVIEW"


@pytest.mark.parametrize("key", ["clear_outside", "clear_inside", "neck", "from_side"])
def test_what_the_stretcher_needs_beside_the_manway_is_asked_for(key: str) -> None:
    plan = plan_with(lambda data: space(data)["opening"].pop(key), sample=TANK)

    assert plan.status == "NOT READY"
