"""Fall arrest: room below, absorber, force; what is named as the smallest change is enough."""

from typing import Any

import pytest
from broken_fall import absorber, falling, ledge, metres, on_grab, on_lanyard
from broken_haul import both, nothing, put
from broken_sites import Break, found, plan_with, worst
from printed_formula import work_out

from planbuilder.findings import Compared, Finding, Verdict

ROOM = "clearance/fall-hits-something"

# rule: what makes it fire, what lets it rest, what leaves it unknown.
CASES: list[tuple[str, Break, Break, Break]] = [
    (ROOM, on_lanyard(below="3 m"), on_lanyard(), on_lanyard(connector=None)),
    (ROOM, on_grab(below="3 m"), on_grab(), on_grab(rope_strain=None)),
    (ROOM, on_grab(rope_strain="22 %"), on_grab(), on_grab(grab_height=None)),
    (ROOM, on_grab(offset="3.5 m"), on_grab(), on_grab(grab_height="7 m")),
    (ROOM, falling(obstacle=ledge()), nothing, falling(obstacle=ledge(aside=None))),
    (
        ROOM,
        falling(obstacle=[*ledge(below="4 m"), *ledge()]),
        falling(obstacle=ledge(aside="4 m")),
        falling(obstacle=ledge(below=None)),
    ),
    (
        "clearance/free-fall-too-long",
        on_grab(grab_height="0.3 m", grab_locking="0.5 m"),
        on_grab(),
        on_grab(grab_locking=None),
    ),
    (
        "clearance/absorber-bottoms-out",
        on_lanyard(absorber=absorber(travel="0.3 m")),
        on_lanyard(),
        on_lanyard(absorber=absorber(travel=None)),
    ),
    (
        "clearance/absorber-bottoms-out",
        on_grab(absorber=absorber(travel="0.2 m")),
        on_grab(),
        on_grab(absorber=absorber(force="0.9 kN")),
    ),
    (
        "clearance/deceleration-too-long",
        on_lanyard(absorber=absorber(force="1.6 kN", travel="3 m")),
        on_lanyard(),
        on_lanyard(absorber=None),
    ),
    (
        "clearance/arrest-force-too-high",
        on_lanyard(absorber=absorber(peak="8.1 kN")),
        on_lanyard(),
        on_lanyard(absorber=absorber(peak=None)),
    ),
    (
        "clearance/arrest-force-too-high",
        put("device", "retractor-3", arrest_force="8.1 kN"),
        nothing,
        put("device", "retractor-3", arrest_force=None),
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
    plan = plan_with(fires)
    unknown = asked(rule, missing)

    assert worst(found(plan, rule)) is Verdict.FAILS
    assert plan.status == "NOT READY"
    assert worst(asked(rule, rests)) is Verdict.MEETS
    assert worst(unknown) is Verdict.UNKNOWN
    assert all(one.settle_by and one.keys and one.blocks for one in unknown if one.open)


@pytest.mark.parametrize("number", range(len(CASES)))
def test_printed_formula_gives_the_result(number: int) -> None:
    rule, fires, rests, _ = CASES[number]

    for change in (fires, rests):
        one = compared(rule, change)
        symbols = [each.symbol for each in one.inputs]
        assert len(symbols) == len(set(symbols))
        values = {each.symbol: each.value for each in one.inputs}
        assert work_out(one.formula, values) == pytest.approx(one.result.value, rel=1e-9)


def assert_just_enough(after: Compared) -> None:
    """Met with all the slack that is wanted, and with a centimetre more at most."""
    assert after.verdict is Verdict.MEETS
    assert after.result.value >= after.limit.value - after.slack - 0.012


LOW = {"below": "3 m"}
REMEDIES: list[tuple[Any, str, str, str]] = [
    (on_lanyard, ROOM, "at least #", "anchor_height"),
    (on_lanyard, ROOM, "of at most #", "connector"),
    (on_grab, ROOM, "at least #", "grab_height"),
]


@pytest.mark.parametrize(("kind", "rule", "words", "key"), REMEDIES)
def test_smallest_change_named_is_enough_and_no_more_than_needed(
    kind: Any, rule: str, words: str, key: str
) -> None:
    before = asked(rule, kind(**LOW))[0]
    after = compared(rule, kind(**LOW, **{key: metres(before.settle_by, words)}))

    assert before.verdict is Verdict.FAILS
    assert_just_enough(after)


@pytest.mark.parametrize(
    ("words", "key"), [("at least #", "anchor_height"), ("within #", "offset")]
)
def test_swing_of_a_retractor_is_settled_by_height_or_by_keeping_near(words: str, key: str) -> None:
    tight = falling(offset="2 m", below="2.7 m")
    before = asked(ROOM, tight)[0]
    after = compared(ROOM, tight, falling(**{key: metres(before.settle_by, words)}))

    assert before.verdict is Verdict.FAILS
    assert_just_enough(after)


def test_no_anchor_is_high_enough_where_the_arrest_itself_has_no_room() -> None:
    assert "no anchor is high enough" in asked(ROOM, falling(below="2 m"))[0].settle_by


def test_free_fall_allowed_lets_the_absorber_hold() -> None:
    rule, short = "clearance/absorber-bottoms-out", absorber(travel="0.3 m")
    before = asked(rule, on_lanyard(absorber=short))[0]
    falls = float(metres(before.settle_by, "free fall to #").removesuffix(" m"))
    higher = f"{1.45 + 1.2 - falls:.4f} m"

    after = compared(rule, on_lanyard(absorber=short, anchor_height=higher))

    assert after.limit.value - 0.012 <= after.result.value <= after.limit.value


@pytest.mark.parametrize("kind", [on_lanyard, on_grab, falling])
def test_two_ways_of_counting_never_mix(kind: Any) -> None:
    """By the whole body: no stretch and no D-ring; its height takes the place of both."""
    by_dring = compared(ROOM, kind(counted_by="dring"))
    by_body = compared(ROOM, kind(counted_by="whole-body"))
    dring = {one.symbol: one.value for one in by_dring.inputs}
    body = {one.symbol for one in by_body.inputs}

    assert {"h_sf", "k_D"} <= set(dring)
    assert not {"h_sf", "k_D"} & body
    assert by_body.result.value - by_dring.result.value == pytest.approx(
        dring["H"] * (1 - dring["k_D"]) - dring["h_sf"]
    )
    assert "whole body" in by_body.result.label


def test_a_weak_absorber_needs_more_room_than_the_rule_counts() -> None:
    weak = on_lanyard(absorber=absorber(force="1.6 kN", travel="4 m"), below="9 m")

    assert compared(ROOM, weak).result.value > compared(ROOM, on_lanyard()).result.value + 0.5


def test_an_obstacle_off_the_way_of_the_fall_is_not_hit() -> None:
    far = falling(obstacle=ledge(aside="4 m"))

    assert compared(ROOM, far) == compared(ROOM, nothing)


def test_what_is_missing_of_both_is_named_together() -> None:
    one = asked(ROOM, both(on_lanyard(connector=None), falling(below=None)))[0]

    assert len(one.keys) == 2
