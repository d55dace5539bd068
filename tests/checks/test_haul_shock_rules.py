"""Shock on the line: which length gives, what softens it, and what silence means."""

import math

import pytest
from broken_haul import DAVIT, ROPES, WINCH, both, put, rig
from broken_sites import Break, found, plan_with

from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.plan import Plan

FOOT, INCH = 0.3048, 0.0254
WEIGHT = 95.5 * 9.80665  # 84 kg, clothes 3 kg wet through, harness 3.5 kg, hook 2 kg


def shock(plan: Plan, about: str = "primary") -> Finding:
    """The slack finding of a way out of the wet well."""
    (mine,) = [
        one
        for one in found(plan, "haul/slack-line")
        if (one.space, one.about) == ("wet-well", about)
    ]
    return mine


def force(change: Break, about: str = "primary") -> float:
    outcome = shock(plan_with(change), about).outcome
    assert isinstance(outcome, Compared)
    return outcome.result.value


def by_energy(stiffness: float, slack: float) -> float:
    """The stretch at which the height lost has gone into the line, by halving."""
    low, high = 0.0, 100.0
    for _ in range(200):
        stretch = (low + high) / 2
        lost, held = WEIGHT * (slack + stretch), stiffness * stretch**2 / 2
        low, high = (stretch, high) if lost > held else (low, stretch)
    return stiffness * low


def test_the_shortest_line_counts_as_it_hardly_gives() -> None:
    """Wire of 3/16 in, 8 ft 4 in less 6 in of connectors, and 5 ft down to the drum."""
    length = 8 * FOOT + 4 * INCH - 6 * INCH + 5 * FOOT
    wire = 0.40 * (3 / 16 * INCH) ** 2 * 90e9

    assert force(rig(slack="1 in")) == pytest.approx(by_energy(wire / length, INCH), rel=1e-6)


def test_four_strands_side_by_side_give_a_quarter() -> None:
    """33 kN a strand over 10 ft less 6 in."""
    stiffness = 4 * 33e3 / (10 * FOOT - 6 * INCH)
    gantry = put("support", "gantry", arrest_load="22 kN")

    got = force(both(gantry, rig("fallback", slack="2 in")), "fallback")

    assert got == pytest.approx(by_energy(stiffness, 2 * INCH), rel=1e-6)


def test_elongation_on_the_label_is_a_stiffness() -> None:
    """3.4 % at 114.4 kgf is 33 kN."""
    by_label = put(
        *ROPES,
        line_stiffness=None,
        line_elongation="3.4 %",
        line_elongation_at=f"{33000 * 0.034:.3f} N",
    )
    gantry = both(put("support", "gantry", arrest_load="22 kN"), rig("fallback", slack="2 in"))

    assert force(both(gantry, by_label), "fallback") == pytest.approx(force(gantry, "fallback"))


def test_a_textile_link_softens_the_shock_where_its_give_is_stated() -> None:
    link = {"name": "Textile strop", "breaking": "30 kN", "length": "2 ft", "stiffness": "40 kN"}
    plain = {key: link[key] for key in ("name", "breaking")}

    soft, hard = (force(rig(link=[one])) for one in (link, plain))

    assert soft < hard == pytest.approx(force(rig()))


def test_an_absorber_sets_the_force() -> None:
    absorber = {"force": "4 kN", "travel": "4 in"}

    assert force(rig(slack="12 in", absorber=absorber)) == pytest.approx(4000)


def test_a_taut_line_that_lets_go_pulls_twice_the_weight() -> None:
    assert force(both(rig(slack="0 in"), put(*WINCH, line_is=None))) == pytest.approx(2 * WEIGHT)


def test_slack_that_nobody_stated_blocks() -> None:
    plan = plan_with(rig(slack=None))

    assert shock(plan).verdict is Verdict.UNKNOWN
    assert shock(plan).blocks


def test_a_head_that_is_not_rated_for_a_catch_allows_no_slack() -> None:
    assert shock(plan_with(put(*DAVIT, arrest_load=None))).verdict is Verdict.UNKNOWN


def test_a_weaker_head_sets_the_limit() -> None:
    assert shock(plan_with(put(*DAVIT, arrest_load="3 kN"))).verdict is Verdict.FAILS


def test_the_slack_that_is_named_as_the_most_is_the_most() -> None:
    told = shock(plan_with(rig(slack="12 in"))).settle_by
    most = int(told.split("at most ")[1].split(" mm")[0])

    assert shock(plan_with(rig(slack=f"{most} mm"))).verdict is Verdict.MEETS
    assert shock(plan_with(rig(slack=f"{most + 1} mm"))).verdict is Verdict.FAILS


def test_a_faster_lowering_stops_harder() -> None:
    """By hand for the wet well: W + v sqrt(m k)."""
    length = 8 * FOOT + 4 * INCH - 6 * INCH + 5 * FOOT
    stiffness = 0.40 * (3 / 16 * INCH) ** 2 * 90e9 / length
    plan = plan_with(put(*WINCH, line_speed="0.5 m/s"))

    outcome = next(
        one.outcome for one in found(plan, "haul/sudden-stop") if one.space == "wet-well"
    )

    assert isinstance(outcome, Compared)
    expected = WEIGHT + 0.5 * math.sqrt(95.5 * stiffness)
    assert outcome.result.value == pytest.approx(expected)
