"""Rules on the air in a space: each fires, rests and says unknown; worse never helps."""

import math
import tomllib
from datetime import date
from typing import Any

import pytest
from broken_atmosphere import (
    CASES,
    FIRES_BY_SILENCE,
    TRENCH,
    WELL,
    Case,
    air,
    all_of,
    clears,
    duct,
    hazard,
    leak,
    meter,
    methane,
    points,
    sealed,
    shape,
    task,
    whole,
)
from broken_sites import SAMPLES, WORST_FIRST, Break, found, plan_with, space, worst
from hypothesis import given, settings
from hypothesis import strategies as st

from planbuilder.checks import RULES
from planbuilder.findings import Compared, Finding, Missing, Verdict, Weight
from planbuilder.plan import Plan

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN


def nothing(data: dict[str, Any]) -> None:
    """Leaves the sample as it is."""


def planned(case: Case, change: Break) -> Plan:
    return plan_with(change, sample=case.sample, on=case.on)


def compared(plan: Plan, rule: str) -> Compared:
    """The one comparison of *rule*."""
    (one,) = [row.outcome for row in found(plan, rule) if isinstance(row.outcome, Compared)]
    return one


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    wanted = UNKNOWN if rule in FIRES_BY_SILENCE else FAILS

    assert worst(found(planned(CASES[rule], CASES[rule].fires), rule)) is wanted


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    case = CASES[rule]

    assert worst(found(planned(case, case.rests or nothing), rule)) is MEETS


@pytest.mark.parametrize("rule", CASES)
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    case = CASES[rule]

    findings = found(planned(case, case.unknown), rule)
    unknown = [one for one in findings if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys and all(one.keys) for one in unknown)


BLOCKING = [one.id for one in RULES if one.id in CASES and one.weight is Weight.BLOCKS]


@pytest.mark.parametrize("rule", BLOCKING)
@pytest.mark.parametrize("how", ["fires", "unknown"])
def test_a_blocking_rule_keeps_the_plan_from_being_ready(rule: str, how: str) -> None:
    case = CASES[rule]

    plan = planned(case, getattr(case, how))

    assert plan.status == "NOT READY"
    assert any(one.blocks for one in found(plan, rule))


# ---- when the questions arise ----------------------------------------------------------------


def test_a_space_without_gas_and_fan_is_asked_nothing_about_air() -> None:
    """The valve chamber of the pump station, and the deck."""
    for sample, name in (("pump_station", "valve-chamber"), ("transformer_deck", None)):
        rows = [one for one in plan_with(sample=sample).findings if one.rule.id in CASES]
        assert [one for one in rows if one.space == name or name is None] == []


@pytest.mark.parametrize("control", ["Ventilation, monitor", "Air mover", "Monitor on the entrant"])
def test_a_gas_without_a_fan_asks_for_one_whatever_its_control_says(control: str) -> None:
    plan = plan_with(all_of(whole(ventilation=None, monitoring=None), hazard(control=control)))

    assert worst(found(plan, "response/ventilation-not-stated")) is UNKNOWN


def test_why_no_fan_is_relied_on_is_said_or_contradicts_the_fan() -> None:
    rule, why = "response/ventilation-not-stated", hazard(not_ventilated_because="Open to the sky")

    assert worst(found(plan_with(all_of(whole(ventilation=None), why)), rule)) is MEETS
    assert worst(found(plan_with(why), rule)) is FAILS


def test_ventilation_for_another_gas_does_not_answer() -> None:
    plan = plan_with(clears(kind="carbon-monoxide", start="100 ppm"))

    (one,) = found(plan, "response/ventilation-not-stated")
    assert isinstance(one.outcome, Missing)
    assert one.outcome.because == "ventilation is stated, but not for this gas"


# ---- the numbers -------------------------------------------------------------------------------


def test_the_worked_purge_with_a_source_takes_25_14_min() -> None:
    """30 m3, 15 m3/min, factor 3, 400 to 10 ppm, 0.02 L/min."""
    plan = plan_with(all_of(shape(volume="30 m3"), air(flow="15 m3/min"), clears(start="400 ppm")))

    assert compared(plan, "response/purge-too-short").result.value / 60 == pytest.approx(
        25.14, abs=0.005
    )


