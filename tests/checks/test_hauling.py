"""People on a rope: strokes, time with edges and rests, rope, over-pull, drag, measured edges."""

import math
from typing import Any

import pytest
from broken_haul import ROPES, both, nothing, put, rig
from broken_sites import Break, found, plan_with, way
from printed_formula import work_out

from planbuilder.checks.timing.timeline import timeline
from planbuilder.findings import Compared, Finding, Missing, Verdict
from planbuilder.plan import Plan

FOOT, INCH, G = 0.3048, 0.0254, 9.80665
WEIGHT = 95.5 * G  # 84 kg, clothes 3 kg wet through, harness 3.5 kg, hook 2 kg
ADVANTAGE = 1 + 0.92 + 0.92**2 + 0.92**3
RESET = both(
    put(*ROPES, reset_distance="12 ft"), rig("fallback", walkway="30 ft", anchor_to_edge="6 ft")
)
CONCRETE = {"material": "concrete", "turn": "90 deg"}


def fallback(plan: Plan, rule: str) -> Finding:
    """The finding of *rule* about the rope system of the wet well."""
    (one,) = [one for one in found(plan, rule) if one.about == "fallback"]
    return one


def result(plan: Plan, rule: str) -> float:
    outcome = fallback(plan, rule).outcome
    assert isinstance(outcome, Compared)
    return outcome.result.value


def hauled(change: Break) -> float:
    """How long the raise of the fallback takes."""
    return result(plan_with(change), "haul/raise-longer-than-limit")


def people(number: int) -> Break:
    """So many on the rope."""
    names = ("ines", "dagny", "kester", "mirela")[:number]
    crew = [{"person": one, "role": "haul"} for one in names]
    return lambda data: way(data, "fallback").update(crew=crew)


def depth() -> float:
    """The depth of the wet well as the plan has it."""
    outcome = fallback(plan_with(), "haul/line-too-short").outcome
    assert isinstance(outcome, Compared)
    return next(one.value for one in outcome.inputs if one.symbol == "z")


def lift() -> float:
    """Depth, coaming and the gap for swinging aside: as the raise without edges takes it."""
    return hauled(nothing) * 0.3 / 4


@pytest.mark.parametrize(
    "change",
    [
        nothing,
        RESET,
        both(RESET, rig("fallback", edges=[CONCRETE])),
        both(RESET, put(*ROPES, haul_rope_length="100 ft")),
        both(RESET, put(*ROPES, reeving="compound", parts=[2, 3], stage_distances=["16 ft"])),
        both(RESET, put(*ROPES, reeving="complex-5", parts=[5], pulleys_apart="9 ft")),
        rig("fallback", drag={"length": "8 ft", "slope": "5 deg", "on": "drag-sheet"}),
        rig(drag={"length": "8 ft", "slope": "5 deg", "on": "floor"}),
        both(people(1), put(*ROPES, line_speed="0.5 m/s")),
        rig(slack="12 in", absorber={"force": "4 kN", "travel": "4 in"}),
    ],
)
def test_printed_formulas_give_the_results(change: Break) -> None:
    plan = plan_with(change)
    outcomes = [one.outcome for one in plan.findings if isinstance(one.outcome, Compared)]
    steps = [step.working for one in plan.spaces[0].timelines for step in one.steps if step.working]

    for one in outcomes:
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)
        assert len(values) == len(one.inputs)
    for step in steps:
        values = {each.symbol: each.value for each in step.inputs}
        assert work_out(step.formula, values) == pytest.approx(step.value, rel=1e-9)


def test_second_stage_of_a_compound_closes_as_fast_as_the_first_multiplies() -> None:
    """By hand: (12 ft - 0.5 m), (8 ft - 0.5 m)/2, 60 ft/6."""
    change = both(
        RESET,
        put(*ROPES, reeving="compound", parts=[2, 3], stage_distances=["8 ft"]),
        rig("fallback", walkway="60 ft"),
    )

    assert result(plan_with(change), "haul/no-stroke") == pytest.approx((8 * FOOT - 0.5) / 2)


