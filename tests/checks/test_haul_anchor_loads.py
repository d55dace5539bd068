"""What slings, lifelines, vehicles and sleeves are asked to carry, by hand or by another route."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from broken_haul import (
    ANCHORED,
    CLAMP,
    DAVIT,
    EYE,
    FLOOR,
    LINE,
    SLIDING,
    TRUCK,
    both,
    put,
    rig,
    stand,
    support,
)
from broken_sites import Break, found, plan_with, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from planbuilder.findings import Compared, Finding, Missing, Verdict
from planbuilder.plan import Plan


def compared(plan: Plan, rule: str, about: str = "LC1") -> Compared:
    """The comparison of a rule for one load case or question."""
    (outcome,) = [one.outcome for one in found(plan, rule) if one.about.endswith(about)]
    assert isinstance(outcome, Compared)
    return outcome


def value_of(outcome: Compared, symbol: str) -> float:
    """One input of a comparison."""
    return next(one.value for one in outcome.inputs if one.symbol == symbol)


def because(findings: list[Finding]) -> list[str]:
    """Why each of the findings is not known."""
    return [one.outcome.because for one in findings if isinstance(one.outcome, Missing)]


def share_of_leg(**sling: Any) -> float:
    """The hardest leg's pull over the force on the sling of the shored trench."""
    outcome = compared(
        plan_with(put(*EYE, **sling), sample="shored_trench"), "haul/sling-leg-overloaded"
    )
    return outcome.result.value / value_of(outcome, "F")


def leans(*angles_deg: float, **more: str) -> list[dict[str, str]]:
    return [{"lean": f"{angle} deg", **more} for angle in angles_deg]


def fan_of_three() -> list[dict[str, str]]:
    """Legs of 100, 100 and 50 kN/m at -30, 0 and 30 degrees."""
    return [
        {"lean": lean, "length": "1 m", "stiffness": stiffness}
        for lean, stiffness in (("-30 deg", "100 kN"), ("0 deg", "100 kN"), ("30 deg", "50 kN"))
    ]


@pytest.mark.parametrize(
    ("sling", "share"),
    [
        pytest.param({"leg": leans(-20, 50), "pull_swings": False}, 1630 / 2000, id="two legs"),
        pytest.param({"leg": leans(-20, 50), "pull_swings": True}, 1.0, id="swinging, all on one"),
        pytest.param({"leg": fan_of_three(), "pull_swings": False}, 1000 / 2000, id="three legs"),
        pytest.param({"leg": fan_of_three(), "pull_swings": True}, 1085 / 2000, id="swinging 10"),
        pytest.param({"leg": None, "sling_angle": "60 deg"}, 0.5774, id="an angle only"),
    ],
)
def test_the_hardest_leg_carries_the_share_of_the_worked_examples(
    sling: dict[str, Any], share: float
) -> None:
    assert share_of_leg(**sling) == pytest.approx(share, rel=5e-4)


def test_three_legs_all_round_share_as_the_worked_example() -> None:
    """20 degrees each: 709.5 N of 2000 N."""
    legs = [
        {"lean": "20 deg", "towards": f"{turn} deg", "length": "2 m", "stiffness": "100 kN"}
        for turn in (0, 120, 240)
    ]

    assert share_of_leg(leg=legs, pull_swings=False) == pytest.approx(709.5 / 2000, rel=5e-4)


def test_a_sliding_joint_loads_one_leg_by_its_friction() -> None:
    """Ratio of 1.688 between legs 60 degrees apart; the parallelogram of the two pulls."""
    ratio = 1.688
    whole = math.sqrt(1 + ratio**2 + 2 * ratio * math.cos(math.radians(60)))

    assert share_of_leg(**SLIDING) == pytest.approx(ratio / whole, rel=5e-4)


def test_a_leg_that_fails_drops_the_load_as_far_as_energy_says() -> None:
    """1.2 m legs at 30 degrees: 2.4 m of sling falls 2.4 - 1.2 cos 30 before it comes taut."""
    plan = plan_with(put(*EYE, **SLIDING), sample="shored_trench")
    outcome = compared(plan, "haul/sling-drop-too-hard", "on the body")
    weight, drop = value_of(outcome, "W"), 2.4 - 1.2 * math.cos(math.radians(30))
    spring = 100e3 / 2.4

    stretch = optimize.brentq(lambda x: spring * x * x / 2 - weight * (drop + x), 1e-6, 5)

    assert outcome.result.value == pytest.approx(spring * stretch, rel=1e-9)


