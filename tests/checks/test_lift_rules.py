"""Rules on the room over, beside and below a rig: each fires, rests and says unknown."""

from typing import Any

import pytest
from broken_haul import both, nothing, rig
from broken_lift import CASES, landing, roof
from broken_sites import WORST_FIRST, Break, found, plan_with, way, worst
from printed_formula import work_out

from planbuilder.checks import RULES
from planbuilder.findings import Compared, Verdict, Weight
from planbuilder.plan import Plan

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]


def planned(rule: str, change: Break) -> Plan:
    return plan_with(change, sample=CASES[rule].sample)


def compared(plan: Plan, rule: str) -> Compared:
    """The one comparison of *rule*."""
    (one,) = [row.outcome for row in found(plan, rule) if isinstance(row.outcome, Compared)]
    return one


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    assert worst(found(planned(rule, CASES[rule].fires), rule)) is FAILS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(planned(rule, CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", [one for one in CASES if CASES[one].unknown])
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    findings = found(planned(rule, CASES[rule].unknown or nothing), rule)
    unknown = [one for one in findings if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys and all(one.keys) for one in unknown)


@pytest.mark.parametrize("rule", BLOCKING)
@pytest.mark.parametrize("how", ["fires", "unknown"])
def test_a_blocking_rule_keeps_the_plan_from_being_ready(rule: str, how: str) -> None:
    change = getattr(CASES[rule], how)
    if change is None:
        pytest.skip("never unknown")
    plan = planned(rule, change)

    assert plan.status == "NOT READY"
    assert any(one.blocks for one in found(plan, rule))


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("how", ["fires", "rests"])
def test_the_printed_formula_gives_the_result(rule: str, how: str) -> None:
    rows = [one.outcome for one in found(planned(rule, getattr(CASES[rule], how)), rule)]

    for row in (one for one in rows if isinstance(one, Compared)):
        values = {one.symbol: one.value for one in row.inputs}
        assert len(values) == len(row.inputs)
        assert work_out(row.formula, values) == pytest.approx(row.result.value, rel=1e-9)


# ---- under a roof ------------------------------------------------------------------------------


def test_nothing_is_asked_about_a_roof_that_nobody_stated() -> None:
    ids = ("rig-under-overhead", "no-hook-window", "raising-hits-overhead")

    assert [row for one in ids for row in found(plan_with(), f"clearance/{one}")] == []


def test_the_hook_may_stand_as_high_as_roof_margin_and_head_allow() -> None:
    """By hand: 10 ft and 6 in of coaming are 3.2004 m; less 0.15 m and 8 in, 2.8472 m."""
    row = compared(plan_with(roof(clear_height="10 ft")), "clearance/no-hook-window")

    assert row.limit.value == pytest.approx(2.8472)


def test_a_tripod_folded_needs_the_length_of_its_leg() -> None:
    """Legs of 8 ft 9 in stand up under 10 ft with 15 in left, under 9 ft with 3 in."""
    for clear, left_m, verdict in (("10 ft", 0.381, MEETS), ("9 ft", 0.0762, FAILS)):
        plan = plan_with(roof(number=1, clear_height=clear))
        rule = "clearance/raising-hits-overhead"
        assert compared(plan, rule).result.value == pytest.approx(left_m)
        assert worst(found(plan, rule)) is verdict


@pytest.mark.parametrize(
    "worse",
    [
        roof(clear_height="9 ft"),
        roof(clear_height="10 ft", head_above_hook="2 ft"),
        both(roof(clear_height="10 ft"), rig(hook_height="9 ft")),
        both(roof(clear_height="10 ft"), rig(reach="36 in")),
    ],
    ids=["lower roof", "taller head", "higher hook", "longer reach"],
)
def test_less_room_under_a_roof_never_helps(worse: Break) -> None:
    before, after = plan_with(roof(clear_height="10 ft")), plan_with(worse)

    for rule in ("rig-under-overhead", "raising-hits-overhead"):
        old, new = (worst(found(one, f"clearance/{rule}")) for one in (before, after))
        assert WORST_FIRST.index(new) <= WORST_FIRST.index(old)


def test_a_rack_beside_the_hinge_leaves_more_room_than_one_above_it() -> None:
    """Its corner counts: 4 ft beside and 9 ft above the hinge, by Pythagoras."""
    rule = "clearance/raising-hits-overhead"
    above, beside = (
        compared(plan_with(roof(clear_height="9 ft 6 in", from_hinge=one)), rule).result.value
        for one in (None, "4 ft")
    )

    assert beside - above == pytest.approx((97**0.5 - 9) * 0.3048)


# ---- the end of the lift -----------------------------------------------------------------------


def test_nobody_has_to_tip_out_who_hangs_clear() -> None:
    assert found(plan_with(), "clearance/tip-out-hands") == []


def test_an_attendant_at_the_handle_is_not_free_to_tip_out() -> None:
    """The attendant, leader and medic are three; an attendant who hauls leaves two."""

    def hauls(data: dict[str, Any]) -> None:
        rig(hook_height="7 ft 6 in")(data)
        way(data)["crew"].append({"person": "tobiah", "role": "haul"})

    rule = "clearance/tip-out-hands"
    assert compared(plan_with(rig(hook_height="7 ft 6 in")), rule).result.value == 3
    assert compared(plan_with(hauls), rule).result.value == 2


# ---- support and opening -----------------------------------------------------------------------


def test_a_line_off_the_centre_takes_the_feet_nearer_to_the_edge() -> None:
    rule = "clearance/feet-near-edge"
    before, after = (plan_with(rig(number=1, off_centre=one)) for one in ("0 in", "4 in"))

    nearer_m = compared_in(before, rule, 1).result.value - compared_in(after, rule, 1).result.value
    assert nearer_m == pytest.approx(0.1016)


def test_the_feet_of_a_davit_are_measured_from_its_hook() -> None:
    """By hand: hook at (30, 0) in, foot at (50, 40): 44.72 in.

    The opening takes 12, half the diagonal of a pad of 6 in 4.24.
    """
    row = compared_in(plan_with(), "clearance/feet-near-edge", 0)

    assert row.result.value == pytest.approx((2000**0.5 - 12 - 18**0.5) * 0.0254)


def compared_in(plan: Plan, rule: str, number: int) -> Compared:
    """The comparison of *rule* for one space."""
    wanted = ("wet-well", "valve-chamber")[number]
    (one,) = [row.outcome for row in found(plan, rule) if row.space == wanted]
    assert isinstance(one, Compared)
    return one


# ---- landing -----------------------------------------------------------------------------------


def test_a_boom_too_short_to_land_by_turning_is_unknown_with_the_reason() -> None:
    (one,) = found(plan_with(rig(reach="15 in")), "clearance/swing-too-short")

    assert one.verdict is UNKNOWN
    assert "no turn of a boom" in str(getattr(one.outcome, "because", ""))


def test_a_landing_is_as_long_as_its_longer_side_whatever_it_is_called() -> None:
    plan = plan_with(landing(length="7 ft", width="11 ft"))

    assert worst(found(plan, "clearance/landing-too-small")) is MEETS
