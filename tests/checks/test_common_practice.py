"""Facts of the trade, held against what a plan says. Common practice, no source."""

from datetime import date

import pytest
from broken_haul import FLOOR, WINCH, both, put, rig, support
from broken_sites import found, plan_with, worst

from planbuilder.findings import Verdict
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
