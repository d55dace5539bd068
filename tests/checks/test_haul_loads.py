"""How much each part is asked to carry, and what the checks say where it cannot be built."""

import math
from datetime import date
from typing import Any

import numpy as np
import pytest
from broken_haul import (
    COLLAR,
    DAVIT,
    FLOOR,
    POST,
    ROPES,
    TRIPOD,
    TRUCK,
    WALL,
    WALL_OWN,
    both,
    nothing,
    put,
    rig,
    stand,
    support,
)
from broken_sites import Break, found, plan_with, worst

from planbuilder.findings import Compared, Missing, Stated, Verdict
from planbuilder.plan import Plan

FAILS, UNKNOWN, MARGINAL = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MARGINAL


@pytest.mark.parametrize("sample", ["pump_station", "shored_trench", "transformer_deck"])
def test_the_samples_that_are_complete_are_ready(sample: str) -> None:
    assert plan_with(sample=sample).status == "READY FOR REVIEW"


def test_a_permanent_base_sets_no_limit_on_reach() -> None:
    long = rig(reach="70 in")

    portable = plan_with(long)
    bolted = plan_with(both(support(FLOOR.replace("8000", "80000")), long))

    assert worst(found(portable, "haul/boom-beyond-base")) is FAILS
    (said,) = found(bolted, "haul/boom-beyond-base")
    assert said.verdict is Verdict.MEETS
    assert isinstance(said.outcome, Stated)
    assert "not tipping" in said.outcome.because
    assert found(bolted, "haul/base-tips") == []


IN = 0.0254


@pytest.mark.parametrize(("towards_deg", "slope_deg"), [(0, 4), (90, 4), (135, 6), (-90, 6)])
def test_a_sideways_slope_moves_the_pressure_as_cross_products_say(
    towards_deg: float, slope_deg: float
) -> None:
    """Boom fixed straight ahead; weights, height by height, slide down the slope."""
    slope, towards = f"{slope_deg} deg", f"{towards_deg} deg"
    ahead = both(
        rig(swing_from="0 deg", swing_to="0 deg"), stand(slope=slope, slope_towards=towards)
    )
    plan = plan_with(ahead)
    (one,) = (
        each.outcome
        for each in found(plan, "haul/base-tips-on-slope")
        if each.about == "primary, LC1"
    )
    assert isinstance(one, Compared)

    # Base, mast, boom and line: mass, how far ahead of the mast, how high (in).
    force = lifted_n(one) / 9.80665
    bodies = [(68, 22, 0), (17, 0, 50), (8, 15, 100), (force, 30, 100)]
    points = np.array([[x * IN, 0.0, z * IN] for _, x, z in bodies])
    s, a = math.radians(slope_deg), math.radians(towards_deg)
    down = np.array([math.sin(s) * math.cos(a), math.sin(s) * math.sin(a), -math.cos(s)])
    forces = np.array([mass for mass, _, _ in bodies])[:, None] * down
    moment = np.cross(points, forces).sum(axis=0)
    x, y = -moment[1] / forces[:, 2].sum(), moment[0] / forces[:, 2].sum()
    expected = min(x + 10 * IN, 50 * IN - x, 40 * IN - abs(y))
    assert one.result.value == pytest.approx(expected)


def test_a_permitted_swing_takes_the_side_where_slope_and_boom_agree() -> None:
    """Swung to both sides, a slope to the left tips at the left end of the swing."""
    margins = {}
    for name, first, last in (("both", -80, 80), ("left", 80, 80), ("right", -80, -80)):
        turn = rig(swing_from=f"{first} deg", swing_to=f"{last} deg")
        plan = plan_with(turn, stand(slope="5 deg", slope_towards="90 deg"))
        (one,) = (each.outcome for each in found(plan, "haul/lean-uses-margin"))
        assert isinstance(one, Compared)
        margins[name] = one.result.value

    assert margins["both"] == pytest.approx(margins["left"])
    assert margins["left"] < margins["right"]


