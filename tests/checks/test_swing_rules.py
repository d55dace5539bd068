"""Swing: height lost, angle, what stands in the way; the offset named is small enough."""

import pytest
from broken_fall import falling, ledge, metres, on_grab, on_lanyard
from broken_haul import nothing
from broken_sites import Break, found, plan_with, worst
from printed_formula import work_out

from planbuilder.findings import Compared, Verdict

BEYOND = ledge(what="the column", below="-1 m", aside="-1.6 m")

# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    ("clearance/swing-drops-too-far", falling(offset="3 m"), nothing, falling(offset=None)),
    (
        "clearance/swing-drops-too-far",
        on_grab(anchor_height="3 m", offset="3 m"),
        on_grab(),
        on_grab(offset=None),
    ),
    ("clearance/swing-too-wide", falling(offset="1 m"), nothing, falling(dring_height=None)),
    (
        "clearance/swing-too-wide",
        on_lanyard(offset="0.8 m"),
        on_lanyard(),
        on_lanyard(offset="2 m"),
    ),
    (
        "clearance/swing-hits-something",
        falling(offset="1.2 m", obstacle=BEYOND),
        falling(offset="0.9 m", obstacle=BEYOND),
        falling(offset="1.2 m", obstacle=ledge(aside=None)),
    ),
]


@pytest.mark.parametrize(("rule", "fires", "rests", "missing"), CASES)
def test_a_rule_fires_rests_and_says_unknown(
    rule: str, fires: Break, rests: Break, missing: Break
) -> None:
    unknown = found(plan_with(missing), rule)

    assert worst(found(plan_with(fires), rule)) is Verdict.FAILS
    assert worst(found(plan_with(rests), rule)) is Verdict.MEETS
    assert worst(unknown) is Verdict.UNKNOWN
    assert all(one.settle_by and one.keys for one in unknown)


@pytest.mark.parametrize("number", range(len(CASES)))
def test_formula_gives_the_result_and_the_offset_named_is_enough(number: int) -> None:
    rule, fires, rests, _ = CASES[number]
    for change in (fires, rests):
        one = found(plan_with(change), rule)[0].outcome
        assert isinstance(one, Compared)
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


@pytest.mark.parametrize("number", [0, 1, 2, 4])
def test_offset_named_is_enough(number: int) -> None:
    rule, fires, _, _ = CASES[number]
    near = metres(found(plan_with(fires), rule)[0].settle_by, "within #")

    assert worst(found(plan_with(fires, falling(offset=near)), rule)) is Verdict.MEETS


def test_column_on_the_way_is_said_with_its_speed() -> None:
    said = found(plan_with(falling(offset="1.5 m", obstacle=BEYOND)), CASES[-1][0])[0].settle_by

    assert "the column" in said
    assert "m/s, like a fall of" in said


def test_column_that_only_the_gap_reaches_is_not_said_to_be_met() -> None:
    """At 1.6 m the shoulder, 0.25 m from the middle of the body, turns back at 1.2 + 0.25 m."""
    said = found(plan_with(falling(offset="1.2 m", obstacle=BEYOND)), CASES[-1][0])[0].settle_by

    assert "passes it by less than the gap" in said
    assert "m/s" not in said


def test_thing_far_below_the_feet_is_not_in_the_way() -> None:
    deep = ledge(below="9 m", aside="-1.6 m")

    assert not found(plan_with(falling(offset="1.2 m", obstacle=deep)), CASES[-1][0])
