"""What the rules of breathing air say: once each, with the keys to touch, to follow by hand."""

from __future__ import annotations

from typing import Any

import pytest
from broken_air import WORKED, on_line, supply, taken
from broken_sites import Break, found, plan_with, space, way
from printed_formula import work_out

from planbuilder.findings import Compared, Missing, Verdict
from planbuilder.plan import Plan
from planbuilder.site.file import UnitSystem
from planbuilder.view.cards import leader_card
from planbuilder.view.sheets import areas

TANK, SHORT = "storage_tank", "storage_tank_short_air"
RUNS_OUT, TURN_BACK = "response/air-runs-out", "response/turn-back-pressure"
WARMER = "response/cylinder-warmer-than-filled"


def unstepped(data: dict[str, Any]) -> None:
    """No step says that it is on air."""
    for name in ("primary", "fallback"):
        for step in way(data, name)["step"]:
            step.pop("on_air", None)


def asked(plan: Plan) -> list[tuple[str, str]]:
    """Rule and place of whatever is open."""
    return [(one.rule.id, one.about) for one in plan.findings if one.open]


# ---- usable air, with a pencil -----------------------------------------------------------------


@pytest.mark.parametrize("change", [supply(), on_line()], ids=["sets", "bank"])
def test_usable_air_follows_from_its_printed_formula(change: Break) -> None:
    limit = next(
        one.outcome.limit
        for one in found(plan_with(change), RUNS_OUT)
        if isinstance(one.outcome, Compared)
    )
    values = {one.symbol: one.value for one in limit.of}

    assert work_out(limit.source.note, values) == pytest.approx(limit.value, rel=1e-9)
    full = next(one for one in limit.of if one.symbol == "P_full")
    assert work_out(full.source.note, values) == pytest.approx(full.value, rel=1e-9)


def test_the_page_prints_what_usable_air_is_worked_out_from() -> None:
    """4350 psi of 77 degF at 36 degF: 299.9 bar at 298.15 K, full 265 bar at 275.37 K."""
    (plan_space,) = plan_with(sample=SHORT).spaces
    worked = [one for area in areas(plan_space, UnitSystem.US) for one in area.calculations]

    one = next(one for one in worked if one.answer.rule == RUNS_OUT)
    rows = [(row.symbol, row.value) for row in one.inputs]
    rows += [(row.label, row.text) for row in one.shared]  # explained once a space

    shown = dict(rows)
    assert len(shown) == len(rows)
    assert shown["V_w"] == "0.24 ft³ (6.8 L)"
    assert shown["P_fill"] == "4350 psi (300 bar)"
    assert shown["T_fill"] == "77.0 °F (25.0 °C, 298.15 K)"
    assert shown["T_use"] == "36.0 °F (2.2 °C, 275.37 K)"
    assert shown["P_full"].endswith("psi (265 bar)")
    assert shown["P_0"] == "14.7 psi (1.013 bar)"
    assert {"Z_fill", "Z_full", "Z_res", "Z_0"} <= shown.keys()
    assert all(len(shown[one]) == len("1.0000") for one in ("Z_fill", "Z_full", "Z_res", "Z_0"))


# ---- once each ---------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["coldest", "filled_at", "fill_pressure", "water_volume"])
def test_one_datum_that_is_missing_is_asked_for_once_a_way(key: str) -> None:
    plan = plan_with(supply(**{key: None}), sample=TANK)

    assert asked(plan) == [(RUNS_OUT, "primary"), (RUNS_OUT, "fallback")]
    assert plan.status == "NOT READY"


def test_air_that_does_not_last_gives_one_note_on_turning_back_a_way() -> None:
    notes = found(plan_with(sample=SHORT), TURN_BACK)

    assert [(one.about, one.verdict) for one in notes] == [
        ("primary", Verdict.FAILS),
        ("fallback", Verdict.FAILS),
    ]


# ---- keys to touch -----------------------------------------------------------------------------


def test_air_that_does_not_last_names_the_steps_on_air_and_no_key_that_is_not_there() -> None:
    plan = plan_with(sample=SHORT)

    for one in (*found(plan, RUNS_OUT), *found(plan, TURN_BACK)):
        assert any(key.endswith("step.give-air.usual") for key in one.keys)
        assert not any(".air.time_" in key for key in one.keys)


