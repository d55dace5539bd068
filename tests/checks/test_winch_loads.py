"""What a winch, its line, its sheaves and the person at its crank are asked for."""

import math
from typing import Any

import pytest
from broken_haul import TRIPOD, WINCH, both, nothing, put, rig
from broken_sites import Break, found, plan_with, space, worst

from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.plan import Plan

G = 9.80665
WET_WELL_N = (84 + 3 + 3.5 + 3 + 2) * G  # Bode Arkwell in soaked clothes, harness, hook
FOOT_M, INCH_M, LBF_N = 0.3048, 0.0254, 4.4482216152605
TRAVEL_M = 21 * FOOT_M + 6 * INCH_M + 0.15  # depth, coaming, room to swing aside


def primary(plan: Plan, rule: str) -> Finding:
    """The finding of the wet well's primary method."""
    return next(
        one
        for one in found(plan, rule)
        if one.space == "wet-well" and one.about.partition(",")[0] == "primary"
    )


def compared(plan: Plan, rule: str) -> Compared:
    outcome = primary(plan, rule).outcome
    assert isinstance(outcome, Compared)
    return outcome


def value(plan: Plan, rule: str) -> float:
    return compared(plan, rule).result.value


def taken(plan: Plan, rule: str, symbol: str) -> float:
    """A number that the finding counted with."""
    return next(one.value for one in compared(plan, rule).inputs if one.symbol == symbol)


def seconds(plan: Plan) -> float:
    """The time of the wet well's raise."""
    steps = plan.spaces[0].timelines[0].steps
    return next(one.usual.value for one in steps if one.step.computed == "haul")


def drum_pull_n(parts: int, eta: float, redirects: int = 0) -> float:
    """By the strands: the drum's strand carries 1, each sheave passes on eta of it."""
    strand, at_hook = 1.0, 0.0
    for _ in range(1 + redirects):
        strand *= eta
    for _ in range(parts):
        at_hook, strand = at_hook + strand, strand * eta
    return WET_WELL_N / at_hook


def reeved(parts: int, **more: Any) -> Break:
    return put(*WINCH, parts=parts, **more)


@pytest.mark.parametrize("parts", [1, 2, 3, 4])
@pytest.mark.parametrize("redirects", [0, 1])
def test_the_crank_pulls_what_the_line_pulls_at_the_drum(parts: int, redirects: int) -> None:
    turned = rig(redirect=[{"angle": "90 deg", "rating": "2000 lbf"}] * redirects)
    plan = plan_with(reeved(parts), turned)

    radius_m = (3.5 / 2 + 3 / 16 / 2 + 2 * 3 / 16) * INCH_M  # third layer of 60 ft, 21 turns each
    lever = 12 * INCH_M * 5 * 0.85
    expected = drum_pull_n(parts, 0.95, redirects) * radius_m / lever
    assert value(plan, "haul/crank-too-heavy") == pytest.approx(expected)


def test_two_parts_are_those_of_the_worked_example() -> None:
    """237.5 kg with 0.95 a sheave: 1257 N at the winch, 3586 N on the head if it stands off."""
    heavy = lambda data: space(data)["rescue"].update(casualty_mass="226 kg")  # noqa: E731
    plan = plan_with(heavy, reeved(2, plate_rates="line-pull"), rig(lead_distance="3 ft"))

    drum_n = value(plan, "haul/device-overloaded")
    head_n = value(plan, "haul/support-overloaded")

    assert round(drum_n) == 1257
    assert round(head_n) == 3586


@pytest.mark.parametrize(
    ("parts", "plate", "share"),
    [
        (1, "lifted-load", 1),
        (2, "lifted-load", 1),
        (1, "line-pull", 1 / 0.95),
        (2, "line-pull", 1 / (0.95 + 0.95**2)),
        (1, None, 1 / 0.95),
        (2, None, 1),
    ],
)
def test_a_plate_that_does_not_say_what_it_rates_is_read_the_stricter_way(
    parts: int, plate: str | None, share: float
) -> None:
    plan = plan_with(reeved(parts, plate_rates=plate))

    assert value(plan, "haul/device-overloaded") == pytest.approx(WET_WELL_N * share)