def test_load_case_four_is_the_lift_with_a_lean_of_ten_degrees() -> None:
    (one,) = (each.outcome for each in found(plan_with(), "haul/lean-uses-margin"))

    assert isinstance(one, Compared)
    values = {each.symbol: each.value for each in one.inputs}
    assert values["F"] == pytest.approx(lift_on(plan_with(), "haul/base-tips-on-slope"))
    assert values["delta"] == pytest.approx(math.radians(10), abs=1e-4)
    assert one.limit.value == 0.05


def test_haulers_on_a_davit_stand_somewhere_and_pull_it_over() -> None:
    by_hand = rig(device="rope-set", haul_posture="standing")
    light = put(*DAVIT, base_mass="60 kg")
    unsaid = plan_with(by_hand, light)
    near, far = (plan_with(by_hand, light, rig(lead_distance=one)) for one in ("0 ft", "20 ft"))

    assert worst(found(unsaid, "haul/base-tips")) is UNKNOWN
    assert worst(found(near, "haul/base-tips")) is Verdict.MEETS
    assert worst(found(far, "haul/base-tips")) is FAILS


def bolted_use(bolts: str) -> list[float]:
    """Use of the hardest bolt of a floor sleeve with that pattern, for each load case."""
    text = FLOOR.replace('"12 in"', '"30 in"')  # a toe so far out that the centroid model governs
    pattern = next(one for one in text.splitlines() if one.startswith("bolts = "))
    plan = plan_with(support(text.replace(pattern, f"bolts = {bolts}")))
    outcomes = [one.outcome for one in found(plan, "haul/bolts-overused")]
    return [one.result.value for one in outcomes if isinstance(one, Compared)]


def test_an_arm_that_turns_to_the_corner_pulls_the_corner_bolt_hardest() -> None:
    """The same square of bolts on its edge or on its point is held equally well."""
    flat = '[["-10 in", "-10 in"], ["-10 in", "10 in"], ["10 in", "-10 in"], ["10 in", "10 in"]]'
    far = 10 * 2**0.5
    point = '[["-F in", "0 in"], ["F in", "0 in"], ["0 in", "-F in"], ["0 in", "F in"]]'

    assert bolted_use(flat)
    assert bolted_use(flat) == pytest.approx(bolted_use(point.replace("F", str(far))))


def test_bolts_in_one_line_hold_no_arm_that_turns() -> None:
    assert bolted_use('[["-10 in", "0 in"], ["0 in", "0 in"], ["10 in", "0 in"]]') == []


def test_what_to_do_about_a_tipping_base_names_reach_and_ballast() -> None:
    (tips,) = found(plan_with(rig(reach="70 in")), "haul/base-tips")

    assert "Shorten the reach to" in tips.settle_by
    assert "kg of ballast" in tips.settle_by


def test_shortening_the_reach_as_told_clears_the_base() -> None:
    (tips,) = found(plan_with(rig(reach="70 in")), "haul/base-tips")
    told = tips.settle_by.split("reach to ")[1].split(" m")[0]

    after = plan_with(rig(reach=f"{float(told) - 0.005:.3f} m"))

    assert worst(found(after, "haul/boom-beyond-base")) in (Verdict.MEETS, MARGINAL)
    assert worst(found(after, "haul/base-tips")) is Verdict.MEETS


def test_edge_friction_never_lightens_an_anchor_or_a_backup() -> None:
    rough = rig(edges=[{"material": "concrete", "turn": "90 deg"}])

    for rule in ("haul/support-overloaded", "haul/backup-overloaded", "haul/head-cannot-arrest"):
        before, after = (found(plan_with(one), rule)[0].outcome for one in (nothing, rough))
        assert isinstance(before, Compared)
        assert isinstance(after, Compared)
        assert after.result.value >= before.result.value


