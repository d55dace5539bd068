"""Rules on what is drawn round an opening: each fires, rests and says unknown."""

import math
from typing import Any

import pytest
from broken_haul import TRIPOD, both, put, rig, stand
from broken_layout import CASES, PLACE, box, drawn, drop, obstacle, thing
from broken_lift import landing
from broken_power_lines import OFF, line
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, space, worst
from broken_surroundings import traffic
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks import RULES
from planbuilder.checks.room import landing_line, landing_place, set_back
from planbuilder.findings import Compared, Mark, Verdict, Weight
from planbuilder.plan import Plan

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]
EDGE, LANE = "haul/foot-near-edge", "clearance/traffic-lane-too-near"
NEAR_LINE = "clearance/landing-near-power-line"
INCH = 0.0254
HALF_PAD = 3 * math.sqrt(2) * INCH


def compared(plan: Plan, rule: str, about: str = "") -> Compared:
    """The one comparison of *rule* that names *about*."""
    rows = [one.outcome for one in found(plan, rule) if about in one.about]
    (row,) = [one for one in rows if isinstance(one, Compared)]
    return row


def test_every_rule_is_here() -> None:
    assert rules_of(set_back, landing_place, landing_line) <= set(CASES)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    plan = plan_with(CASES[rule].fires)

    assert worst(found(plan, rule)) is FAILS
    assert rule not in BLOCKING or plan.status == "NOT READY"


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", CASES)
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    plan = plan_with(CASES[rule].unknown)
    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys and all(one.keys) for one in unknown)
    assert not any("nan" in one.settle_by for one in unknown)
    assert rule not in BLOCKING or plan.status == "NOT READY"


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize("how", ["fires", "rests"])
def test_the_printed_formula_gives_the_result(rule: str, how: str) -> None:
    rows = [one.outcome for one in found(plan_with(getattr(CASES[rule], how)), rule)]

    for row in (one for one in rows if isinstance(one, Compared)):
        values = {one.symbol: one.value for one in row.inputs}
        assert len(values) == len(row.inputs)
        assert work_out(row.formula, values) == pytest.approx(row.result.value, rel=1e-9)


def test_nothing_is_asked_where_nothing_is_drawn() -> None:
    drawn_only = set(CASES) - {"clearance/landing-near-opening", LANE}

    assert [row for one in drawn_only for row in found(plan_with(), one)] == []


# ---- the base ------------------------------------------------------------------------------------


def test_a_pad_takes_half_its_diagonal_of_the_gap_to_an_edge() -> None:
    """Feet at 40 in to the side, a trench from 2.4 m on."""
    row = compared(plan_with(drop(2.4)), EDGE)

    assert row.result.value == pytest.approx(2.4 - 40 * INCH - HALF_PAD)
    assert row.limit.value == 1.0


@pytest.mark.parametrize(
    ("towards", "gap_m"),
    [("0 deg", 2.4 - 1.016), ("90 deg", 2.4 - 1.016), ("-90 deg", 2.4 - 0.508)],
    ids=["beside", "behind the mast", "ahead of the base"],
)
def test_the_base_turns_with_the_direction_of_its_mast(towards: str, gap_m: float) -> None:
    """30 in from mast to centre, feet 10 in behind the mast, 50 in ahead and 40 in beside it."""
    row = compared(plan_with(drop(2.4, towards)), EDGE)

    assert row.result.value == pytest.approx(gap_m - HALF_PAD)


def test_an_edge_that_was_measured_is_held_against_the_pad_too() -> None:
    """4 ft from the middle of the foot."""
    row = compared(plan_with(stand(edge_distance="4 ft")), EDGE)

    assert row.result.value == pytest.approx(48 * INCH - HALF_PAD)


def test_a_tripod_is_held_off_an_edge_like_a_davit() -> None:
    for away, verdict in (("3 ft", FAILS), ("4 ft", MEETS)):
        assert worst(found(plan_with(stand(number=1, edge_distance=away)), EDGE)) is verdict


