"""Crawled stretches: each rule fires, rests and says unknown; a narrower one never helps."""

import pytest
from broken_crawlways import a_set, crawlway, entrants, fallback_gone, no_sheet
from broken_sites import WORST_FIRST, Break, found, plan_with, rules_of, worst
from hypothesis import given, settings
from hypothesis import strategies as st
from printed_formula import work_out

from planbuilder.checks.room import crawlways
from planbuilder.findings import Compared, Finding, Stated, Verdict

FAILS, UNKNOWN, MEETS, MARGINAL = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS, Verdict.MARGINAL
SAMPLE = "storage_tank"
SMALL = "clearance/crawlway-too-small"
BESIDE = "clearance/no-room-beside-casualty"
# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    (SMALL, crawlway(diameter="22 in"), crawlway(diameter="30 in"), crawlway()),
    (
        SMALL,
        crawlway(width="30 in", height="18 in"),
        crawlway(width="30 in", height="24 in"),
        crawlway(width="30 in"),
    ),
    (BESIDE, crawlway(diameter="30 in"), crawlway(diameter="48 in"), crawlway()),
    (
        BESIDE,
        crawlway(width="1.0 m", height="1 m"),
        crawlway(width="1.2 m", height="1 m"),
        crawlway(height="1 m"),
    ),
]
LARGE = entrants(shoulder_breadth="567 mm", body_depth="298 mm")


def answers(rule: str, *changes: Break) -> list[Finding]:
    return found(plan_with(*changes, sample=SAMPLE), rule)


def test_every_rule_is_here() -> None:
    assert {SMALL, BESIDE} == rules_of(crawlways)


@pytest.mark.parametrize(
    ("rule", "fires", "rests", "unknown"),
    CASES,
)
def test_a_rule_fires_rests_and_says_unknown(
    rule: str, fires: Break, rests: Break, unknown: Break
) -> None:
    plans = [plan_with(one, sample=SAMPLE) for one in (fires, rests, unknown)]
    verdicts = [worst(found(one, rule)) for one in plans]

    assert verdicts[0] is FAILS
    assert verdicts[1] in (MEETS, MARGINAL)
    assert verdicts[2] is UNKNOWN
    assert all(one.settle_by and one.keys for plan in plans for one in found(plan, rule))
    assert plans[2].status == "NOT READY"
    if rule == SMALL:
        assert plans[0].status == "NOT READY"


def test_what_is_not_crawled_or_is_the_opening_is_not_asked_for() -> None:
    """The storage tank's manway is crawled, and its opening is measured."""
    assert found(plan_with(sample="pump_station"), SMALL) == []
    assert answers(SMALL) == answers(BESIDE) == []
    assert worst(answers(SMALL, crawlway())) is UNKNOWN


def test_a_sheet_that_is_not_measured_is_unknown() -> None:
    rows = [
        one for one in answers(SMALL, no_sheet, crawlway(diameter="30 in")) if "packed" in one.about
    ]

    assert worst(rows) is UNKNOWN
    assert rows[0].keys == ("equipment.sheet.packed.width",)


def needed(rule: str, about: str, *changes: Break) -> float:
    (one,) = [each for each in answers(rule, fallback_gone, *changes) if about in each.about]
    assert isinstance(one.outcome, Compared)
    return one.outcome.result.value


@pytest.mark.parametrize(
    ("about", "needed_m"), [("floor: casualty", 0.637), ("rescuer with set", 0.6731)]
)
def test_a_large_man_in_a_round_pipe(about: str, needed_m: float) -> None:
    """clearance.md N1, max(B, D) + c, and O5 + c with a set of 300 x 200 mm."""
    large = (LARGE, a_set(width="300 mm", depth="200 mm"), crawlway(diameter="1 m"))

    assert needed(SMALL, about, *large) == pytest.approx(needed_m, abs=2e-4)


def test_two_depths_are_not_room_for_two_people() -> None:
    """The reference page lets them pass from 2 D + c on, 666 mm; its O8 needs 902 with a set."""
    usual_set = a_set(width="300 mm", depth="200 mm")
    pipe = crawlway(diameter="2 m")

    assert needed(BESIDE, "primary", LARGE, usual_set, pipe) == pytest.approx(0.902, abs=1e-3)
    bare = [LARGE, a_set(width="101 mm", depth="101 mm")]
    assert worst(answers(BESIDE, *bare, crawlway(diameter="0.7 m"))) is FAILS


def test_words_on_who_is_where_settle_it_and_are_printed() -> None:
    (one, *_) = answers(BESIDE, crawlway(diameter="30 in", rescuers="both-ends"))

    assert isinstance(one.outcome, Stated)
    assert one.verdict is MEETS
    assert "one behind" in one.outcome.because


@pytest.mark.parametrize(
    "change",
    [
        crawlway(diameter="24 in"),
        crawlway(diameter="2 m"),
        crawlway(width="24 in", height="20 in"),
        crawlway(width="3 m", height="1 m"),
    ],
)
@pytest.mark.parametrize("rule", [SMALL, BESIDE])
def test_printed_formula_gives_the_result(rule: str, change: Break) -> None:
    outcomes = [one.outcome for one in answers(rule, change)]
    compared = [one for one in outcomes if isinstance(one, Compared)]

    assert compared
    for one in compared:
        values = {each.symbol: each.value for each in one.inputs}
        assert len(values) == len(one.inputs)
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


def test_the_size_that_would_settle_it_settles_it() -> None:
    rows = answers(SMALL, crawlway(diameter="22 in"))
    named = max(
        one.settle_by.split(" from a clear diameter of pipe of ")[1].split()[0] for one in rows
    )

    assert worst(rows) is FAILS
    assert worst(answers(SMALL, crawlway(diameter=f"{named} m"))) in (MEETS, MARGINAL)
    less = crawlway(diameter=f"{float(named) - 0.002:.3f} m")
    assert worst(answers(SMALL, less)) is FAILS


@settings(max_examples=12, deadline=None)
@given(pair=st.tuples(st.floats(0.3, 1.6), st.floats(0.3, 1.6)))
@pytest.mark.parametrize("side", ["diameter", "width", "height"])
def test_a_narrower_crawlway_never_helps(side: str, pair: tuple[float, float]) -> None:
    narrow, wide = sorted(pair)

    def crawled(size_m: float) -> Break:
        sizes = {"width": "2 m", "height": "2 m"} if side != "diameter" else {}
        return crawlway(**{**sizes, side: f"{size_m:.4f} m"})

    for rule in (SMALL, BESIDE):
        after, before = (worst(answers(rule, crawled(one))) for one in (narrow, wide))
        assert WORST_FIRST.index(after) <= WORST_FIRST.index(before)