def test_a_rectangular_inside_has_its_own_volume() -> None:
    """Twice the width on the other side: 2/(pi/4) times the round one, and so is the time."""
    rule = "response/purge-too-short"
    round_s = compared(plan_with(), rule).result.value
    changed = shape(inside_is="rectangular", inside_length="16 ft")

    assert compared(plan_with(changed), rule).result.value / round_s == pytest.approx(2.5465, 1e-4)


def test_the_flow_that_is_needed_is_said() -> None:
    """1 L/min of gas, factor 3, 10 ppm: 3*0.001/0.00001 = 300 m3/min, 10,594.4 cfm."""
    (one,) = found(plan_with(clears(source_rate="1 L/min")), "response/purge-impossible")

    assert "more than 300.0 m3/min (10,595 cfm)" in one.settle_by


def test_the_time_that_is_needed_and_what_a_meter_would_read_are_said() -> None:
    """100 to 10 ppm in 30 m3 at 5 m3/min, no source: 41.4 min; 6 min leave 71.7 ppm."""
    change = all_of(
        shape(volume="30 m3"),
        air(flow="5 m3/min", before_entry="6 min"),
        hazard(level="100 ppm"),
        clears(start="100 ppm", source_rate="0 L/min"),
    )

    (one,) = found(plan_with(change), "response/purge-too-short")

    assert "for 42 min or longer" in one.settle_by  # never rounded down
    assert "the time planned brings it to 72 ppm, wanted 10 ppm" in one.settle_by


def test_of_oxygen_a_purge_says_what_is_reached() -> None:
    """9000 ft3, 1500 cfm, factor 5, 14 %: 20.9 less 6.9/e^(1/3) after 10 min, 15.96 %."""
    change = all_of(shape(volume="9000 ft3"), air(before_entry="10 min"))

    (one,) = found(plan_with(change, sample="storage_tank"), "response/purge-too-short")

    assert "brings oxygen to 15.9%, wanted 19.5%" in one.settle_by


def test_of_a_flammable_gas_a_purge_says_the_share_of_its_limit() -> None:
    """60 % of the limit, 30 m3 at 5 m3/min, factor 3, 6 min, 1.2 % of it stays: 43.3 %."""
    change = all_of(methane(), shape(volume="30 m3"), air(flow="5 m3/min", before_entry="6 min"))

    said = [one.settle_by for one in found(plan_with(change), "response/purge-too-short")]

    assert any("brings it to 44% of the lower limit, wanted 10%" in one for one in said), said


def test_the_depth_to_the_floor_gives_no_volume() -> None:
    """A tank of 2 ft from sill to floor is ten times as high: its volume is asked for."""
    plan = plan_with(shape(volume=None), sample="storage_tank")

    (one,) = found(plan, "response/purge-too-short")

    assert one.verdict is UNKNOWN
    assert one.blocks
    assert one.keys == ("space.tank-3.shape.volume",)


@pytest.mark.parametrize(
    ("rule", "sample", "number"),
    [("response/purge-too-short", WELL, 0), ("response/alarm-to-danger", TRENCH, 1)],
)
def test_only_the_height_of_the_whole_inside_gives_a_volume(
    rule: str, sample: str, number: int
) -> None:
    deeper = plan_with(shape(number, depth="30 ft"), sample=sample)
    assert compared(deeper, rule).inputs == compared(plan_with(sample=sample), rule).inputs

    (one,) = found(plan_with(shape(number, inside_height=None), sample=sample), rule)
    assert one.verdict is UNKNOWN


def test_a_stay_is_not_worked_out_from_the_depth_to_the_floor() -> None:
    change = all_of(shape(1, inside_is="round"), task(1, longest_stay="20 min"))

    assert found(plan_with(change), "response/oxygen-used-up") == []


def test_air_that_is_within_the_target_needs_no_time() -> None:
    plan = plan_with(all_of(hazard(level=None), clears(start="5 ppm")))

    assert worst(found(plan, "response/purge-too-short")) is MEETS