def test_a_vehicle_beside_a_drawn_trench_is_asked_for_its_distance() -> None:
    """Nobody draws its wheels; the way with the truck is that of the manhole."""

    def trench(data: dict[str, Any]) -> None:
        space(data, 1)["layout"] = {"drop": thing(3, -2, 5, 2, name="Trench")}

    plan = plan_with(trench, sample="shored_trench")
    unknown = [one for one in found(plan, EDGE) if one.verdict is UNKNOWN]

    assert any(one.keys[0].endswith("stand.edge_distance") for one in unknown)
    near = both(trench, stand(number=1, edge_distance="2 ft"))
    assert worst(found(plan_with(near, sample="shored_trench"), EDGE)) is FAILS


def test_the_rule_on_edges_says_that_its_clause_is_recalled() -> None:
    source = next(one.source for one in RULES if one.id == EDGE)

    assert (source.document, source.mark) == ("29 CFR 1926.651", Mark.RECALLED)


def test_feet_of_a_tripod_may_have_pads() -> None:
    bare, padded = (
        compared_at_valve(plan_with(put(*TRIPOD, **one))) for one in ({}, {"pad_width": "8 in"})
    )

    assert bare - padded == pytest.approx(4 * math.sqrt(2) * INCH)


def compared_at_valve(plan: Plan) -> float:
    rows = [
        one.outcome
        for one in found(plan, "clearance/feet-near-edge")
        if one.space == "valve-chamber" and isinstance(one.outcome, Compared)
    ]
    return rows[0].result.value


def test_a_tripod_is_drawn_by_its_foot_circle() -> None:
    """42 in round the centre, the first foot along the first axis: a trench from 3 m on."""

    def change(data: dict[str, Any]) -> None:
        space(data, 1)["layout"] = {"drop": thing(3, -1, 4, 1, name="Trench")}
        rig(number=1, stands_towards="0 deg")(data)

    (row,) = [
        one.outcome
        for one in found(plan_with(change), EDGE)
        if one.space == "valve-chamber" and isinstance(one.outcome, Compared)
    ]

    assert row.result.value == pytest.approx(3 - 42 * INCH)


def test_a_thing_under_the_base_is_on_it_though_no_foot_touches_it() -> None:
    plan = plan_with(drawn(obstacle=thing(0.3, 0.3, 0.6, 0.6)))

    assert worst(found(plan, "clearance/base-on-obstacle")) is FAILS


def test_a_hook_off_its_centre_takes_its_base_along() -> None:
    rule = "clearance/base-on-obstacle"
    off = both(obstacle(1.3), rig(off_centre="4 in"))

    assert worst(found(plan_with(off), rule)) is FAILS
    before, after = (compared(plan_with(one), rule).result.value for one in (obstacle(1.3), off))
    assert before - after == pytest.approx(4 * INCH)


@pytest.mark.parametrize(("rule", "at"), [(EDGE, drop), ("clearance/base-on-obstacle", obstacle)])
def test_the_distance_named_settles_it(rule: str, at: Any) -> None:
    (first, *_) = [one for one in found(plan_with(at(1.2)), rule) if one.verdict is FAILS]
    numbers = [float(one) for one in first.settle_by.split() if one[0].isdigit()]

    assert worst(found(plan_with(at(1.2 + numbers[0])), rule)) is not FAILS
    assert worst(found(plan_with(at(1.2 + numbers[0] - 0.03)), rule)) is FAILS


# ---- landing -------------------------------------------------------------------------------------