def test_moving_pulleys_of_the_complex_five_meet_twice_as_fast() -> None:
    change = both(
        RESET,
        put(*ROPES, reeving="complex-5", parts=[5], pulleys_apart="9 ft"),
        rig("fallback", walkway="60 ft"),
    )

    assert result(plan_with(change), "haul/no-stroke") == pytest.approx((9 * FOOT - 0.5) / 2)


Z_RIG: dict[str, Any] = {
    "reeving": "described",
    "parts": [],
    "sheave": [
        {"name": "moving", "on": "load", "efficiency": 0.9},
        {"name": "fixed", "on": "anchor top", "efficiency": 0.9},
    ],
    "rope": [{"name": "main", "path": ["moving", "fixed"], "ends_on": "load"}],
}


@pytest.mark.parametrize(
    "reeved",
    [
        {"reeving": "compound", "parts": [2, 3]},
        {"reeving": "compound", "parts": [2, 2, 2], "stage_distances": ["8 ft"]},
        {"reeving": "complex-5", "parts": [5]},
        Z_RIG,
    ],
)
def test_a_gap_that_nobody_measured_leaves_the_stroke_unknown(reeved: dict[str, Any]) -> None:
    plan = plan_with(both(RESET, put(*ROPES, **reeved)))

    assert fallback(plan, "haul/no-stroke").verdict is Verdict.UNKNOWN
    assert plan.status == "NOT READY"
    assert timeline(plan.spaces[0].timelines[1].way).missing


def test_a_described_system_names_its_own_gaps() -> None:
    change = both(RESET, put(*ROPES, **Z_RIG, gap=[{"distance": "10 ft", "closes": 2.0}]))

    assert result(plan_with(change), "haul/no-stroke") == pytest.approx((10 * FOOT - 0.5) / 2)


def test_an_edge_takes_time_and_a_metre_more_of_strokes() -> None:
    """By hand: rise of a stroke is 30 ft/4; a minute at the edge; resets of half a minute."""
    rise = min(12 * FOOT - 0.5, 30 * FOOT / 4)
    for edge_m, over_s, edges in ((0.0, 0.0, []), (1.0, 60.0, [CONCRETE])):
        strokes = math.ceil((lift() + edge_m) / rise)
        expected = lift() * 4 / 0.3 + (strokes - 1) * 30 + over_s

        assert hauled(both(RESET, rig("fallback", edges=edges))) == pytest.approx(expected)


def test_an_edge_that_was_timed_counts_as_timed() -> None:
    timed = rig("fallback", edges=[CONCRETE], edge_time="95 s")

    assert hauled(timed) == pytest.approx(hauled(nothing) + 95)


def test_edges_that_nobody_listed_leave_the_time_of_the_raise_unknown() -> None:
    plan = plan_with(rig("fallback", edges=None))

    assert any("edges" in one for one in plan.spaces[0].timelines[1].missing)


def test_one_who_hauls_alone_and_fast_rests_in_between() -> None:
    """In the mean nobody works above 75 W: the work of the raise over the time."""
    alone = both(people(1), put(*ROPES, line_speed="0.4 m/s"))
    work = WEIGHT * 1.25 / ADVANTAGE * 4 * lift()

    assert result(plan_with(alone), "haul/too-much-power") == pytest.approx(
        WEIGHT * 1.25 / ADVANTAGE * 0.4
    )
    assert hauled(alone) == pytest.approx(work / 75)


def test_hauling_faster_than_people_keep_up_gains_no_time() -> None:
    """Up to a minute of hauling counts as a burst."""
    times = [
        hauled(both(people(1), put(*ROPES, line_speed=f"{speed} m/s"))) for speed in (0.35, 0.4)
    ]

    assert times[0] == pytest.approx(times[1])


def test_nobody_named_to_haul_leaves_the_raise_without_a_time() -> None:
    plan = plan_with(people(0))

    assert any(one.endswith("crew") for one in plan.spaces[0].timelines[1].missing)
    assert plan.status == "NOT READY"


