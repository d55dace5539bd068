"""Facts of the trade, held against what a plan says. Common practice, no source."""

from datetime import date

import pytest
from broken_fall import falling, on_lanyard
from broken_haul import COLLAR, FLOOR, WINCH, both, put, rig, support
from broken_openings import opening
from broken_sites import found, plan_with, worst

from planbuilder.findings import Compared, Verdict
from planbuilder.haul.strength import design_factor
from planbuilder.units import Dimension, parse

HOLDS = (Verdict.MEETS, Verdict.MARGINAL)


def test_a_fall_arrest_anchorage_of_5000_lb_is_22_kn() -> None:
    assert round(parse("5000 lbf", Dimension.FORCE).value / 1000) == 22


def test_a_hand_winch_for_450_lb_with_a_factor_of_11_breaks_at_about_22_kn() -> None:
    load_n = parse("450 lbf", Dimension.FORCE).value

    assert design_factor(breaking_n=22_000, efficiency=1.0, tension_n=load_n) == pytest.approx(
        11, rel=0.01
    )


@pytest.mark.parametrize(
    ("inspected", "current"), [(date(2025, 12, 11), True), (date(2025, 11, 20), False)]
)
def test_a_hand_winch_goes_back_every_year(inspected: date, current: bool) -> None:
    """The work of the sample ends within a year of the first day and past a year of the second."""
    plan = plan_with(put(*WINCH, inspected=inspected, inspection_interval="12 months"))

    overdue = [
        one for one in found(plan, "plan/inspection-overdue") if "Hand winch no. 4" in one.about
    ]

    assert (worst(overdue) in HOLDS) is current


@pytest.mark.parametrize("reach", ["20 in", "40 in", "49 in", "51 in", "70 in"])
def test_the_line_never_lies_outside_a_portable_base_and_a_bolted_one_sets_no_limit(
    reach: str,
) -> None:
    """The feet of the davit stand 50 in ahead of its mast."""
    far = both(
        rig(reach=reach, swing_from="0 deg", swing_to="0 deg"),
        put("support", "davit-2", rated_reach="80 in"),
    )

    portable, bolted = plan_with(far), plan_with(far, support(FLOOR))

    inside = float(reach.split(maxsplit=1)[0]) <= 50
    assert (worst(found(portable, "haul/boom-beyond-base")) in HOLDS) is inside
    assert worst(found(bolted, "haul/boom-beyond-base")) is Verdict.MEETS


@pytest.mark.parametrize(
    ("inches", "fits"), [(17, False), (18, True), (24, True), (30, True), (31, False)]
)
def test_a_collar_stands_in_openings_of_18_to_30_inches(inches: int, fits: bool) -> None:
    plan = plan_with(support(COLLAR), opening(diameter=f"{inches} in"))

    assert (worst(found(plan, "haul/collar-does-not-fit")) in HOLDS) is fits


def test_a_higher_anchor_shortens_the_fall() -> None:
    falls_m = []
    for height in (0.5, 1.0, 1.5, 2.0, 2.5):
        plan = plan_with(on_lanyard(anchor_height=f"{height} m"))
        outcome = found(plan, "clearance/free-fall-too-long")[0].outcome
        assert isinstance(outcome, Compared)
        falls_m.append(outcome.result.value)

    assert falls_m == sorted(set(falls_m), reverse=True)


@pytest.mark.parametrize("aside", [0.5, 1.0, 1.5])
def test_a_higher_anchor_widens_the_area_that_a_person_can_work_in(aside: float) -> None:
    """What swings too wide under a low device is within the angle under a high one."""
    rule = "clearance/swing-too-wide"
    low, high = (
        worst(found(plan_with(falling(offset=f"{aside} m", anchor_height=one)), rule))
        for one in ("2 m", "6 m")
    )

    assert low is Verdict.FAILS
    assert high in HOLDS
