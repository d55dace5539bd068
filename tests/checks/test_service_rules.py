"""Services from outside, retrieval and care on the spot: each rule fires, rests, says unknown."""

from dataclasses import dataclass
from datetime import date
from typing import Any

import pytest
from broken_haul import both, nothing, put, rig
from broken_sites import Break, found, plan_with, space, way, worst

from planbuilder.findings import Verdict

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
READY = {
    "reports_unavailability": True,
    "called_each_shift": True,
    "capable_of": ["confined-space"],
    "confirmed_on": date(2026, 9, 1),
}


def served(posture: str = "standby", **facts: Any) -> Break:
    """The wet well's primary rescue is left to a public service; None takes a fact away."""

    def change(data: dict[str, Any]) -> None:
        service = {"id": "weir", "name": "Weir brigade", "kind": "public", "phone": "1"}
        given = {key: value for key, value in {**READY, **facts}.items() if value is not None}
        data["service"] = [{**service, **given}]
        way(data).update(service="weir", posture=posture, crew=[])

    return change


def entered(out: str | None, **facts: Any) -> Break:
    """As served, by entry, with the time given from recognition to the casualty being out."""

    def change(data: dict[str, Any]) -> None:
        served(**facts)(data)
        step = {"id": "enter", "what": "Brigade enters", "after": ["recognise"], "reaches": "out"}
        way(data).update(
            method="entry",
            step=[
                {"id": "recognise", "what": "Notices", "computed": "detection"},
                {**step, **({"usual": out} if out else {})},
            ],
        )

    return change


def with_crew(change: Break) -> Break:
    """And somebody of the own crew goes in too."""

    def more(data: dict[str, Any]) -> None:
        change(data)
        way(data)["crew"] = [{"person": "ines", "role": "entry-rescuer"}]

    return more


def hazard(kind: str) -> Break:
    """The wet well holds one more hazard."""
    return lambda data: space(data)["hazard"].append({"kind": kind, "control": "Care"})


def ambulance(**values: Any) -> Break:
    """Sets keys of the step in which the ambulance comes."""

    def change(data: dict[str, Any]) -> None:
        one = next(s for s in way(data)["step"] if s["id"] == "ambulance")
        one.update(values)
        for key in [key for key, value in values.items() if value is None]:
            del one[key]

    return change


def kit(**values: Any) -> Break:
    return put("equipment", "aid-kit", **values)


GRAIN = hazard("engulfment")
INSIDE = kit(care=["resuscitation", "defibrillator", "bleeding-control"], goes_inside=True)


@dataclass(frozen=True)
class Case:
    """What makes a rule fire, what it rests on, and what leaves it unknown."""

    fires: Break
    rests: Break = nothing
    unknown: Break | None = None
    verdict: Verdict = FAILS


def nobody_takes_over(data: dict[str, Any]) -> None:
    """No step says when the ambulance crew has taken over."""
    for number in (0, 1):
        for one in way(data, "primary", number)["step"]:
            if one.get("reaches") == "handed-over":
                del one["reaches"]


CASES = {
    "response/retrieval-not-available": Case(rig(line_worn=False), unknown=rig(way_clear=None)),
    "response/entry-after-engulfment": Case(both(GRAIN, entered("60 min")), GRAIN),
    "response/no-resuscitation-gear": Case(
        kit(care=None), unknown=both(kit(care=["resuscitation"]), nobody_takes_over), verdict=FAILS
    ),
    "response/no-treatment-at-hand": Case(
        hazard("major-bleeding"),
        both(hazard("major-bleeding"), INSIDE),
        hazard("heat"),
        UNKNOWN,
    ),
    "response/public-number-only": Case(served("available-off-site"), served("standby")),
    "response/public-rescue-too-quick": Case(entered("30 min"), entered("50 min"), entered(None)),
    "response/service-not-capable": Case(
        served(capable_of=["height"]), served(), served(confirmed_on=None)
    ),
    "response/unavailability-not-reported": Case(
        served(called_each_shift=False), served(), served(reports_unavailability=None)
    ),
    "response/target-is-no-record": Case(
        ambulance(quoted_as="target"), unknown=ambulance(quoted_as=None)
    ),
}


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires(rule: str) -> None:
    case = CASES[rule]

    assert worst(found(plan_with(case.fires), rule)) is case.verdict


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_rests(rule: str) -> None:
    assert worst(found(plan_with(CASES[rule].rests), rule)) is MEETS


@pytest.mark.parametrize("rule", [rule for rule, case in CASES.items() if case.unknown])
def test_missing_data_is_unknown(rule: str) -> None:
    findings = found(plan_with(CASES[rule].unknown or nothing), rule)
    unknown = [one for one in findings if one.verdict is UNKNOWN]

    assert unknown
    assert all(one.keys and one.settle_by for one in unknown)


ONLY_WARN = ("response/target-is-no-record", "response/unavailability-not-reported")


@pytest.mark.parametrize("rule", [one for one in CASES if one not in ONLY_WARN])
def test_a_blocking_rule_keeps_the_plan_from_being_ready(rule: str) -> None:
    plan = plan_with(CASES[rule].fires)

    assert plan.status == "NOT READY"
    assert any(one.blocks for one in found(plan, rule))


def test_own_hands_make_a_quicker_rescue_possible() -> None:
    rule = "response/public-rescue-too-quick"

    assert found(plan_with(with_crew(entered("30 min"))), rule) == []
    assert worst(found(plan_with(entered("30 min")), rule)) is FAILS


def test_a_number_alone_is_not_answered_by_having_agreed() -> None:
    agreed = served("available-off-site", agreed_on=date(2026, 5, 1))

    assert worst(found(plan_with(agreed), "response/public-number-only")) is FAILS


def test_a_confirmation_yet_to_come_is_none() -> None:
    later = served(confirmed_on=date(2026, 11, 28))

    assert worst(found(plan_with(later), "response/service-not-capable")) is FAILS


def test_an_ambulance_within_four_minutes_brings_the_gear() -> None:
    def quick(data: dict[str, Any]) -> None:
        kit(care=None)(data)
        data["drill"] = []  # they would withdraw such times
        for one in way(data)["step"]:
            if "usual" in one:
                one.update(usual="5 s", one_in_ten="5 s")

    findings = found(plan_with(quick), "response/no-resuscitation-gear")

    assert [one.verdict for one in findings if one.space == "wet-well"] == [MEETS]


@pytest.mark.parametrize(
    ("care", "inside", "verdict"),
    [
        (["bleeding-control"], True, MEETS),
        (["bleeding-control"], False, UNKNOWN),
        (["cooling"], True, UNKNOWN),
    ],
)
def test_what_stops_bleeding_goes_inside(care: list[str], inside: bool, verdict: Verdict) -> None:
    change = both(hazard("major-bleeding"), kit(care=care, goes_inside=inside))

    assert worst(found(plan_with(change), "response/no-treatment-at-hand")) is verdict


def test_a_height_position_needs_a_service_for_heights() -> None:
    def change(data: dict[str, Any]) -> None:
        service = {"id": "weir", "name": "Weir brigade", "kind": "contract-team", "phone": "1"}
        data["service"] = [{**service, **READY}]
        way(data)["service"] = "weir"

    plan = plan_with(change, sample="transformer_deck")

    assert worst(found(plan, "response/service-not-capable")) is FAILS