def test_a_tackle_needs_every_part_at_its_longest_and_a_tail_to_the_haulers() -> None:
    """By hand: four times (depth - 0.2 m + 10 ft - 6 in), 8 ft to the haulers, 1 m in hand."""
    expected = 4 * (depth() - 0.2 + 10 * FOOT - 6 * INCH) + 8 * FOOT + 1

    assert result(plan_with(), "haul/line-too-short") == pytest.approx(expected)


def test_a_gripped_main_line_is_single_and_its_tail_is_the_haul_rope() -> None:
    """A 4:1 of its own tail: three strands of 12 ft more, and 30 ft to walk."""
    single = depth() - 0.2 + 10 * FOOT - 6 * INCH + 6 * FOOT + 2 + 1
    apart = both(RESET, put(*ROPES, haul_rope_length="100 ft"))

    assert result(plan_with(apart), "haul/line-too-short") == pytest.approx(single)
    assert result(plan_with(RESET), "haul/line-too-short") == pytest.approx(
        single + 3 * 12 * FOOT + 30 * FOOT
    )
    assert result(plan_with(apart), "haul/haul-rope-too-short") == pytest.approx(
        4 * 12 * FOOT + 30 * FOOT + 1
    )


def test_each_stage_of_a_compound_takes_its_own_rope() -> None:
    compound = put(
        *ROPES,
        reeving="compound",
        parts=[2, 3],
        stage_distances=["16 ft"],
        haul_rope_length="99 ft",
    )

    assert result(plan_with(both(RESET, compound)), "haul/haul-rope-too-short") == pytest.approx(
        (2 * 12 + 3 * 16 + 30) * FOOT + 1
    )


@pytest.mark.parametrize("key", ["haul_run"])
def test_rope_to_the_haulers_is_asked_for(key: str) -> None:
    plan = plan_with(rig("fallback", **{key: None}))

    assert fallback(plan, "haul/line-too-short").verdict is Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("change", "weakest_n"),
    [
        (put(*ROPES, grab_slips_at="4 kN"), 4000),
        (put(*ROPES, pulley_rating="2.5 kN"), 2500 * 4 / 2),
        (put(*ROPES, line_breaking="2 kN"), 2000 * 0.67 * 4),
        (both(RESET, put(*ROPES, line_breaking="7 kN")), 7000 * 0.67),
        (put("support", "gantry", rated_load="6 kN"), 6000 / 1.25),
        (put("support", "gantry", rated_load="6 kN", arrest_load="8 kN"), 8000 / 1.25),
    ],
)
def test_the_weakest_known_part_limits_the_team(change: Break, weakest_n: float) -> None:
    one = fallback(plan_with(change), "haul/over-pull")

    assert isinstance(one.outcome, Compared)
    assert one.outcome.limit.value == pytest.approx(weakest_n)
    assert f"At most {math.floor(weakest_n / (2 * 225 * 4))} people" in one.settle_by


def test_as_many_people_as_told_do_not_over_pull() -> None:
    weak = put(*ROPES, grab_slips_at="4 kN")

    assert fallback(plan_with(weak, people(2)), "haul/over-pull").verdict is Verdict.MEETS
    assert fallback(plan_with(weak, people(3)), "haul/over-pull").verdict is Verdict.FAILS


def test_trade_rule_asks_for_ten_percent_a_sheave() -> None:
    """By hand: three sheaves, 4:1."""
    assert result(plan_with(), "haul/pull-by-trade-rule") == pytest.approx(WEIGHT * 1.25 * 1.3 / 4)


@pytest.mark.parametrize(
    ("on", "slope_deg", "friction"), [("floor", 10, 0.5), ("drag-sheet", 0, 0.25)]
)
def test_drag_is_pulled_by_the_team(on: str, slope_deg: float, friction: float) -> None:
    drag = {"length": "8 ft", "slope": f"{slope_deg} deg", "on": on}
    plan = plan_with(rig("fallback", drag=drag, edges=[CONCRETE]))
    slope = math.radians(slope_deg)
    share = friction * math.cos(slope) + math.sin(slope)

    one = fallback(plan, "haul/drag-too-heavy")

    assert isinstance(one.outcome, Compared)
    lip = math.exp(0.44 * math.pi / 2)
    assert one.outcome.result.value == pytest.approx(WEIGHT * 1.25 * share * lip)
    assert one.outcome.limit.value == pytest.approx(3 * 133 * ADVANTAGE)