def test_a_stated_time_is_named_beside_the_steps() -> None:
    (one,) = found(plan_with(taken(**WORKED)), RUNS_OUT)

    assert any(key.endswith("air.time_out") for key in one.keys)


def test_where_no_time_is_stated_it_says_that_steps_may_carry_it() -> None:
    for one in found(plan_with(unstepped, sample=TANK), RUNS_OUT):
        assert one.verdict is Verdict.UNKNOWN
        assert [key.rpartition(".")[2] for key in one.keys] == ["time_in", "time_work", "time_out"]
        assert "on_air" in one.settle_by


def test_where_something_else_is_missing_it_says_nothing_of_steps() -> None:
    for one in found(plan_with(supply(coldest=None), sample=TANK), RUNS_OUT):
        assert "on_air" not in one.settle_by


def test_a_haul_on_air_without_a_time_asks_for_what_the_haul_lacks() -> None:
    """The step is computed: a time of its own would be refused beside that."""

    def change(data: dict[str, Any]) -> None:
        method = way(data)
        method["breathing_set"] = "set"
        method["method"] = "entry"
        method.setdefault("air", {}).update(time_in="1 min", time_work="1 min")
        step = next(one for one in method["step"] if one.get("computed") == "haul")
        step["on_air"] = "out"
        space(data)["shape"].pop("depth")

    asked_for = [
        one
        for one in found(plan_with(change), RUNS_OUT)
        if one.about == "primary" and isinstance(one.outcome, Missing)
    ]

    assert asked_for
    assert any(key.endswith("shape.depth") for key in asked_for[0].keys)
    assert not any(key.endswith(".usual") for key in asked_for[0].keys)


# ---- warmer than filled ------------------------------------------------------------------------


def usable_m3(plan: Plan) -> float:
    """The air that the primary method may use."""
    outcome = found(plan, RUNS_OUT)[0].outcome
    assert isinstance(outcome, Compared)
    return outcome.limit.value


def test_exchanged_temperatures_are_noticed() -> None:
    plan = plan_with(supply(filled_at="36 degF", coldest="77 degF"), sample=TANK)

    warnings = found(plan, WARMER)

    assert [one.about.partition(",")[0] for one in warnings] == ["primary", "fallback"]
    for one in warnings:
        assert one.verdict is Verdict.FAILS
        assert "exchanged" in one.settle_by


def test_no_more_air_is_counted_for_a_cylinder_that_warms() -> None:
    as_cold = plan_with(supply(filled_at="36 degF", coldest="36 degF"), sample=TANK)
    warmer = plan_with(supply(filled_at="36 degF", coldest="77 degF"), sample=TANK)

    assert usable_m3(warmer) == pytest.approx(usable_m3(as_cold), rel=1e-12)
    assert found(as_cold, WARMER)[0].verdict is Verdict.MEETS


def test_a_cylinder_that_warms_has_to_show_more_to_start_out_at() -> None:
    """A warm reading stands for less air, whichever way the temperature went."""

    def start_pa(filled_at: str, coldest: str) -> float:
        plan = plan_with(supply(filled_at=filled_at, coldest=coldest), sample=TANK)
        readings = [
            one for one in found(plan, TURN_BACK) if one.about.endswith("start the way out at")
        ]
        outcome = readings[0].outcome
        assert isinstance(outcome, Compared)
        return outcome.limit.value

    assert start_pa("36 degF", "77 degF") > start_pa("36 degF", "36 degF")


# ---- the leader's card -------------------------------------------------------------------------


def on_card(*changes: Break, sample: str = TANK) -> list[str]:
    """What the leader's card says of air, a line a way."""
    (plan_space,) = plan_with(*changes, sample=sample).spaces
    return [
        fact.text
        for one in leader_card(plan_space, UnitSystem.US).methods
        for fact in one.gear
        if fact.label == "Air"
    ]


def test_the_card_says_that_the_air_does_not_last() -> None:
    assert [one.partition(" for ")[0] for one in on_card(sample=SHORT)] == ["DOES NOT LAST"] * 2


def test_the_card_says_that_nobody_knows_whether_the_air_lasts() -> None:
    assert [one.partition(":")[0] for one in on_card(supply(coldest=None))] == [
        "NOT KNOWN whether it lasts"
    ] * 2


def test_the_card_says_nothing_more_where_the_air_lasts() -> None:
    assert on_card() == []