def test_knots_as_told_let_a_leg_fail() -> None:
    """The drop that the plan names keeps the shock within the limit."""
    before = plan_with(put(*EYE, **SLIDING), sample="shored_trench")
    drops = found(before, "haul/sling-drop-too-hard")
    (tells,) = [one for one in drops if one.about.endswith("on the body")]
    told_m = float(tells.settle_by.split("drops ")[1].split(" m")[0])
    slid_m = told_m - 1.2 * (1 - math.cos(math.radians(30)))
    knots = [{**one, "stopped_at": f"{slid_m:.4f} m"} for one in SLIDING["leg"]]

    after = plan_with(put(*EYE, **{**SLIDING, "leg": knots}), sample="shored_trench")

    assert slid_m > 0
    assert compared(after, "haul/sling-drop-too-hard", "on the body").verdict is Verdict.MEETS


@pytest.mark.parametrize(
    ("sling", "said"),
    [
        ({"leg": leans(20, 50)}, "lean to both sides"),
        ({"leg": leans(-20, 95)}, "below pi/2"),
        ({"leg": leans(20, 20, towards="0 deg")}, "leave towards out"),
        ({**SLIDING, "leg": leans(-20, 0, 20)}, "a sliding connector has two legs, got 3"),
        ({"leg": fan_of_three()[:2] + leans(20)}, "length"),
        ({"leg": [{"lean": "20 deg", "towards": "0 deg"}, {"lean": "20 deg"}]}, "towards"),
        ({"joint": None}, "joint"),
        ({"pull_swings": None}, "pull swings"),
        ({**SLIDING, "joint_friction": None}, "joint friction"),
    ],
)
def test_a_sling_that_is_not_told_well_enough_is_unknown(sling: dict[str, Any], said: str) -> None:
    plan = plan_with(put(*EYE, **sling), sample="shored_trench")

    assert any(said in one for one in because(found(plan, "haul/sling-leg-overloaded")))
    assert plan.status == "NOT READY"


@pytest.mark.parametrize(
    ("angles", "verdict"),
    [
        ((-45, 45), Verdict.MEETS),
        ((-46, 45), Verdict.MARGINAL),
        ((-60, 60), Verdict.MARGINAL),
        ((-61, 60), Verdict.FAILS),
    ],
)
def test_legs_may_be_90_degrees_apart_and_never_above_120(
    angles: tuple[float, float], verdict: Verdict
) -> None:
    plan = plan_with(put(*EYE, leg=leans(*angles)), sample="shored_trench")

    assert worst(found(plan, "haul/sling-too-wide")) is verdict


def test_a_lifeline_pulls_its_ends_with_its_own_weight_too() -> None:
    """Sag and tension of a line with the load and half its weight in the middle, by energy."""
    outcome = compared(
        plan_with(both(support(LINE), put(*DAVIT, line_mass="30 kg"))),
        "haul/lifeline-ends-overloaded",
    )
    load = value_of(outcome, "F") + 15 * 9.80665

    def energy(sag_m: float) -> float:
        stretch_m = max(0.0, 2 * math.hypot(6.0, sag_m) - 12.6)
        return 1e6 * stretch_m**2 / (2 * 12.6) - load * sag_m

    sag = optimize.minimize_scalar(energy, bounds=(0.5, 5), options={"xatol": 1e-10}).x
    tension = 1e6 * (2 * math.hypot(6.0, sag) - 12.6) / 12.6

    assert outcome.result.value == pytest.approx(tension, rel=1e-4)


def told(rule: str, change: Break, after: str, unit: str) -> float:
    """The number that the advice of a rule names after some words."""
    (one,) = [one for one in found(plan_with(change), rule) if one.about.endswith("LC1")]
    return float(one.settle_by.split(after)[1].split(unit)[0])


