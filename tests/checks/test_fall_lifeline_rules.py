"""A fall on a horizontal lifeline: room, strength, users, designer, each fires, rests, unknown."""

import math

import pytest
from broken_fall import absorber, metres
from broken_lifeline import CASES as NEVER_FAIL
from broken_lifeline import not_a_line, on_line
from broken_sites import Break, found, plan_with, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out
from scipy import optimize

from planbuilder.findings import Compared, Finding, Verdict

ROOM, HOLDS = "clearance/fall-hits-something", "clearance/lifeline-too-weak-for-fall"
PLAIN = "clearance/lifeline-beyond-plain-anchor"
TAUT = "0.1 m"

# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    (ROOM, on_line(fall={"below": "3.7 m"}), on_line(), on_line(stiffness=None)),
    (ROOM, on_line(fall={"below": "3.7 m"}), on_line(sag="0.3 m"), on_line(slack_length=None)),
    (ROOM, on_line(stiffness="40 kN"), on_line(), on_line(line_mass="0 kg")),
    (ROOM, on_line(fall={"below": "3.7 m"}), on_line(), not_a_line),
    (HOLDS, on_line(end_rating="20 kN"), on_line(), on_line(end_rating=None)),
    (HOLDS, on_line(line_breaking="20 kN"), on_line(), on_line(line_breaking=None)),
    (HOLDS, on_line(sag="0.02 m"), on_line(), on_line(span=None)),
    (HOLDS, on_line(people=3, users=3), on_line(), on_line(fall={"absorber": absorber(peak=None)})),
    (PLAIN, on_line(sag=TAUT), on_line(), on_line(line_mass=None)),
    ("clearance/lifeline-shared-in-fall", on_line(people=2), on_line(), on_line(users=None)),
]


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def compared(rule: str, *breaks: Break) -> Compared:
    outcome = asked(rule, *breaks)[0].outcome
    assert isinstance(outcome, Compared)
    return outcome


@pytest.mark.parametrize(("rule", "fires", "rests", "missing"), CASES)
def test_a_rule_fires_rests_and_says_unknown(
    rule: str, fires: Break, rests: Break, missing: Break
) -> None:
    unknown = asked(rule, missing)

    assert worst(asked(rule, fires)) is Verdict.FAILS
    assert worst(asked(rule, rests)) is Verdict.MEETS
    assert worst(unknown) is Verdict.UNKNOWN
    assert all(one.settle_by and one.keys for one in unknown)


@pytest.mark.parametrize("number", range(len(CASES)))
def test_printed_formula_gives_the_result(number: int) -> None:
    rule, fires, rests, _ = CASES[number]
    for change in (fires, rests):
        one = compared(rule, change)
        values = {each.symbol: each.value for each in one.inputs}
        assert len(values) == len(one.inputs)
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


def test_a_lifeline_that_nobody_designed_blocks() -> None:
    ((rule, _, rests, missing),) = NEVER_FAIL

    assert worst(asked(rule, rests)) is Verdict.MEETS
    assert worst(asked(rule, missing)) is Verdict.UNKNOWN
    assert asked(rule, missing)[0].blocks


def test_a_lifeline_under_a_fall_is_inspected() -> None:
    about = [one.about for one in asked("plan/inspection-overdue", on_line())]

    assert "Overhead line" in about


@pytest.mark.parametrize("counted_by", ["dring", "whole-body"])
def test_line_goes_down_as_far_as_least_energy_says(counted_by: str) -> None:
    """scipy: the bow by its arc length and own pull, then the least energy with the load on it."""
    span_m, stiffness_n, weight_n, sag_m = 12.0, 3.07e6, 4.5 * 9.80665, 0.2
    shape = optimize.brentq(lambda c: c * (math.cosh(span_m / 2 / c) - 1) - sag_m, 20, 2000)
    bow_m = 2 * shape * math.sinh(span_m / 2 / shape)  # a catenary
    length_m = bow_m / (1 + weight_n / bow_m * shape / stiffness_n)
    load_n = 6000 + weight_n / 2

    def energy(low_m: float) -> float:
        stretch_m = 2 * math.hypot(span_m / 2, low_m) - length_m
        return stiffness_n * max(0.0, stretch_m) ** 2 / (2 * length_m) - load_n * low_m

    low_m = optimize.minimize_scalar(energy, bounds=(0.1, 3), options={"xatol": 1e-10}).x
    with_line = compared(ROOM, on_line(sag="0.2 m", fall={"counted_by": counted_by}))
    without = compared(ROOM, on_line(fall={"counted_by": counted_by, "lifeline": None}))

    gone_m = with_line.result.value - without.result.value
    assert gone_m == pytest.approx(low_m - sag_m, rel=2e-3)


def test_sag_or_length_tell_the_same_line() -> None:
    by_sag = compared(ROOM, on_line(sag="0.2 m"))
    drop = next(one for one in by_sag.inputs if one.symbol == "d_l")
    loaded = next(one for one in drop.of if one.symbol == "sag")

    # 12.0089 m of bow, less 1.3 mm that its own 331 N stretch it.
    by_length = compared(ROOM, on_line(slack_length="12.00759 m"))

    assert loaded.value == pytest.approx(0.79, abs=0.02)
    assert by_length.result.value == pytest.approx(by_sag.result.value, abs=1e-3)


def test_ends_as_strong_as_told_hold() -> None:
    before = asked(HOLDS, on_line(end_rating="20 kN"))[0]
    strong = before.settle_by.partition("for ")[2].partition(" kN")[0]
    after = compared(HOLDS, on_line(end_rating=f"{strong} kN"))

    assert after.limit.value <= after.result.value <= after.limit.value * 1.01


def test_sag_told_brings_the_pull_down_to_a_plain_anchorage() -> None:
    before = asked(PLAIN, on_line(sag=TAUT))[0]
    after = compared(PLAIN, on_line(sag=metres(before.settle_by, "hang #")))

    assert after.limit.value * 0.98 <= after.result.value <= after.limit.value


def test_anchor_told_is_high_enough_on_a_line_too() -> None:
    low = {"below": "3.7 m"}
    before = asked(ROOM, on_line(fall=low))[0]
    high = {**low, "anchor_height": metres(before.settle_by, "at least #")}
    after = compared(ROOM, on_line(fall=high))

    assert after.verdict is Verdict.MEETS
    assert -0.012 <= after.result.value + after.slack - after.limit.value <= 0


@settings(max_examples=15, deadline=None)
@given(sag=st.floats(0.05, 1), more=st.floats(0, 0.5))
def test_a_line_that_hangs_less_never_pulls_less(sag: float, more: float) -> None:
    slack, taut = (
        compared(PLAIN, on_line(sag=f"{one:.4f} m")).result.value for one in (sag + more, sag)
    )

    assert taut >= slack * (1 - 1e-9)


@pytest.mark.parametrize("kind", ["self-retracting-line", "rope-grab"])
def test_every_kind_of_arrest_goes_down_with_the_line(kind: str) -> None:
    fall = {
        "arrest": kind,
        "device": "retractor-3",
        "anchor_height": "2.5 m",
        "grab_height": "1.6 m",
        "grab_locking": "0.15 m",
        "rope_strain": "6 %",
    }
    with_line = compared(ROOM, on_line(fall=fall))
    without = compared(ROOM, on_line(fall={**fall, "lifeline": None}))

    assert with_line.result.value > without.result.value + 0.1
