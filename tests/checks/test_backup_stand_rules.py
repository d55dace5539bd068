"""A backup on a support of its own is held against power lines and roofs like the first."""

import math
from typing import Any

import pytest
from broken_haul import both, put, rig
from broken_lift import roof
from broken_power_lines import line, silence
from broken_sites import Break, found, plan_with, way, worst
from printed_formula import work_out

from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.plan import Plan

FAILS, MEETS, UNKNOWN = Verdict.FAILS, Verdict.MEETS, Verdict.UNKNOWN
NEAR = "clearance/power-line-too-near"
TOPPLES = "clearance/power-line-in-reach-of-fall"
UNDER = "clearance/rig-under-overhead"
RAISING = "clearance/raising-hits-overhead"
FT, INCH = 0.3048, 0.0254


def apart(support: str = "tripod-1", /, **values: str | None) -> Break:
    """The backup of the wet well hangs on another support; None takes a key of it away."""
    full = {"apart": "2 m", "top_height": "8 ft", **values}
    kept = {key: value for key, value in full.items() if value is not None}
    return rig(backup_support=support, backup_stand=kept)


def of_backup(plan: Plan, rule: str) -> list[Finding]:
    return [one for one in found(plan, rule) if "backup support" in one.about]


def compared(plan: Plan, rule: str) -> Compared:
    (row,) = (one.outcome for one in of_backup(plan, rule))
    assert isinstance(row, Compared)
    values = {one.symbol: one.value for one in row.inputs}
    assert work_out(row.formula, values) == pytest.approx(row.result.value, rel=1e-9)
    return row


def test_nothing_is_asked_where_both_hang_on_one_support() -> None:
    for change in (line(), both(line(), rig(backup_support="davit-2"))):
        plan = plan_with(change)
        assert of_backup(plan, NEAR) == of_backup(plan, TOPPLES) == []


def test_the_line_may_lie_on_the_side_of_the_backup() -> None:
    """14 m from the davit is 12 m from a tripod that stands 2 m off; 5 m up, a top of 8 ft."""
    row = compared(plan_with(line(), apart()), NEAR)

    assert row.result.value == pytest.approx(math.hypot(12, 5 - 8 * FT))
    assert row.verdict is MEETS


def test_a_backup_that_stands_towards_the_line_may_be_the_one_that_is_too_near() -> None:
    plan = plan_with(line(distance="11 m"), apart(apart="8 m"))

    assert [one.verdict for one in of_backup(plan, TOPPLES)] == [FAILS]
    others = [one for one in found(plan, TOPPLES) if one not in of_backup(plan, TOPPLES)]
    assert worst(others) is MEETS
    assert plan.status == "NOT READY"


@pytest.mark.parametrize("rule", [NEAR, TOPPLES])
def test_the_distance_named_settles_it(rule: str) -> None:
    """With the slack below which a gap is marginal."""
    (one,) = of_backup(plan_with(line(distance="3 m"), apart()), rule)
    away_m = float(one.settle_by.split()[2])

    assert one.verdict is FAILS
    for distance_m, settled in ((away_m, True), (away_m - 0.03, False)):
        plan = plan_with(line(distance=f"{distance_m:.2f} m"), apart())
        assert (compared(plan, rule).verdict is MEETS) is settled


@pytest.mark.parametrize("missing", ["apart", "top_height"])
def test_no_length_of_the_backup_is_guessed(missing: str) -> None:
    plan = plan_with(line(), apart(**{missing: None}))

    for rule in (NEAR, TOPPLES):
        (one,) = of_backup(plan, rule)
        assert one.verdict is UNKNOWN
        assert one.keys == (f"space.wet-well.rescue.primary.rig.backup_stand.{missing}",)
    assert plan.status == "NOT READY"


def test_an_arm_of_the_backup_has_a_reach() -> None:
    def on_arm(data: dict[str, Any]) -> None:
        line()(data)
        way(data)["rig"].update(support="tripod-1", backup_support="davit-2")
        way(data)["rig"]["backup_stand"] = {"apart": "1 m", "top_height": "10 ft"}

    (one,) = of_backup(plan_with(on_arm), NEAR)

    assert one.keys == ("space.wet-well.rescue.primary.rig.backup_stand.reach",)


def test_a_beam_for_the_backup_stands_there_and_does_not_fall() -> None:
    plan = plan_with(line(), apart("gantry"))

    assert of_backup(plan, NEAR)
    assert of_backup(plan, TOPPLES) == []


def test_a_tripod_for_the_backup_asks_what_is_overhead() -> None:
    """The lift hangs on a beam in both ways; only the backup is put up."""

    def change(data: dict[str, Any]) -> None:
        silence(data)
        for name in ("primary", "fallback"):
            way(data, name)["rig"]["support"] = "gantry"
        way(data)["rig"].update(backup_support="tripod-1")

    asked = found(plan_with(change), "clearance/overhead-not-stated")

    assert "wet-well" in {one.space for one in asked}


# ---- under a roof --------------------------------------------------------------------------------


def test_the_backup_stands_under_the_same_roof() -> None:
    """9 ft above a rim of 6 in, less 8 ft of tripod, leave 18 in; with a top of 10 ft, nothing."""
    for top, left_m, verdict in (("8 ft", 18 * INCH, MEETS), ("10 ft", -6 * INCH, FAILS)):
        row = compared(plan_with(roof(clear_height="9 ft"), apart(top_height=top)), UNDER)
        assert row.result.value == pytest.approx(left_m)
        assert row.verdict is verdict


def test_a_folded_backup_tripod_needs_the_length_of_its_leg() -> None:
    """Legs of 8 ft 9 in."""
    assert compared(plan_with(roof(clear_height="10 ft"), apart()), RAISING).verdict is MEETS
    assert compared(plan_with(roof(clear_height="8 ft 6 in"), apart()), RAISING).verdict is FAILS
    plan = plan_with(roof(), apart(), put("support", "tripod-1", leg_length=None))
    assert worst(of_backup(plan, RAISING)) is UNKNOWN


def davit_behind(**values: str | None) -> Break:
    """A tripod lifts; the davit holds the backup, its hinge 1 ft up."""
    full = {"apart": "1 m", "top_height": "9 ft", "reach": "3 ft", "hinge_height": "1 ft"}
    kept = {key: value for key, value in {**full, **values}.items() if value is not None}

    def change(data: dict[str, Any]) -> None:
        way(data)["rig"].update(support="tripod-1", backup_support="davit-2", backup_stand=kept)

    return change


def test_a_backup_davit_passes_higher_than_it_stands_while_it_is_raised() -> None:
    """8 ft of mast above the hinge and 3 ft to the side: sqrt(73) ft, and the hinge."""
    plan = plan_with(roof(clear_height="10 ft"), davit_behind())

    assert compared(plan, RAISING).result.value == pytest.approx((10.5 - 1 - math.sqrt(73)) * FT)
    lower = plan_with(roof(clear_height="9 ft"), davit_behind())
    assert (compared(lower, UNDER).verdict, compared(lower, RAISING).verdict) == (MEETS, FAILS)


@pytest.mark.parametrize("missing", ["top_height", "reach", "hinge_height"])
def test_a_length_of_the_raising_is_asked_for(missing: str) -> None:
    plan = plan_with(roof(), davit_behind(**{missing: None}))

    assert worst(of_backup(plan, RAISING)) is UNKNOWN