def test_a_second_person_on_the_head_is_load_case_three() -> None:
    two = plan_with(lambda data: data["space"][0]["task"].update(inside_at_once=2))
    (head,) = (one for one in found(two, "haul/two-lines-on-one-head") if one.space == "wet-well")

    assert isinstance(head.outcome, Compared)
    assert "LC3" in head.outcome.result.label
    assert head.outcome.formula == "W + W_2"


def lift_push(plan: Plan) -> Compared:
    """The push in the hardest leg of the valve chamber's tripod in the lift."""
    found_legs = found(plan, "haul/tripod-leg-overloaded")
    (one,) = (one.outcome for one in found_legs if one.about == "primary, LC1")
    assert isinstance(one, Compared)
    return one


def lifted_n(outcome: Compared) -> float:
    """The force on the head that an outcome counted with."""
    return next(one.value for one in outcome.inputs if one.symbol == "F")


# Tripod no. 1: legs of 8 ft 9 in on a circle of 3 ft 6 in.
LEG, CIRCLE = 8.75 * 0.3048, 3.5 * 0.3048
HEAD = math.sqrt(LEG**2 - CIRCLE**2)


def test_the_winch_of_a_tripod_leg_pushes_that_leg_too() -> None:
    """By hand: a third of the load over the lean, and the whole line behind a sheave of 0.95."""
    outcome = lift_push(plan_with())

    expected = lifted_n(outcome) * (LEG / (3 * HEAD) + 1 / 0.95)
    assert outcome.result.value == pytest.approx(expected)


def test_a_line_led_off_a_tripod_pushes_a_leg_and_lifts_a_foot() -> None:
    """By hand, as plane frames: over a foot it pushes that leg, between two it lifts the third."""
    led = both(
        rig(number=1, winch_on_leg=False, lead_distance="3 ft"), put(*TRIPOD, foot_friction=0.4)
    )
    plan = plan_with(led)
    outcome = lift_push(plan)

    hanging = lifted_n(outcome) / (1 + 1 / 0.95)
    slant = math.hypot(HEAD, 3 * 0.3048)
    down = hanging * (1 + HEAD / slant / 0.95)
    side = hanging * 3 * 0.3048 / slant / 0.95
    # A side pull over a foot: that leg takes two thirds of it, the others pull back with a third.
    share = (down / 3) / HEAD + side * 2 / 3 / CIRCLE
    assert outcome.result.value == pytest.approx(share * LEG)
    (lifts,) = (
        one.outcome for one in found(plan, "haul/tripod-foot-lifts") if one.space == "valve-chamber"
    )
    assert isinstance(lifts, Compared)
    assert lifts.result.value == pytest.approx(down / 3 - side * 2 / 3 * HEAD / CIRCLE)


def test_a_side_pull_slides_a_chained_tripod_unless_its_feet_grip() -> None:
    led = rig(number=1, winch_on_leg=False, lead_distance="3 ft")
    verdicts = [
        worst(
            found(plan_with(both(led, put(*TRIPOD, foot_friction=grip))), "haul/tripod-feet-slide")
        )
        for grip in (None, 0.1, 0.4)
    ]

    assert verdicts == [UNKNOWN, FAILS, Verdict.MEETS]


def test_haulers_on_a_tripod_stand_somewhere() -> None:
    plan = plan_with(rig("fallback", number=1, lead_distance=None), sample="shored_trench")

    assert worst(found(plan, "haul/tripod-line-led-off")) is UNKNOWN
    assert plan.status == "NOT READY"


def test_a_strand_too_weak_to_tip_the_tripod_may_go_anywhere() -> None:
    """A 12:1 without losses: a twelfth of the load, level, leans less than the tripod stands."""
    weak = put("device", "rope-set-9", parts=[12], pulley_efficiency=1.0)
    far = rig("fallback", number=1, lead_distance="40 ft")
    (led,) = found(plan_with(weak, far, sample="shored_trench"), "haul/tripod-line-led-off")

    assert isinstance(led.outcome, Stated)
    assert led.verdict is Verdict.MEETS