def test_reeving_doubles_time_and_line_and_eases_crank_and_line() -> None:
    once, twice = plan_with(), plan_with(reeved(2, line_length="120 ft"))

    assert seconds(twice) == pytest.approx(2 * seconds(once))
    need = "haul/line-too-short"
    hanging = value(twice, need) - value(once, need)
    assert hanging == pytest.approx(
        taken(once, need, "z")
        - taken(once, need, "h_lying")
        + taken(once, need, "H")
        - taken(once, need, "h_con")
    )
    assert value(twice, "haul/line-too-weak") > value(once, "haul/line-too-weak") * 1.9
    assert value(twice, "haul/crank-too-heavy") < value(once, "haul/crank-too-heavy")


def test_the_line_is_pulled_hardest_at_the_drum() -> None:
    """Worked example W-4: 140 kg, one sheave of 0.95, 18 kN, 60 mm over 5 mm, end 0.80: 9.964."""
    change = both(
        lambda data: space(data)["rescue"].update(casualty_mass="128.5 kg"),
        put(
            *WINCH,
            line_breaking="18 kN",
            sheave_diameter="60 mm",
            line_diameter="5 mm",
            termination=0.80,
        ),
    )
    plan = plan_with(change)

    assert value(plan, "haul/line-too-weak") * 1.1 == pytest.approx(9.964, abs=5e-4)
    told = primary(plan, "haul/line-too-weak").settle_by
    assert "breaks at 19.9 kN or more" in told  # 18.06 kN and the winch's dynamic factor of 1.1


def test_a_line_as_strong_as_told_is_strong_enough() -> None:
    weak = plan_with(put(*WINCH, line_breaking="1800 lbf"))
    told = primary(weak, "haul/line-too-weak").settle_by.split("breaks at ")[1].split(" or")[0]

    after = plan_with(put(*WINCH, line_breaking=told))

    assert primary(weak, "haul/line-too-weak").verdict is Verdict.FAILS
    assert primary(after, "haul/line-too-weak").verdict is Verdict.MEETS


def test_a_link_as_strong_as_told_is_strong_enough() -> None:
    def broken(strength: str) -> Break:
        return rig(link=[{"name": "Hook", "breaking": strength}])

    weak = plan_with(broken("2 kN"))
    told = primary(weak, "haul/link-too-weak").settle_by.split("breaks at ")[1].split(" or")[0]

    assert primary(plan_with(broken(told)), "haul/link-too-weak").verdict is Verdict.MEETS


def test_a_second_redirect_carries_the_loss_of_the_first() -> None:
    plan = plan_with(rig(redirect=[{"angle": "0 deg", "rating": "2000 lbf"}] * 2))
    first, second = (
        one.outcome.result.value
        for one in found(plan, "haul/redirect-overloaded")
        if isinstance(one.outcome, Compared)
    )

    assert first == pytest.approx(WET_WELL_N / 0.95 * (1 + 1 / 0.95))
    assert second == pytest.approx(first / 0.95)


def turned_by_steps(wound_m: float) -> float:
    """Turns of the sample's crank, wound in small steps of its drum from three wraps on."""
    on_drum, left_m, step = 3.0, wound_m, 1 / 500
    while left_m > 0:
        layer = math.floor(on_drum / 21 + 1e-9) + 1
        left_m -= math.pi * (3.5 + 3 / 16 * (2 * layer - 1)) * INCH_M * step
        on_drum += step
    return (on_drum - 3) * 5


@pytest.mark.parametrize("parts", [1, 2])
@pytest.mark.parametrize("mass_kg", [70, 130])
def test_a_winch_that_nobody_timed_takes_its_turns_or_the_power(parts: int, mass_kg: int) -> None:
    heavy = lambda data: space(data)["rescue"].update(casualty_mass=f"{mass_kg} kg")  # noqa: E731
    plan = plan_with(heavy, reeved(parts, line_speed=None))

    wound_m = TRAVEL_M * parts
    load = max(mass_kg, 84) / 84
    weight = WET_WELL_N + 84 * (load - 1) * G
    by_power = drum_pull_n(parts, 0.95) / WET_WELL_N * weight * wound_m / (0.85 * 75)
    by_turns = turned_by_steps(wound_m) * 1.5
    assert seconds(plan) == pytest.approx(max(by_power, by_turns), abs=0.1)


def test_the_time_counted_from_the_crank_asks_for_no_more_than_the_power_kept_up() -> None:
    plan = plan_with(put(*WINCH, line_speed=None))

    assert value(plan, "haul/raise-quicker-than-power") <= 75 + 1e-6