def test_a_lifeline_as_long_as_told_hangs_low_enough() -> None:
    flat = both(support(LINE), put(*DAVIT, slack_length="12.01 m"))
    length_m = told("haul/lifeline-too-flat", flat, "at least ", " m")

    after = plan_with(both(support(LINE), put(*DAVIT, slack_length=f"{length_m} m")))
    before = plan_with(both(support(LINE), put(*DAVIT, slack_length=f"{length_m - 0.03} m")))

    assert compared(after, "haul/lifeline-too-flat").verdict is Verdict.MEETS
    assert compared(before, "haul/lifeline-too-flat").verdict is Verdict.FAILS


def test_ends_as_strong_as_told_hold_the_lifeline() -> None:
    weak = both(support(LINE), put(*DAVIT, end_rating="2 kN"))
    rating_kn = told("haul/lifeline-ends-overloaded", weak, "rated for ", " kN")

    after = plan_with(both(support(LINE), put(*DAVIT, end_rating=f"{rating_kn} kN")))

    assert compared(after, "haul/lifeline-ends-overloaded").verdict is Verdict.MEETS


PULL = "haul/vehicle-pulled-away"


def pulled(*changes: Break, about: str = "LC1") -> Compared:
    """What the line pulls on the truck, against what it may hold."""
    return compared(plan_with(ANCHORED, *changes, sample="shored_trench"), PULL, about)


def test_a_truck_may_hold_half_the_pull_at_which_it_slides() -> None:
    """3200 kg on wet asphalt, 0.50, lane 5 degrees, line rising 10; balances across and along."""
    slope, rise = math.radians(5), math.radians(10)
    weight = 3200 * 9.80665

    def slips(pull: float) -> float:
        pressed = weight * math.cos(slope) - pull * math.sin(rise)
        return pull * math.cos(rise) + weight * math.sin(slope) - 0.50 * pressed

    outcome = pulled()

    assert outcome.limit.value == pytest.approx(optimize.brentq(slips, 0, 1e5) / 2)
    assert outcome.result.value == pytest.approx(value_of(outcome, "F") / 0.9)


def test_a_catch_pulls_the_truck_without_the_loss_of_the_sheave() -> None:
    outcome = pulled(about="LC2")

    assert outcome.result.value == value_of(outcome, "F") == pytest.approx(900 * 4.4482216)


def test_a_second_sheave_costs_pull_again() -> None:
    turns = [{"angle": "80 deg", "rating": "3000 lbf"}] * 2

    twice = pulled(rig(number=1, redirect=turns))

    assert twice.result.value == pytest.approx(pulled().result.value / 0.9)


def test_a_hitch_decides_where_it_is_the_weakest() -> None:
    assert pulled(put(*TRUCK, hitch_rating="500 lbf")).limit.value == pytest.approx(500 * 4.4482216)


def test_rear_brakes_alone_hold_less_and_are_refused_anyway() -> None:
    """Balances of the whole truck and of moments about the front axle."""
    plan = plan_with(ANCHORED, put(*TRUCK, braked="rear-axle"), sample="shored_trench")
    slope, rise, weight = math.radians(5), math.radians(10), 3200 * 9.80665
    ahead, high, hitch, behind = 1.7, 3 * 0.3048, 2 * 0.3048, 4 * 0.3048

    def slips(pull: float) -> float:
        about_front = weight * (math.cos(slope) * (3.4 - ahead) + math.sin(slope) * high)
        about_front += pull * (math.cos(rise) * hitch - math.sin(rise) * (3.4 + behind))
        return pull * math.cos(rise) + weight * math.sin(slope) - 0.50 * about_front / 3.4

    limit = compared(plan, PULL).limit.value

    assert limit == pytest.approx(optimize.brentq(slips, 0, 1e5) / 2)
    assert limit < pulled().limit.value
    assert worst(found(plan, "haul/vehicle-not-held")) is Verdict.FAILS


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (rig(number=1, redirect=None), "redirect"),
        (stand(number=1, surface=None), "surface"),
        (stand(number=1, slope=None), "slope"),
        (put(*TRUCK, braked=None), "braked"),
        (put(*TRUCK, hitch_rating=None), "hitch rating"),
        (rig(number=1, pull_elevation="95 deg"), "the line must leave"),
    ],
)
def test_an_anchor_that_is_not_told_well_enough_is_unknown(change: Break, said: str) -> None:
    plan = plan_with(ANCHORED, change, sample="shored_trench")

    assert any(said in one for one in because(found(plan, PULL)))
    assert plan.status == "NOT READY"