def test_drag_takes_time_and_line() -> None:
    drag = rig("fallback", drag={"length": "3 m", "slope": "0 deg", "on": "floor"})

    assert hauled(drag) == pytest.approx(hauled(nothing) + 3 * 4 / 0.3)
    assert result(plan_with(drag), "haul/line-too-short") == pytest.approx(
        result(plan_with(), "haul/line-too-short") + 3 * 4
    )


@pytest.mark.parametrize("name", ["length", "slope", "on"])
def test_a_drag_half_stated_blocks(name: str) -> None:
    drag = {"length": "3 m", "slope": "0 deg", "on": "floor"}
    del drag[name]
    plan = plan_with(rig("fallback", drag=drag))

    assert fallback(plan, "haul/drag-too-heavy").verdict is Verdict.UNKNOWN
    assert plan.status == "NOT READY"


def test_a_winch_drags_up_to_its_working_load() -> None:
    plan = plan_with(rig(drag={"length": "3 m", "slope": "60 deg", "on": "floor"}))

    (one,) = [one for one in found(plan, "haul/drag-too-heavy") if one.about == "primary"]

    assert isinstance(one.outcome, Compared)
    assert one.outcome.limit.label == "rated load"


def test_a_floor_too_steep_to_drag_is_unknown() -> None:
    plan = plan_with(rig(drag={"length": "3 m", "slope": "70 deg", "on": "floor"}))

    (one,) = found(plan, "haul/drag-too-heavy")

    assert isinstance(one.outcome, Missing)
    assert "slopes at most" in one.outcome.because


MEASURED = {"material": "measured", "turn": "90 deg", "raised_by": "135 kg", "held_by": "34 kg"}


def edge_in(plan: Plan) -> float:
    outcome = fallback(plan, "haul/too-few-haulers").outcome
    assert isinstance(outcome, Compared)
    return next(one.value for one in outcome.inputs if one.symbol == "k_edge")


def test_an_edge_that_was_measured_counts_as_measured() -> None:
    """Delaney 2022 p. 88, concrete: 135 kg raise and 34 kg hold; the root of their ratio."""
    plan = plan_with(rig("fallback", edges=[MEASURED]))

    assert edge_in(plan) == pytest.approx(math.sqrt(135 / 34))


@pytest.mark.parametrize(
    "edge",
    [
        {**MEASURED, "held_by": "140 kg"},
        {**MEASURED, "turn": "0 deg"},
        {"material": "measured", "turn": "90 deg"},
    ],
)
def test_an_edge_called_measured_that_was_not_blocks(edge: dict[str, str]) -> None:
    plan = plan_with(rig("fallback", edges=[edge]))

    assert fallback(plan, "haul/too-few-haulers").verdict is Verdict.UNKNOWN
    assert fallback(plan, "haul/edges-not-stated").verdict is Verdict.UNKNOWN
    assert plan.status == "NOT READY"


def test_the_head_carries_load_and_haul_of_the_worked_example() -> None:
    """A roller of 0.95, a 5:1 with one redirect at 0.90: 3117 N of 2329 N (haul.md P-1c)."""
    change = both(
        put(*ROPES, parts=[5], redirects=1, pulley_efficiency=0.9),
        rig("fallback", edges=[{"material": "roller", "turn": "90 deg"}]),
    )

    times = result(plan_with(change), "haul/support-overloaded") / (WEIGHT * 1.25)

    assert times == pytest.approx(3117 / 2329, rel=1e-3)


def test_a_raise_of_the_fallback_longer_than_the_limit_blocks() -> None:
    slow = plan_with(put(*ROPES, line_speed="0.05 m/s"))

    assert fallback(slow, "haul/raise-longer-than-limit").verdict is Verdict.FAILS
    assert slow.status == "NOT READY"
