"""Rules on traffic, exhaust, hot work and the intake: each fires, rests and says unknown."""

from collections.abc import Callable

import pytest
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, worst
from broken_surroundings import CASES, engine, hot_work, intake, traffic
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks import RULES
from planbuilder.checks.room import nearby as nearby_checks
from planbuilder.checks.room import traffic as traffic_checks
from planbuilder.findings import Compared, Verdict, Weight

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]
ALL = [change for case in CASES.values() for change in (case.fires, case.rests) if change]


def test_every_rule_is_here() -> None:
    assert set(CASES) == rules_of(nearby_checks, traffic_checks)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.fires])
def test_a_rule_fires(rule: str) -> None:
    change = CASES[rule].fires
    assert change is not None

    plan = plan_with(change)

    assert worst(found(plan, rule)) is FAILS
    assert (plan.status == "NOT READY") is (rule in BLOCKING)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    plan = plan_with(CASES[rule].rests)

    assert worst(found(plan, rule)) is MEETS
    assert plan.status == "READY FOR REVIEW"


@pytest.mark.parametrize("rule", CASES)
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    plan = plan_with(CASES[rule].unknown)

    unknown = [one for one in found(plan, rule) if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and all(one.keys) and one.keys for one in unknown)
    assert (plan.status == "NOT READY") is (rule in BLOCKING)


def test_nothing_is_asked_where_nothing_is_near() -> None:
    assert [one for one in plan_with().findings if one.rule.id in CASES] == []


def test_a_closed_road_is_asked_nothing_more() -> None:
    rows = plan_with(traffic(lane="road-closed", buffer=None, speed=None)).findings

    asked = {one.rule.id for one in rows if one.rule.id in CASES}
    assert asked == {"clearance/traffic-not-stated"}


def test_an_open_lane_has_no_taper_but_a_buffer() -> None:
    plan = plan_with(traffic(lane="lane-open", taper=None))

    assert found(plan, "clearance/traffic-taper-short") == []
    assert worst(found(plan, "clearance/traffic-buffer-short")) is MEETS


@pytest.mark.parametrize("speed", ["30 mph", "40 mph", "41 mph", "80 km/h"])
@pytest.mark.parametrize("change", [traffic, engine, intake, lambda **_: hot_work("30 ft")])
def test_the_printed_formulas_give_the_results(change: Callable[..., Break], speed: str) -> None:
    broken = traffic(speed=speed) if change is traffic else change()
    rows = [one.outcome for one in plan_with(broken).findings if one.rule.id in CASES]
    compared = [one for one in rows if isinstance(one, Compared)]

    assert compared
    for one in compared:
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


@pytest.mark.parametrize(
    "rule", ["clearance/traffic-buffer-short", "clearance/traffic-taper-short"]
)
def test_the_length_that_would_settle_it_settles_it(rule: str) -> None:
    name = "buffer" if "buffer" in rule else "taper"
    (one,) = found(plan_with(traffic(**{name: "1 m"}, speed="47 mph")), rule)
    number = next(part for part in one.settle_by.split() if part[0].isdigit())

    assert worst(found(plan_with(traffic(**{name: f"{number} m"}, speed="47 mph")), rule)) is MEETS


WORSE: dict[str, tuple[Callable[[float], Break], float, float]] = {
    "quicker traffic": (lambda v: traffic(speed=f"{v:.3f} mph"), 5, 90),
    "shorter buffer": (lambda v: traffic(buffer=f"{100 - v:.3f} m"), 1, 99),
    "shorter taper": (lambda v: traffic(taper=f"{100 - v:.3f} m"), 1, 99),
    "nearer lane": (lambda v: traffic(lane_distance=f"{2 - v:.3f} m"), 0, 2),
    "nearer engine": (lambda v: engine(distance=f"{20 - v:.3f} m"), 0, 20),
    "engine farther from downwind": (lambda v: engine(bearing=f"{90 + v:.3f} deg"), 0, 180),
    "engine nearer the intake": (lambda v: engine(to_intake=f"{20 - v:.3f} m"), 0, 20),
    "nearer hot work": (lambda v: hot_work(f"{20 - v:.3f} m"), 0, 20),
    "intake nearer the opening": (lambda v: intake(intake_distance=f"{5 - v:.3f} m"), 0, 5),
    "intake farther from upwind": (lambda v: intake(intake_bearing=f"{270 - v:.3f} deg"), 0, 180),
}


@pytest.mark.parametrize("name", WORSE)
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_a_worse_place_never_helps(name: str, data: st.DataObject) -> None:
    setter, low, high = WORSE[name]
    pair = data.draw(st.tuples(st.floats(low, high), st.floats(low, high)))
    less, more = (plan_with(setter(value)) for value in sorted(pair))

    for rule in CASES:
        before, after = found(less, rule), found(more, rule)
        if before and after:
            assert WORST_FIRST.index(worst(after)) <= WORST_FIRST.index(worst(before))