def test_a_stated_speed_asks_for_force_times_speed() -> None:
    plan = plan_with(put(*WINCH, line_speed="0.1 m/s"))

    expected = drum_pull_n(1, 0.95) * 0.1 / 0.85
    assert value(plan, "haul/raise-quicker-than-power") == pytest.approx(expected)
    assert primary(plan, "haul/raise-quicker-than-power").verdict is Verdict.MARGINAL


def test_a_winch_without_speed_and_without_crank_has_no_time() -> None:
    plan = plan_with(put(*WINCH, line_speed=None, crank_radius=None))

    assert worst(found(plan, "response/air-too-late")) is Verdict.UNKNOWN
    assert plan.status == "NOT READY"


def test_line_wound_as_told_stays_under_the_flange() -> None:
    over = plan_with(put(*WINCH, flange_diameter="4.2 in"))
    told = primary(over, "haul/drum-overfull").settle_by.split("at most ")[1].split(" m")[0]

    after = plan_with(put(*WINCH, flange_diameter="4.2 in", line_length=f"{told} m"))

    assert primary(over, "haul/drum-overfull").verdict is Verdict.FAILS
    assert primary(after, "haul/drum-overfull").verdict is Verdict.MEETS


def test_an_edge_that_may_lie_below_the_head_pulls_on_it() -> None:
    rough = rig(edges=[{"material": "concrete", "turn": "90 deg"}])

    head_n = value(plan_with(rough), "haul/support-overloaded")

    assert head_n == pytest.approx(WET_WELL_N * math.exp(0.44 * math.pi / 2))


def test_the_leg_with_the_winch_is_pushed_by_the_line_past_the_head_sheave() -> None:
    plan = plan_with(put("device", "winch-5", pulley_efficiency=0.8), put(*TRIPOD, chain=True))
    (leg,) = (
        one.outcome
        for one in found(plan, "haul/tripod-leg-overloaded")
        if one.about.endswith("LC1") and isinstance(one.outcome, Compared)
    )
    force, line = (
        next(one.value for one in leg.inputs if one.symbol == name) for name in ("F", "T_leg")
    )

    assert line == pytest.approx(force / 0.8)


@pytest.mark.parametrize(
    ("kind", "mm", "density"), [("wire", 5, 4000), ("wire", 8, 4000), ("textile", 12, 1000)]
)
def test_a_long_line_weighs_on_itself(kind: str, mm: int, density: int) -> None:
    deep = both(
        lambda data: space(data)["shape"].update(depth="60 m"),
        put(*WINCH, line_is=kind, line_diameter=f"{mm} mm"),
        rig(hook_height="2 m"),
    )

    carried = taken(plan_with(deep), "haul/device-overloaded", "m_rig")

    assert carried == pytest.approx(2 + 62 * density * (mm / 1000) ** 2)
    assert taken(plan_with(nothing), "haul/device-overloaded", "m_rig") == 2


def test_published_factors_stand_beside_ours_with_document_and_clause() -> None:
    rows = [
        (round(one.value, 6), one.source.document)
        for one in compared(plan_with(), "haul/below-published-factor").inputs
        if one.label.endswith("compared only")
    ]

    assert (10.0, "2006/42/EC") in rows
    assert (7.60, "WAC 296-155-77105") in rows  # 12.5 ft/min is below its first row
    assert (6.979, "30 CFR 57.19021") in rows  # 7.0 - 0.001 a foot, 21 ft


def inside(count: int, **people: int | None) -> Break:
    return both(
        lambda data: space(data)["task"].update(inside_at_once=count),
        put("support", "davit-2", **people),
    )


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (inside(1, rated_people=1), Verdict.MEETS),
        (inside(2, rated_people=1), Verdict.FAILS),
        (inside(2, rated_people=2), Verdict.MEETS),
        (inside(2, rated_people=None), Verdict.UNKNOWN),
    ],
)
def test_two_inside_hang_on_one_head_with_two_lines(change: Break, verdict: Verdict) -> None:
    findings = [
        one
        for one in found(plan_with(change), "haul/single-person-rating")
        if one.space == "wet-well" and one.about == "primary, Legged davit no. 2"
    ]

    assert worst(findings) is verdict