def test_a_vehicle_as_heavy_as_told_holds_the_line() -> None:
    light = plan_with(ANCHORED, put(*TRUCK, vehicle_mass="700 kg"), sample="shored_trench")
    (tells,) = [one for one in found(light, PULL) if one.about.endswith("LC2")]
    mass_kg = int(tells.settle_by.split("vehicle of ")[1].split(" kg")[0])

    enough, short = (
        pulled(put(*TRUCK, vehicle_mass=f"{mass} kg"), about="LC2")
        for mass in (mass_kg, mass_kg - 2)
    )

    assert enough.verdict is Verdict.MEETS
    assert short.verdict is Verdict.FAILS


def test_a_line_from_the_hitch_asks_nothing_about_a_mast() -> None:
    plan = plan_with(ANCHORED, sample="shored_trench")

    for rule in ("haul/vehicle-tips", "haul/receiver-not-level", "haul/reach-beyond-rating"):
        assert not [one for one in found(plan, rule) if one.space == "manhole-12"]
    assert plan.status == "READY FOR REVIEW"


@pytest.mark.parametrize(("wall", "fits"), [(1.9, False), (2, True), (24, True), (24.1, False)])
def test_a_clamp_for_walls_of_2_to_24_in_takes_no_other(wall: float, fits: bool) -> None:
    """Common practice, no source: clamp sleeves grip walls up to 24 in."""
    plan = plan_with(stand(wall_thickness=f"{wall} in"), sample="shored_trench")

    grips = worst(found(plan, "haul/grip-out-of-range")) in (Verdict.MEETS, Verdict.MARGINAL)

    assert grips is fits


@pytest.mark.parametrize("wall", ["parapet", "hollow-or-veneer", "corroded-or-cracked"])
def test_a_wall_that_may_not_hold_needs_an_engineers_word(wall: str) -> None:
    alone = plan_with(stand(wall=wall), put(*CLAMP, judged_by=None), sample="shored_trench")
    judged = plan_with(stand(wall=wall), sample="shored_trench")

    assert worst(found(alone, "haul/wall-not-solid")) is Verdict.FAILS
    assert worst(found(judged, "haul/wall-not-solid")) is Verdict.MEETS
    (said,) = [one.outcome for one in found(judged, "haul/wall-not-solid")]
    assert "engineer to confirm" in getattr(said, "because", "")


def strip(*changes: Break, about: str = "LC1") -> Compared:
    """The wall strip under the clamp of the shored trench, not judged by anybody."""
    plan = plan_with(put(*CLAMP, judged_by=None), *changes, sample="shored_trench")
    return compared(plan, "haul/wall-strip-tips", about)


def test_a_leaning_line_tips_the_strip_of_wall() -> None:
    """Moments about the outer foot by hand: 5 in wall, 3 ft high, hook at 10 ft 6 in."""
    outcome, inch = strip(), 0.0254
    force, thick = value_of(outcome, "F"), 5 * inch

    tips = force * (24 * inch - thick / 2) + 30 * 9.80665 * (8 * inch - thick / 2)
    tips += force * math.sin(0.1745) * 126 * inch
    holds = 2400 * 9.80665 * 36 * inch * thick * thick / 2

    assert outcome.result.value == pytest.approx(holds / tips)


@pytest.mark.parametrize(("lean", "counts"), [("5 deg", False), ("-15 deg", True)])
def test_a_lean_stated_counts_where_it_is_more_than_the_planned_one(
    lean: str, counts: bool
) -> None:
    before, after = strip(), strip(rig(line_lean=lean))

    assert (after.result.value < before.result.value) is counts


def test_a_catch_tips_the_strip_of_wall_harder() -> None:
    assert strip(about="LC2").result.value < strip().result.value


def test_a_hook_height_that_is_not_given_leaves_the_strip_unknown() -> None:
    plan = plan_with(put(*CLAMP, judged_by=None), rig(hook_height=None), sample="shored_trench")

    assert any("hook height" in one for one in because(found(plan, "haul/wall-strip-tips")))


def test_bolts_embedded_as_told_hold_the_cone() -> None:
    floor = both(support(FLOOR), put(*DAVIT, embedment="15 mm", concrete_strength="25 MPa"))
    deep_mm = int(told("haul/concrete-breakout", floor, "bolts ", " mm"))

    after, before = (
        compared(
            plan_with(floor, put(*DAVIT, embedment=f"{one} mm")), "haul/concrete-breakout"
        ).verdict
        for one in (deep_mm, deep_mm - 1)
    )

    assert after is Verdict.MEETS
    assert before is Verdict.FAILS