def test_a_target_that_is_never_reached_fails_whatever_the_time() -> None:
    plan = plan_with(all_of(clears(source_rate="1 L/min"), air(before_entry="100 h")))

    (one,) = found(plan, "response/purge-too-short")
    assert one.verdict is FAILS
    assert "No time is long enough" in one.settle_by


def test_a_free_air_flow_is_cut_by_its_duct() -> None:
    """0.40 m3/s and 600 Pa on 0.20 m of duct, 7.6 m, f 0.03, 4 bends at 0.6: 0.3036 m3/s."""
    plan = plan_with(
        all_of(
            air(1, flow="0.40 m3/s", shut_pressure="600 Pa"),
            duct(1, diameter="0.2 m", length="7.6 m", friction=0.03, bends=4, bend_loss=0.6),
        ),
        sample=TRENCH,
    )

    rows = compared(plan, "response/purge-impossible").inputs
    flow = next(one for one in rows if one.symbol == "Q")
    assert flow.value == pytest.approx(0.3036, abs=0.00006)


def test_a_fan_with_an_unknown_duct_clears_nothing() -> None:
    plan = plan_with(air(1, shut_pressure=None), sample=TRENCH)

    assert worst(found(plan, "response/fan-free-air-flow")) is FAILS
    assert worst(found(plan, "response/purge-too-short")) is UNKNOWN


@pytest.mark.parametrize(("basis", "stays"), [("nfpa-497", 0.05), ("iec-60079-20-1", 0.044)])
def test_the_share_of_the_limit_follows_the_basis(basis: str, stays: float) -> None:
    plan = plan_with(methane(basis=basis))

    aims = [
        one.outcome.limit.value
        for one in found(plan, "response/purge-impossible")
        if one.about == "flammable gas" and isinstance(one.outcome, Compared)
    ]
    assert aims == pytest.approx([0.1 * stays])


def test_a_substance_in_no_table_needs_its_limit() -> None:
    rule = "response/lfl-basis-missing"
    unknown = {"substance": "cleaning spirit", "basis": "data-sheet"}

    assert worst(found(plan_with(methane(**unknown)), rule)) is UNKNOWN
    assert worst(found(plan_with(methane(**unknown, lower_limit="0.6 %")), rule)) is MEETS


def test_a_lower_limit_than_the_table_has_is_taken() -> None:
    plan = plan_with(methane(lower_limit="4.6 %"))

    (one,) = found(plan, "response/lfl-basis-missing")
    assert "4.60%" in getattr(one.outcome, "because", "")


def inert(start: str = "8 %") -> Break:
    """The well is filled with nitrogen, which may flow in again."""

    def change(data: dict[str, Any]) -> None:
        one = space(data)
        one["shape"]["volume"] = "30 m3"
        one["ventilation"].update(flow="15 m3/min")
        one["ventilation"]["gas"] = [
            {"kind": "inert-gas", "start": start, "source_rate": "0 L/min"}
        ]
        one["hazard"][0].update(kind="inert-gas", control="Ventilation")
        one["hazard"][0].pop("level")
        one["release"] = [{"kind": "inert-gas", "what": "Valve 3 leaks", "rate": "100 L/min"}]
        one["monitoring"]["everybody_out"] = "3 min"

    return change


def test_oxygen_comes_back_from_8_to_19_5_per_cent_in_13_32_min() -> None:
    plan = plan_with(inert())

    assert compared(plan, "response/purge-too-short").result.value / 60 == pytest.approx(
        13.32, abs=0.005
    )


def test_inert_gas_leaves_the_time_between_two_published_ones() -> None:
    """100 L/min in 10 m3: 6.933 min to 19.5 %, 26.72 min to 16 %; so 19.79 min between."""
    plan = plan_with(all_of(inert(), shape(volume="10 m3"), points(oxygen_low="19.5 %")))

    time = compared(plan, "response/alarm-to-danger").result.value
    assert time / 60 == pytest.approx(26.72 - 6.933, abs=0.01)


