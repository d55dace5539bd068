"""First aid: the kit and its place, the time to the casualty, breath where it can stop."""

from pathlib import Path

import pytest
from broken_crew import certificate, in_space
from broken_haul import both, nothing
from broken_people import plan_under, rule_entry
from broken_sites import Break, entry, found, plan_with, rules_of, way, worst

from planbuilder.checks.people import first_aid
from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.response.shock import can_shock

KIT, REACH, REVIVE = (
    "plan/no-first-aid-kit",
    "response/aid-too-late",
    "response/no-resuscitation-gear",
)


def kit(**values: object) -> Break:
    """Sets keys of the first-aid kit; None takes the key away."""

    def change(data: dict) -> None:
        item = entry(data, "equipment", "aid-kit")
        for key, value in values.items():
            item.pop(key, None)
            item.update({key: value} if value is not None else {})

    return change


def live(volts: str, reach: str | None = None) -> Break:
    change = in_space(0, "task", live_voltage=volts)
    return both(change, in_space(0, aid_reach=reach))


def on_site(reach: str | None = None) -> Break:
    """The crew of the wet well waits on the site, not at the opening."""
    away: Break = lambda data: way(data).update(posture="available-on-site")  # noqa: E731
    return both(away, in_space(0, aid_reach=reach))


def of(rule: str, *breaks: Break) -> list[Finding]:
    return [one for one in found(plan_with(*breaks), rule) if one.space == "wet-well"]


def test_every_rule_is_tested_here() -> None:
    assert rules_of(first_aid) == {KIT, REACH}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (nothing, Verdict.MEETS),
        (kit(care=["resuscitation", "defibrillator"]), Verdict.UNKNOWN),
        (kit(kept_at=None), Verdict.UNKNOWN),
    ],
)
def test_a_kit_is_named_with_its_place(change: Break, verdict: Verdict) -> None:
    (one,) = of(KIT, change)

    assert one.verdict is verdict
    assert one.blocks or not one.open


def test_who_stands_by_with_first_aid_is_not_asked_how_long_it_takes() -> None:
    assert of(REACH) == []


def no_cpr(data: dict) -> None:
    for who in ("dagny", "mirela", "ines"):
        certificate(who, "cpr")(data)


@pytest.mark.parametrize(
    ("change", "verdict", "blocks"),
    [
        (on_site(), Verdict.UNKNOWN, False),
        (on_site("4 min"), Verdict.MEETS, False),
        (on_site("241 s"), Verdict.FAILS, False),
        (in_space(0, aid_reach="5 min"), Verdict.FAILS, False),
        (no_cpr, Verdict.UNKNOWN, False),
        (live("50 V"), Verdict.UNKNOWN, True),
        (live("11 kV", "4 min"), Verdict.MEETS, False),
        (live("11 kV", "241 s"), Verdict.FAILS, True),
    ],
)
def test_first_aid_is_there_within_four_minutes(
    change: Break, verdict: Verdict, *, blocks: bool
) -> None:
    """1910.269(b)(1)(ii) and the first-aid letters: four minutes."""
    (one,) = of(REACH, change)

    assert (one.verdict, one.blocks) == (verdict, blocks)


def test_less_than_fifty_volts_asks_no_more_than_any_other_work() -> None:
    assert of(REACH, live("49 V")) == []
    assert can_shock(50.0)
    assert not can_shock(49.9)


def test_the_rule_set_is_cited_for_live_work() -> None:
    (one,) = of(REACH, live("400 V", "3 min"))

    assert isinstance(one.outcome, Compared)
    assert (one.source.document, one.source.clause) == ("29 CFR 1910.269", "(b)(1)(ii)")


ASKED = rule_entry("rescue.resuscitation_kit", 'text = "kit"\nneed = "if-likely"', bind="law")


def ambulance_next_door(data: dict) -> None:
    """Nothing lies ready, and the ambulance crew is quick."""
    kit(care=["first-aid"])(data)
    data["drill"] = []  # they would withdraw such times
    for one in way(data)["step"]:
        if "usual" in one:
            one.update(usual="5 s", one_in_ten="5 s")


def test_an_ambulance_does_not_stand_for_gear_that_a_rule_set_asks_for(tmp_path: Path) -> None:
    plan = plan_under(tmp_path, ASKED, ambulance_next_door)
    (one,) = [each for each in found(plan, REVIVE) if each.space == "wet-well"]

    assert (one.verdict, one.blocks, one.source.clause) == (Verdict.UNKNOWN, True, "3")
    assert worst(of(REVIVE, ambulance_next_door)) is Verdict.MEETS


def test_slow_harm_that_stops_no_breath_asks_for_nothing(tmp_path: Path) -> None:
    heat = in_space(0, hazard=[{"kind": "heat", "control": "-"}])
    some = in_space(
        0, hazard=[{"kind": "carbon-monoxide", "level": "200 ppm", "control": "monitor"}]
    )

    def asked(change: Break) -> list[Finding]:
        plan = plan_under(tmp_path, ASKED, kit(care=["first-aid"]), change)
        return [each for each in found(plan, REVIVE) if each.space == "wet-well"]

    assert asked(heat) == []
    assert worst(asked(some)) is Verdict.UNKNOWN
