"""From anchor to D-ring: long enough, from above, line left in the device, edges; and what is low.

The last tests hold what other rules answer for: anchors below the feet, posture, rope near ground.
"""

import math

import pytest
from broken_fall import absorber, falling, metres, on_grab, on_lanyard
from broken_haul import both, nothing, put
from broken_sites import Break, found, plan_with, worst
from printed_formula import work_out

from planbuilder.findings import Compared, Finding, Verdict

SHORT, PAID_OUT = "clearance/connector-too-short", "clearance/retractor-line-too-short"
BELOW, EDGE = "clearance/lanyard-anchored-below-dring", "clearance/line-over-bare-edge"
ROOM = "clearance/fall-hits-something"
DEVICE = ("device", "retractor-3")
LOW = {"anchor_height": "1.2 m"}
FOR_LONG_FALLS = absorber(free_fall="1.6 m")

# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    (SHORT, on_lanyard(anchor_height="2.7 m"), on_lanyard(), on_lanyard(connector=None)),
    (SHORT, on_lanyard(offset="1.3 m"), on_lanyard(offset="1.1 m"), on_lanyard(offset=None)),
    (SHORT, on_lanyard(anchor_height="0.2 m"), on_lanyard(), on_lanyard(dring_height=None)),
    (SHORT, on_grab(grab_height="2.4 m"), on_grab(), on_grab(grab_height=None)),
    (PAID_OUT, put(*DEVICE, line_length="1 m"), nothing, put(*DEVICE, line_length=None)),
    (PAID_OUT, put(*DEVICE, line_length="2 m"), nothing, put(*DEVICE, arrest_distance=None)),
    (BELOW, on_lanyard(**LOW), on_lanyard(), on_lanyard(anchor_height=None)),
    (BELOW, on_grab(grab_height="1.4 m"), on_grab(), on_grab(dring_height=None)),
    (
        BELOW,
        on_lanyard(anchor_height="0.9 m", absorber=FOR_LONG_FALLS),
        on_lanyard(**LOW, absorber=FOR_LONG_FALLS),
        on_lanyard(**LOW, connector=None, absorber=FOR_LONG_FALLS),
    ),
    (
        EDGE,
        falling(offset="0.5 m", edge="bare"),
        falling(offset="0.5 m", edge="protected"),
        falling(offset="0.5 m"),
    ),
    (
        EDGE,
        on_lanyard(edge="bare"),
        on_lanyard(anchor_height="-0.1 m", edge="rated-for-edge"),
        on_lanyard(anchor_height="0 m"),
    ),
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
    assert all(one.settle_by and one.keys and one.blocks for one in unknown)


@pytest.mark.parametrize("number", [i for i, one in enumerate(CASES) if one[0] != EDGE])
def test_printed_formula_gives_the_result(number: int) -> None:
    rule, fires, rests, _ = CASES[number]
    for change in (fires, rests):
        one = compared(rule, change)
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


def test_line_that_hangs_plumb_over_the_opening_meets_no_edge() -> None:
    assert asked(EDGE) == []


def test_connector_as_long_as_told_reaches() -> None:
    aside = {"offset": "1.3 m"}
    length = metres(asked(SHORT, on_lanyard(**aside))[0].settle_by, "at least #")

    assert float(length.removesuffix(" m")) == pytest.approx(math.hypot(1.3, 0.05), abs=0.01)
    assert worst(asked(SHORT, on_lanyard(**aside, connector=length))) is Verdict.MEETS


def test_anchor_told_is_at_the_dring() -> None:
    height = metres(asked(BELOW, on_lanyard(**LOW))[0].settle_by, "at least #")

    assert height == "1.45 m"


def test_line_told_is_enough_for_the_arrest() -> None:
    short = put(*DEVICE, line_length="1 m")
    length = metres(asked(PAID_OUT, short)[0].settle_by, "at least #")

    assert worst(asked(PAID_OUT, put(*DEVICE, line_length=length))) is Verdict.MEETS


@pytest.mark.parametrize("dring", ["0.95 m", "1.45 m", "1.6 m"])
def test_an_anchor_below_the_feet_always_falls_too_far(dring: str) -> None:
    """A lanyard that reaches up to the D-ring from there falls twice that height at least."""
    low = on_lanyard(
        anchor_height="-0.05 m", connector="1.7 m", dring_height=dring, edge="protected"
    )

    assert worst(asked("clearance/free-fall-too-long", low)) is Verdict.FAILS
    assert worst(asked(BELOW, low)) is Verdict.FAILS


@pytest.mark.parametrize("room", ["3 m", "4.5 m", "6 m"])
def test_a_retractor_below_the_feet_is_below_the_dring(room: str) -> None:
    low = falling(anchor_height="-0.05 m", edge="protected", below=room)

    assert worst(asked("clearance/retractor-below-dring", low)) is Verdict.FAILS


def test_kneeling_gives_no_room_below() -> None:
    """The free fall is shorter, and ends at the same place."""
    kneeling = on_lanyard(dring_height="0.9 m")
    falls = "clearance/free-fall-too-long"

    assert compared(ROOM, kneeling).result.value == compared(ROOM, on_lanyard()).result.value
    assert compared(falls, kneeling).result.value < compared(falls, on_lanyard()).result.value


def test_rope_stretches_most_near_the_ground() -> None:
    """10 m more of rope above the same grab stretch 0.6 m more at 6 %."""
    high, low = (compared(ROOM, on_grab(anchor_height=one)) for one in ("6.6 m", "16.6 m"))

    assert low.result.value - high.result.value == pytest.approx(0.6)


def test_both_are_named_where_both_are_missing() -> None:
    one = asked(SHORT, both(on_lanyard(connector=None), falling(dring_height=None)))[0]

    assert len(one.keys) == 2