def test_hydrogen_sulfide_from_alarm_to_danger_takes_5_400_min() -> None:
    """0.5 L/min in 30 m3, 10 to 100 ppm; a sensor of 30 s lets 3.620 ppm more build up."""
    plan = plan_with(
        all_of(
            shape(1, volume="30 m3"),
            leak(1, rate="0.5 L/min"),
            points(1, hydrogen_sulfide="10 ppm"),
        ),
        sample=TRENCH,
    )

    time = compared(plan, "response/alarm-to-danger").result.value
    there = compared(plan, "response/set-point-late").result.value
    assert time / 60 == pytest.approx(5.400, abs=0.001)
    assert (there - 10e-6) * 1e6 == pytest.approx(3.620, abs=0.002)


def test_carbon_dioxide_bounds_the_stay_in_20_m3_to_108_min() -> None:
    plan = plan_with(all_of(sealed("20 min"), shape(1, volume="20 m3")))

    time = compared(plan, "response/oxygen-used-up").result.value
    assert time / 60 == pytest.approx(108.2, abs=0.05)


def test_a_tested_factor_is_used_and_an_assumed_one_only_if_worse() -> None:
    rule = "response/purge-too-short"

    def minutes(**values: Any) -> float:
        return compared(plan_with(air(**values)), rule).result.value

    usual = minutes()
    assert minutes(mixing_factor=1.5) == usual
    assert minutes(mixing_factor=1.5, mixing_rests_on="assumed") == usual
    assert minutes(mixing_factor=1.5, mixing_rests_on="tracer-gas") < usual
    assert minutes(mixing_factor=6.0) > usual
    assert minutes(layout="obstructed") > usual


def test_on_a_day_of_work_the_meter_is_tried_that_day() -> None:
    rule, day = "response/meter-not-bump-tested", date(2026, 12, 1)

    def verdict(**values: Any) -> Verdict:
        return worst(found(plan_with(meter(**values), on=day), rule))

    assert verdict() is UNKNOWN
    assert verdict(bump_tested_on=day.replace(day=2)) is FAILS
    assert verdict(bump_tested_on=day) is MEETS


# ---- printed formulas --------------------------------------------------------------------------


@pytest.mark.parametrize("change", [methane(), inert(), sealed("20 min")])
def test_printed_formulas_of_other_gases_give_their_results(change: Break) -> None:
    rows = [one.outcome for one in plan_with(change).findings if one.rule.id in CASES]

    for one in rows:
        if isinstance(one, Compared):
            values = {each.symbol: each.value for each in one.inputs}
            assert len(values) == len(one.inputs)
            names = {"max": max, "min": min, "log": math.log, "pi": math.pi, **values}
            result = eval(one.formula, {"__builtins__": {}}, names)  # noqa: S307 - our own text
            assert result == pytest.approx(one.result.value, rel=1e-9)


# ---- worse never helps -------------------------------------------------------------------------

Range = tuple[str, Any, float, float]
WORSE: dict[str, Range] = {
    "longer sample line": (WELL, lambda v: meter(sample_line=f"{v:.3f} m"), 0.1, 300),
    "slower sensor": (TRENCH, lambda v: meter(1, response_time=f"{v:.3f} s"), 1, 900),
    "longer way out": (TRENCH, lambda v: meter(1, everybody_out=f"{v:.3f} s"), 1, 3000),
    "larger leak": (TRENCH, lambda v: leak(1, rate=f"{v:.6f} L/min"), 0.001, 50),
    "larger source": (WELL, lambda v: clears(source_rate=f"{v:.6f} L/min"), 0, 2),
    "worse start": (WELL, lambda v: clears(start=f"{v:.3f} ppm"), 0, 90000),
    "fouler supply": (WELL, lambda v: clears(supply=f"{v:.3f} ppm"), 0, 20),
    "worse mixing": (WELL, lambda v: air(mixing_factor=v), 1, 20),
    "worse mixing, tested": (
        WELL,
        lambda v: air(mixing_factor=v, mixing_rests_on="tracer-gas"),
        1,
        20,
    ),
    "longer duct": (TRENCH, lambda v: duct(1, length=f"{v:.3f} m"), 0, 1000),
    "more loss in bends": (TRENCH, lambda v: duct(1, bend_loss=v), 0.1, 50),
    "looser alarm": (TRENCH, lambda v: points(1, hydrogen_sulfide=f"{v:.4f} ppm"), 1, 200),
    "longer stay": (WELL, lambda v: sealed(f"{v:.3f} s"), 1, 20000),
    "wider space": (WELL, lambda v: shape(inside_width=f"{v:.3f} m"), 0.5, 20),
}
BETTER: dict[str, Range] = {
    "more air": (WELL, lambda v: air(flow=f"{v:.4f} m3/min"), 0.01, 100),
    "more time before entry": (WELL, lambda v: air(before_entry=f"{v:.3f} s"), 1, 7000),
    "wider duct": (TRENCH, lambda v: duct(1, diameter=f"{v:.4f} m"), 0.02, 0.5),
    "stronger pump": (WELL, lambda v: meter(pump_flow=f"{v:.4f} L/min"), 0.01, 5),
    "longer wait": (WELL, lambda v: meter(wait_at_stop=f"{v:.3f} s"), 1, 600),
    "more room for a leak": (TRENCH, lambda v: shape(1, volume=f"{v:.3f} m3"), 0.2, 50),
}
# A larger space takes longer to clear; a larger factor is a more modest claim.
APART = {
    "more room for a leak": ("response/purge-too-short", "response/vent-loss-to-limit"),
    "wider space": ("response/vent-loss-to-limit",),  # still air goes bad later in it
    "worse mixing": ("response/mixing-assumed",),
}


