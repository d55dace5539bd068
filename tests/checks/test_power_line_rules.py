"""Rules on power lines: each fires, rests and says unknown; a worse line never helps."""

from datetime import date
from typing import Any

import pytest
from broken_power_lines import CASES, OFF, line, silence
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, space, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks.room import power_lines
from planbuilder.checks.room.approach_tables import approach_tables
from planbuilder.findings import Compared, Mark, Missing, Verdict

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
NEAR = "clearance/power-line-too-near"
TOPPLES = "clearance/power-line-in-reach-of-fall"
FT = 0.3048


def compared(change: Break, rule: str = TOPPLES) -> Compared:
    """The comparison of *rule* for the primary way."""
    rows = [one for one in found(plan_with(change), rule) if one.about.startswith("primary")]
    (outcome,) = [one.outcome for one in rows]
    assert isinstance(outcome, Compared)
    return outcome


def test_every_rule_is_here() -> None:
    assert set(CASES) == rules_of(power_lines)


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.fires])
def test_a_rule_fires(rule: str) -> None:
    change = CASES[rule].fires
    assert change is not None

    assert worst(found(plan_with(change), rule)) is FAILS


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", [one for one, case in CASES.items() if case.unknown])
def test_missing_data_is_unknown_and_says_what_would_settle_it(rule: str) -> None:
    change = CASES[rule].unknown
    assert change is not None

    unknown = [one for one in found(plan_with(change), rule) if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.settle_by and one.keys for one in unknown)


@pytest.mark.parametrize("missing", ["distance", "height", "sag", "top"], ids="without {}".format)
def test_no_length_of_the_line_or_the_support_is_guessed(missing: str) -> None:
    plan = plan_with(line(**{missing: None}))

    assert worst(found(plan, NEAR)) is worst(found(plan, TOPPLES)) is UNKNOWN
    assert plan.status == "NOT READY"


def test_a_line_that_is_near_for_a_rising_mast_only() -> None:
    """Clear of the mast as it stands, in reach while it is put up."""
    plan = plan_with(line(distance="5 m", height="6 m", sag="0 m"))

    assert worst(found(plan, NEAR)) is MEETS
    assert worst(found(plan, TOPPLES)) is FAILS


def test_an_unknown_voltage_is_held_to_the_strictest_distance() -> None:
    near, far = line(voltage=None), line(voltage=None, distance="60 m")

    assert compared(near).verdict is FAILS
    assert compared(near).limit.value == pytest.approx(50 * FT)
    assert compared(far).verdict is MEETS


def test_above_the_table_nothing_passes() -> None:
    (first, *_) = found(plan_with(line(voltage="1100 kV", distance="90 m")), NEAR)

    assert isinstance(first.outcome, Missing)
    assert "owner of the line" in first.outcome.because


@pytest.mark.parametrize(
    ("voltage", "feet", "document"),
    [
        ("50 kV", 10, "29 CFR 1910.333"),
        ("138 kV", 15, "29 CFR 1926.1408"),
        ("345 kV", 20, "29 CFR 1910.333"),
        ("765 kV", 45, "29 CFR 1926.1408"),
    ],
)
def test_the_larger_of_the_profiles_tables_counts(voltage: str, feet: float, document: str) -> None:
    limit = compared(line(voltage=voltage, distance="90 m")).limit

    assert limit.value == pytest.approx(feet * FT)
    assert limit.source.document == document
    assert limit.source.mark is Mark.READ


def test_a_table_of_the_place_counts_beside_the_profiles() -> None:
    """Alberta asks for 4 m at 138 kV, the crane table for 15 ft: the larger counts."""
    plan = plan_with(line(country="CA", table="ca-alberta", voltage="138 kV", distance="90 m"))

    assert worst(found(plan, "clearance/approach-table-elsewhere")) is MEETS
    outcomes = [one.outcome for one in found(plan, NEAR)]
    limits = [one.limit.value for one in outcomes if isinstance(one, Compared)]
    assert limits == pytest.approx([15 * FT] * len(limits))


def test_a_misspelled_table_is_unknown_and_names_those_there_are() -> None:
    (first, *_) = found(plan_with(line(table="ca-albert")), NEAR)

    assert isinstance(first.outcome, Missing)
    assert "ca-alberta" in first.outcome.because


def test_no_table_is_for_the_whole_of_australia() -> None:
    assert "au" not in approach_tables()