def test_a_rectangular_opening_lies_with_its_length_along_the_first_axis() -> None:
    """1.2 m by 0.6 m: 0.7 m are left beyond its short side, 1 m beside its long one."""

    def change(place: list[list[str]]) -> Break:
        def draw(data: dict[str, Any]) -> None:
            opening = space(data)["opening"]
            opening.pop("diameter")
            opening.update(shape="rectangular", length="1.2 m", width="0.6 m")
            space(data)["layout"] = {"landing": place}

        return draw

    for place, gap_m in ((box(1.3, -1, 4.5, 1), 0.7), (box(-1, 1.3, 1, 4.5), 1.0)):
        plan = plan_with(change(place))
        row = compared(plan, "clearance/landing-near-opening", "as drawn")
        assert row.result.value == pytest.approx(gap_m)


def test_lane_base_and_opening_are_asked_each_for_itself() -> None:
    plan = plan_with(drawn(landing=PLACE, lane=box(-20, 1.5, 20, 5)))
    verdicts = {one.about: one.verdict for one in found(plan, LANE)}

    assert verdicts["landing as drawn"] is FAILS
    assert verdicts["base as drawn, primary"] is FAILS
    assert verdicts["opening as drawn"] is MEETS


def test_a_closed_road_leaves_its_lane_to_the_rescue() -> None:
    road = traffic(lane="road-closed")
    plan = plan_with(road, drawn(landing=PLACE, lane=box(-20, 1.2, 20, 5)))

    assert found(plan, LANE) == []


def test_a_landing_that_nobody_measured_lies_towards_the_line() -> None:
    """14 m less reach, opening, gap and diagonal; 5 m up, hands at 2.5 m."""
    row = compared(plan_with(line(), landing()), NEAR_LINE, "primary")
    far_m = (30 + 12 + 36 + math.hypot(132, 84)) * INCH

    assert row.result.value == pytest.approx(math.hypot(14 - far_m, 2.5))


def test_a_landing_measured_from_the_line_counts_as_measured() -> None:
    near, far = (line(distance="6 m"), landing()), (line(distance="6 m"), landing(to_line="4 m"))

    assert worst(found(plan_with(*near), NEAR_LINE)) is FAILS
    assert worst(found(plan_with(*far), NEAR_LINE)) is MEETS


def test_the_landing_distance_named_settles_it() -> None:
    (first, *_) = found(plan_with(line(), landing(to_line="1 m")), NEAR_LINE)
    away_m = float(first.settle_by.split()[3])

    for more_m, settled in ((0.0, True), (-0.03, False)):
        plan = plan_with(line(), landing(to_line=f"{away_m + more_m:.2f} m"))
        assert (worst(found(plan, NEAR_LINE)) is not FAILS) is settled


def test_a_dead_line_leaves_the_landing_alone() -> None:
    assert found(plan_with(line(distance="1 m", **OFF), landing()), NEAR_LINE) == []


# ---- direction -----------------------------------------------------------------------------------

NEARER = {
    "trench": lambda v: drop(6 - v),
    "kiosk": lambda v: obstacle(6 - v),
    "lane": lambda v: drawn(landing=PLACE, lane=box(-20, 6 - v, 20, 9)),
    "edge of firm ground": lambda v: drawn(firm=box(-9 + v, -9 + v, 9 - v, 9 - v)),
    "kiosk in the sweep": lambda v: drawn(obstacle=thing(-7.2 + v, -0.1, -7 + v, 0.1)),
    "hook off its centre": lambda v: both(obstacle(2), rig(off_centre=f"{v / 5:.4f} m")),
    "wider pads": lambda v: both(drop(2.4), put("support", "davit-2", pad_width=f"{v / 5:.4f} m")),
}


@pytest.mark.parametrize("name", NEARER)
@settings(max_examples=4, deadline=None)
@given(pair=st.tuples(st.floats(0.05, 5), st.floats(0.05, 5)))
def test_nearer_is_never_better(name: str, pair: tuple[float, float]) -> None:
    less, more = (plan_with(NEARER[name](round(one, 4))) for one in sorted(pair))

    for rule in CASES:
        before, after = found(less, rule), found(more, rule)
        if before and after:
            order = [WORST_FIRST.index(worst(one)) for one in (before, after)]
            assert order[1] <= order[0]