def test_a_line_planned_to_lean_more_than_the_default_uses_its_own_lean() -> None:
    (usual,), (more,) = (
        found(plan_with(rig(number=1, line_lean=lean)), "haul/tripod-lean")
        for lean in ("5 deg", "11 deg")
    )
    plumb = found(plan_with(), "haul/tripod-lean")[0]

    for one, lean_deg in ((usual, 10), (plumb, 10), (more, 11)):
        assert isinstance(one.outcome, Compared)
        by_hand = CIRCLE / 2 - HEAD * math.tan(math.radians(lean_deg))
        assert one.outcome.result.value == pytest.approx(by_hand, abs=1e-3)


def test_a_winch_that_hangs_on_no_leg_stands_somewhere() -> None:
    plan = plan_with(rig(number=1, winch_on_leg=False))

    assert worst(found(plan, "haul/tripod-line-led-off")) is UNKNOWN
    assert plan.status == "NOT READY"


def lift_on(plan: Plan, rule: str) -> float:
    """The force of the lift that a rule of the wet well's primary rig counted with."""
    outcomes = [one.outcome for one in found(plan, rule) if one.about.startswith("primary")]
    inputs = [each for one in outcomes if isinstance(one, Compared) for each in one.inputs]
    return next(one.value for one in inputs if one.label == "force on the head, lift")


@pytest.mark.parametrize("base", [COLLAR, FLOOR, WALL], ids=["collar", "floor", "wall"])
def test_hauling_by_hand_pulls_the_support_with_both_strands(base: str) -> None:
    """A 3:1 without losses: the haulers add a third of the load, downward."""
    rule = {COLLAR: "haul/collar-tips"}.get(base, "haul/bolts-overused")
    ideal = put(*ROPES, parts=[3], pulley_efficiency=1.0)
    dressed = base + (WALL_OWN if base is WALL else "")

    by_hand = plan_with(support(dressed), ideal, rig(device="rope-set", lead_distance="0 ft"))
    by_winch = plan_with(support(dressed))

    jerk = 1.25 / 1.1  # the two dynamic factors
    expected = lift_on(by_winch, rule) * jerk * 4 / 3
    assert lift_on(by_hand, rule) == pytest.approx(expected)


def test_a_line_led_off_pulls_the_head_with_both_strands() -> None:
    led = plan_with(rig(number=0, lead_distance="3 ft"))

    mine, once = (
        next(one for one in found(plan, "haul/support-overloaded") if one.space == "wet-well")
        for plan in (led, plan_with())
    )

    assert isinstance(mine.outcome, Compared)
    assert isinstance(once.outcome, Compared)
    assert mine.outcome.result.value == pytest.approx(once.outcome.result.value * (1 + 1 / 0.95))


@pytest.mark.parametrize("name", ["for_people", "inspected", "judged_by"])
def test_an_arm_is_no_better_than_the_post_it_stands_on(name: str) -> None:
    unsaid: dict[str, Any] = {name: None}

    assert plan_with(put(*POST, **unsaid), sample="transformer_deck").status == "NOT READY"


@pytest.mark.parametrize(
    ("change", "rule", "said"),
    [
        (
            put(*TRIPOD, leg_length="3 ft"),
            "haul/tripod-leg-overloaded",
            "legs of 0.9144 m are too short for a foot circle of 1.0668 m",
        ),
        (
            both(put(*TRIPOD, leg_length="3 ft"), rig(number=1, lead_distance="1 ft")),
            "haul/tripod-line-led-off",
            "legs of 0.9144 m are too short for a foot circle of 1.0668 m",
        ),
    ],
)
def test_what_cannot_be_built_is_unknown_and_says_why(change: Break, rule: str, said: str) -> None:
    """The calculation refuses it; the plan goes on."""
    plan = plan_with(change)

    reasons = [one.outcome for one in found(plan, rule)]

    assert any(isinstance(one, Missing) and said in one.because for one in reasons)
    assert plan.status == "NOT READY"