def test_a_line_that_is_isolated_and_confirmed_is_not_held_to_a_distance() -> None:
    plan = plan_with(line(distance="0 m", **OFF))

    assert found(plan, NEAR) == found(plan, TOPPLES) == []


@pytest.mark.parametrize(
    "change",
    [
        {"confirmed_by": None},
        {"confirmed_on": None},
        {"confirmed_on": date(2026, 11, 26)},
    ],
    ids=["by nobody", "no day", "a day to come"],
)
def test_a_line_that_nobody_has_confirmed_yet_is_live(change: dict[str, Any]) -> None:
    plan = plan_with(line(distance="2 m", **{**OFF, **change}))

    assert worst(found(plan, "clearance/power-line-not-confirmed")) is UNKNOWN
    assert worst(found(plan, NEAR)) is FAILS


def test_insulation_counts_only_where_confirmed() -> None:
    """Western Australia has half a metre for insulated lines up to 1 kV; the US tables do not."""
    insulated = {
        "voltage": "240 V",
        "insulated": True,
        "distance": "9 m",
        "table": "us-wa-scaffold",
    }

    assert compared(line(**insulated)).limit.value == pytest.approx(10 * FT)


def test_a_line_of_the_site_is_asked_at_every_space_with_a_rig() -> None:
    def change(data: dict[str, Any]) -> None:
        line()(data)
        data["site"]["power_line"] = space(data).pop("power_line")

    spaces = {one.space for one in found(plan_with(change), NEAR)}

    assert spaces == {"wet-well", "valve-chamber"}


def test_a_beam_that_stands_there_does_not_fall() -> None:
    about = {one.about for one in found(plan_with(line()), TOPPLES)}

    assert about == {"primary, Feeder"}


def test_a_top_below_the_hook_is_refused() -> None:
    (first, *_) = found(plan_with(line(top="5 ft")), NEAR)

    assert isinstance(first.outcome, Missing)


@pytest.mark.parametrize("rule", [NEAR, TOPPLES])
@pytest.mark.parametrize("distance", ["1 m", "5 m", "40 m"])
def test_the_printed_formula_gives_the_result(rule: str, distance: str) -> None:
    one = compared(line(distance=distance), rule)

    values = {each.symbol: each.value for each in one.inputs}
    assert len(values) == len(one.inputs)
    assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


@pytest.mark.parametrize("rule", [NEAR, TOPPLES])
def test_the_distance_that_would_settle_it_settles_it(rule: str) -> None:
    (first, *_) = found(plan_with(line(distance="2 m", height="6 m")), rule)
    named = first.settle_by.split()[2]

    assert compared(line(distance=f"{named} m", height="6 m"), rule).verdict is MEETS
    less = f"{float(named) - 0.03:.2f} m"
    assert compared(line(distance=less, height="6 m"), rule).verdict is Verdict.MARGINAL


def test_silence_keeps_a_plan_from_being_ready_and_words_do_not() -> None:
    assert plan_with(silence).status == "NOT READY"
    assert plan_with().status == "READY FOR REVIEW"
    asked = found(plan_with(silence, line()), "clearance/overhead-not-stated")
    assert {one.space for one in asked} == {"valve-chamber"}


WORSE = {
    "nearer line": lambda v: line(distance=f"{30 - v:.4f} m"),
    "lower line": lambda v: line(height=f"{31 - v:.4f} m", distance="6 m"),
    "more sag": lambda v: line(sag=f"{v:.4f} m", height="14 m", distance="6 m"),
    "higher voltage": lambda v: line(voltage=f"{33 * v:.4f} kV", distance="16 m"),
    "higher top": lambda v: line(top=f"{3.6 + v:.4f} m"),
}


@pytest.mark.parametrize("name", WORSE)
@settings(max_examples=12, deadline=None)
@given(pair=st.tuples(st.floats(0.01, 30), st.floats(0.01, 30)))
def test_a_worse_line_never_helps(name: str, pair: tuple[float, float]) -> None:
    less, more = (plan_with(WORSE[name](value)) for value in sorted(pair))

    for rule in (NEAR, TOPPLES):
        before, after = worst(found(less, rule)), worst(found(more, rule))
        assert WORST_FIRST.index(after) <= WORST_FIRST.index(before)


def test_a_line_overhead_leaves_its_height_less_the_sag() -> None:
    """Plumb above: 6 m less 1 m of sag, less a top of 10 ft."""
    gap = compared(line(distance="0 m"), NEAR).result.value

    assert gap == pytest.approx(5 - 10 * FT)