def test_a_cone_that_breaks_only_warns() -> None:
    """Screening: no edge, no neighbour, no crack is in it."""
    deep = put(*DAVIT, embedment="15 mm", concrete_strength="25 MPa")
    shallow, plain = (plan_with(support(FLOOR), change) for change in (deep, put(*DAVIT)))

    assert worst(found(shallow, "haul/concrete-breakout")) is Verdict.FAILS
    assert shallow.status == plain.status
    assert found(plain, "haul/concrete-breakout") == []


def sliding(**leg: str) -> Break:
    return put(*EYE, **{**SLIDING, "leg": [{**one, **leg} for one in SLIDING["leg"]]})


def heavier(value: float) -> Break:
    return put("person", "sunniva", mass=f"{value} kg")


FREE_WALL = put(*CLAMP, judged_by=None)
FLOOR_CONE = both(support(FLOOR), put(*DAVIT, embedment="120 mm", concrete_strength="25 MPa"))
PIT, WELL = "shored_trench", "pump_station"
# Rule, sample, what is changed beside, how it gets worse, from what to what.
WORSENING: dict[str, tuple[str, str, Break, Callable[[float], Break], float, float]] = {
    "wider sling": (
        "haul/sling-leg-overloaded",
        PIT,
        put(*EYE, leg=None),
        lambda v: put(*EYE, sling_angle=f"{v} deg"),
        10,
        170,
    ),
    "sticky joint": (
        "haul/sling-leg-overloaded",
        PIT,
        sliding(),
        lambda v: put(*EYE, joint_friction=v),
        0.01,
        1,
    ),
    "heavier on legs": ("haul/sling-leg-overloaded", PIT, put(*EYE), heavier, 40, 300),
    "longer run of the joint": (
        "haul/sling-drop-too-hard",
        PIT,
        put(*EYE),
        lambda v: sliding(stopped_at=f"{v} m"),
        0,
        1.2,
    ),
    "stiffer sling": (
        "haul/sling-drop-too-hard",
        PIT,
        put(*EYE),
        lambda v: sliding(stiffness=f"{v} kN"),
        10,
        900,
    ),
    "heavier lifeline": (
        "haul/lifeline-ends-overloaded",
        WELL,
        support(LINE),
        lambda v: put(*DAVIT, line_mass=f"{v} kg"),
        0,
        80,
    ),
    "steeper lane": (
        PULL,
        PIT,
        ANCHORED,
        lambda v: stand(number=1, slope=f"{v} deg"),
        0,
        20,
    ),
    "heavier on the truck": (PULL, PIT, ANCHORED, heavier, 40, 300),
    "leaning line on a wall": (
        "haul/wall-strip-tips",
        PIT,
        FREE_WALL,
        lambda v: rig(line_lean=f"{v} deg"),
        0,
        40,
    ),
    "higher hook over a wall": (
        "haul/wall-strip-tips",
        PIT,
        FREE_WALL,
        lambda v: rig(hook_height=f"{v} m"),
        1,
        5,
    ),
    "longer reach over bolts": (
        "haul/concrete-breakout",
        WELL,
        FLOOR_CONE,
        lambda v: rig(reach=f"{v} m"),
        0.3,
        2,
    ),
    "shallower bolts": (
        "haul/concrete-breakout",
        WELL,
        FLOOR_CONE,
        lambda v: put(*DAVIT, embedment=f"{120 - v} mm"),
        0,
        100,
    ),
}


@pytest.mark.parametrize("name", WORSENING)
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_what_gets_worse_never_leaves_more_reserve(name: str, data: st.DataObject) -> None:
    rule, sample, beside, setter, low, high = WORSENING[name]
    values = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))

    before, after = (
        {
            (one.space, one.about): one.outcome.reserve
            for one in found(plan_with(beside, setter(round(value, 4)), sample=sample), rule)
            if isinstance(one.outcome, Compared)
        }
        for value in values
    )

    assert before
    assert before.keys() == after.keys()
    assert all(after[key] <= early * (1 + 1e-9) for key, early in before.items())