def test_a_post_says_how_low_the_line_has_to_be_attached() -> None:
    """Rated at 3 in: lower the attachment as told, and it holds."""
    weak = put(*POST, rated_height="3 in")
    before = found(plan_with(weak, sample="transformer_deck"), "haul/post-too-high")
    failing = next(one for one in before if one.verdict is FAILS)
    told = float(
        failing.settle_by.split("attach at most at ")[-1].split("at most at ")[-1].split()[0]
    )

    lower = plan_with(weak, stand(height=f"{told:.2f} m"), sample="transformer_deck")

    after = next(one for one in found(lower, "haul/post-too-high") if one.about == failing.about)
    assert after.verdict is Verdict.MEETS
    assert "N." in failing.settle_by


def test_an_extension_counts_in_the_height_of_a_post() -> None:
    """The same moment at the base: 12 in higher over the height of the rating."""
    plain, extended = (
        found(
            plan_with(put(*POST, extension=extra), sample="transformer_deck"), "haul/post-too-high"
        )
        for extra in (None, "12 in")
    )

    for one, other in zip(plain, extended, strict=True):
        assert isinstance(one.outcome, Compared)
        assert isinstance(other.outcome, Compared)
        values = {each.symbol: each.value for each in other.outcome.inputs}
        higher = values["F"] * (values["h_2"] + 12 * IN) / values["h_1"]
        assert other.outcome.result.value == pytest.approx(max(values["F"], higher))
        assert other.outcome.result.value > one.outcome.result.value


def test_a_collar_that_partly_lifts_presses_its_ledge_harder_and_loads_its_neck() -> None:
    """In full contact the hardest bearing is the even one times 1 + 2 e / R."""
    ledge = stand(ledge_width="30 mm", ledge_stress="9 MPa")
    near, far = (plan_with(support(COLLAR), rig(reach=one), ledge) for one in ("4 in", "11 in"))

    pressures = []
    for plan, reach in ((near, 4 * IN), (far, 11 * IN)):
        one = next(one for one in found(plan, "haul/ledge-overloaded") if "LC1" in one.about)
        assert isinstance(one.outcome, Compared)
        values = {each.symbol: each.value for each in one.outcome.inputs}
        vertical, radius = values["V"] + values["W_c"], 13 * IN
        straight = 1 + 2 * values["V"] * reach / vertical / radius
        even = vertical / (math.tau * radius * 0.030)
        pressures.append(one.outcome.result.value / even / straight)

    assert pressures[0] == pytest.approx(1)
    assert pressures[1] > 1
    marks = [worst(found(plan, "haul/collar-tips")) for plan in (near, far)]
    assert marks == [Verdict.MEETS, MARGINAL]
    assert not found(near, "haul/collar-neck-overloaded")
    assert found(far, "haul/collar-neck-overloaded")


def test_a_higher_centre_of_mass_tips_sooner_on_a_slope() -> None:
    """By hand: 3200 kg, 1.7 m ahead, 0.8 m high; 4 ft and 30 in behind, 2 ft high; 5 degrees."""
    plan = plan_with(put(*TRUCK, centre_height="0.8 m"), sample="shored_trench")

    tips = [one for one in found(plan, "haul/vehicle-tips") if one.about.endswith("LC1")]
    (outcome,) = [one.outcome for one in tips]
    assert isinstance(outcome, Compared)
    force = next(one for one in outcome.inputs if one.symbol == "F").value
    slope = math.radians(5)
    holds = 3200 * 9.80665 * (1.7 * math.cos(slope) - 0.8 * math.sin(slope))
    arm = (4 * 0.3048 + 30 * 0.0254) * math.cos(slope) + 2 * 0.3048 * math.sin(slope)
    assert outcome.result.value == pytest.approx(holds / arm / force)