def answers(plan: Plan) -> dict[tuple[str, str | None, str], Verdict]:
    return {(one.rule.id, one.space, one.about): one.verdict for one in plan.findings}


def better(before: Plan, after: Plan, ignoring: tuple[str, ...] = ()) -> list[Any]:
    """The findings of *after* that are better than their twins of *before*."""
    old, new = answers(before), answers(after)
    return [
        key
        for key in old.keys() & new.keys()
        if key[0] not in ignoring and WORST_FIRST.index(new[key]) > WORST_FIRST.index(old[key])
    ]


@pytest.mark.parametrize("name", [*WORSE, *BETTER])
@settings(max_examples=6, deadline=None)
@given(data=st.data())
def test_worse_never_helps(name: str, data: st.DataObject) -> None:
    sample, setter, low, high = {**WORSE, **BETTER}[name]
    pair = data.draw(st.tuples(st.floats(low, high), st.floats(low, high)))
    good, bad = sorted(pair, reverse=name in BETTER)

    before, after = (plan_with(setter(value), sample=sample) for value in (good, bad))

    assert better(before, after, APART.get(name, ())) == []


def air_leaves() -> list[tuple[Any, ...]]:
    """Every value on the air of the manhole, one of which is left out at a time."""
    data = tomllib.loads((SAMPLES / f"{TRENCH}.toml").read_text(encoding="utf-8"))
    one = data["space"][1]
    rows: list[tuple[Any, ...]] = []
    for name in ("ventilation", "monitoring"):
        for key, value in one[name].items():
            if isinstance(value, dict):
                rows += [(name, key, inner) for inner in value]
            elif key != "gas":
                rows.append((name, key))
    rows += [
        ("ventilation", "gas", 0, key) for key in one["ventilation"]["gas"][0] if key != "kind"
    ]
    return [*rows, ("release", 0, "rate"), ("shape", "inside_is")]


# The worst level of the hazard takes the place of the one, the limit of the profile of the other.
FREE_TO_GO = {"start", "target"}


@pytest.mark.parametrize("path", air_leaves(), ids=lambda path: ".".join(map(str, path)))
def test_a_value_left_out_never_helps(path: tuple[Any, ...]) -> None:
    def change(data: dict[str, Any]) -> None:
        here: Any = space(data, 1)
        for part in path[:-1]:
            here = here[part]
        del here[path[-1]]

    before, after = plan_with(sample=TRENCH), plan_with(change, sample=TRENCH)

    def opened(plan: Plan) -> list[Finding]:
        return [one for one in plan.findings if one.open]

    assert better(before, after) == []
    assert answers(before).keys() <= answers(after).keys()
    assert len(opened(after)) > len(opened(before)) or path[-1] in FREE_TO_GO