def test_a_sample_read_after_its_last_valid_day_is_not_ready() -> None:
    assert plan_with(sample="shored_trench", on=date(2027, 4, 1)).status == "NOT READY"


Z_RIG: dict[str, Any] = {
    "reeving": "described",
    "parts": [],
    "sheave": [
        {"name": "moving", "on": "load", "efficiency": 0.9},
        {"name": "fixed", "on": "anchor top", "efficiency": 0.9},
    ],
    "rope": [{"name": "main", "path": ["moving", "fixed"], "ends_on": "load"}],
}


def advantage_in(plan: Plan) -> float:
    """The advantage of the fallback's rope system that the plan counted with."""
    (people,) = found(plan, "haul/too-few-haulers")
    assert isinstance(people.outcome, Compared)
    return next(one.value for one in people.outcome.inputs if one.symbol == "PMA")


def test_a_described_three_to_one_counts_as_the_usual_one() -> None:
    described = plan_with(put(*ROPES, **Z_RIG))
    usual = plan_with(put(*ROPES, parts=[3], pulley_efficiency=0.9))

    assert advantage_in(described) == pytest.approx(advantage_in(usual)) == pytest.approx(2.71)


def test_a_poor_sheave_costs_more_nearer_to_the_haulers() -> None:
    near, far = (
        [{**one, "efficiency": 0.55 if one["name"] == poor else 0.95} for one in Z_RIG["sheave"]]
        for poor in ("moving", "fixed")
    )

    plans = [plan_with(put(*ROPES, **{**Z_RIG, "sheave": sheaves})) for sheaves in (near, far)]

    assert advantage_in(plans[0]) < advantage_in(plans[1])


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"rope": [{"name": "main", "path": ["moving", "gone"], "ends_on": "load"}]}, "gone"),
        ({"rope": [{"name": "main", "path": ["moving"], "ends_on": "load"}]}, "fixed"),
        ({"rope": []}, "at least one rope"),
        (
            {"rope": [{"name": "main", "path": ["moving", "fixed"], "ends_on": "sky"}]},
            "must be load",
        ),
    ],
)
def test_a_description_that_does_not_hang_together_says_what_is_loose(
    change: dict[str, Any], said: str
) -> None:
    plan = plan_with(put(*ROPES, **{**Z_RIG, **change}))

    (system,) = found(plan, "haul/no-rope-system")

    assert system.verdict is UNKNOWN
    assert isinstance(system.outcome, Missing)
    assert said in system.outcome.because
    assert plan.status == "NOT READY"


def test_a_system_that_is_reset_takes_longer() -> None:
    reset = both(put(*ROPES, reset_distance="8 ft"), rig("fallback", walkway="30 ft"))

    times = [
        next(
            step.usual.value
            for step in plan.spaces[0].timelines[1].steps
            if step.step.computed == "haul"
        )
        for plan in (plan_with(), plan_with(reset))
    ]

    assert times[1] > times[0] + 30


@pytest.mark.parametrize(
    ("survey", "mass_kg"),
    [
        ({"group": "nhanes-men", "percentile": 95.0}, 123.0),
        ({"group": "nhanes-men", "percentile": 99.0}, 153.6),
        ({"group": "nhanes-men", "percentile": 92.5}, (113.7 + 123.0) / 2),
        ({"group": "nhanes-women", "percentile": 50.0}, 84.0),  # lighter than the heaviest entrant
    ],
)
def test_the_casualty_is_the_heaviest_of_roster_and_survey(
    survey: dict[str, Any], mass_kg: float
) -> None:
    plan = plan_with(lambda data: data["space"][0]["rescue"].update(casualty_survey=survey))
    outcome = next(
        one.outcome
        for one in found(plan, "haul/device-overloaded")
        if one.space == "wet-well" and one.about == "primary"
    )

    assert isinstance(outcome, Compared)
    assert next(q.value for q in outcome.inputs if q.symbol == "m_body") == pytest.approx(mass_kg)
