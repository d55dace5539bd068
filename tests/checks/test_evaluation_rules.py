"""The evaluation of a rescue service: absent, stale, contradicting, good."""

from datetime import date
from typing import Any

import pytest
from broken_crew import in_space
from broken_haul import both, nothing
from broken_service import answered, leans, place, practised
from broken_sites import Break, found, plan_with, rules_of, space, worst
from pydantic import ValidationError

from planbuilder.checks.people import agreements, evaluation
from planbuilder.checks.people import practised as practice
from planbuilder.findings import Verdict
from planbuilder.limits import limits_for
from planbuilder.site.evaluation import Question
from planbuilder.site.people import Service
from planbuilder.tables import table

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
NO = {"answer": "no"}
ASIDE = {"answer": "n-a"}
LATER = date(2026, 11, 28)  # after the check, before the work
STARTS = date(2026, 11, 30)
EASY = both(in_space(0, "opening", above_ground="1 ft"), in_space(0, "shape", obstructed=False))

# rule: what makes it fire, with its verdict, and what lets it rest.
CASES: dict[str, tuple[Break, Verdict, Break]] = {
    "plan/service-not-evaluated": (leans(shown_spaces_on=None), UNKNOWN, leans()),
    "plan/service-agreement-not-written": (leans(agreed_in_writing=False), FAILS, leans()),
    "plan/space-changed-since-visit": (
        both(leans(), place(changed_on=date(2026, 10, 13))),
        FAILS,
        both(leans(), place(changed_on=date(2026, 10, 12))),
    ),
    "plan/evaluation-unanswered": (answered(willing=None), UNKNOWN, leans()),
    "plan/service-falls-short": (
        answered(medical=NO),
        FAILS,
        answered(medical={**NO, "remedy_by": STARTS}),
    ),
    "plan/service-remedy-open": (answered(medical={**NO, "remedy_by": STARTS}), FAILS, leans()),
    "plan/evaluation-not-applicable": (
        answered(vertical_skill=ASIDE),
        FAILS,
        both(answered(elevated_rescue=ASIDE), EASY),
    ),
    "plan/evaluation-stale": (leans(evaluated_on=date(2025, 12, 3)), FAILS, leans()),
    "response/service-practice-easier": (practised(way_in="horizontal"), FAILS, leans()),
}


def because(plan: Any, rule: str) -> str:
    return " ".join(one.outcome.because for one in found(plan, rule))


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(agreements, evaluation, practice)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_and_rests(rule: str) -> None:
    fires, verdict, rests = CASES[rule]
    fired = found(plan_with(fires), rule)

    assert worst(fired) is verdict
    assert all(one.keys and one.settle_by for one in fired)
    assert worst(found(plan_with(rests), rule)) is MEETS


@pytest.mark.parametrize("rule", CASES)
def test_nothing_is_asked_where_the_plan_leans_on_no_service(rule: str) -> None:
    assert found(plan_with(nothing), rule) == []


def test_an_ambulance_that_only_takes_over_is_not_evaluated() -> None:
    plan = plan_with(nothing, sample="storage_tank")

    assert plan.site.service
    assert all(found(plan, rule) == [] for rule in CASES)


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (leans(agreed_in_writing=None), "plan/service-agreement-not-written"),
        (leans(answer=None), "plan/evaluation-unanswered"),
        (answered(travel={"evidence": None}), "plan/evaluation-unanswered"),
        (answered(travel={"by": None}), "plan/evaluation-unanswered"),
        (answered(travel={"on": None}), "plan/evaluation-unanswered"),
        (answered(elevated_rescue=ASIDE), "plan/evaluation-not-applicable"),
        (leans(answer=None, evaluated_on=None), "plan/evaluation-stale"),
        (leans(practised=None), "response/service-practice-easier"),
        (practised(on=None), "response/service-practice-easier"),
        (practised(inside=None), "response/service-practice-easier"),
        (practised(inside="open"), "response/service-practice-easier"),
        (practised(raised="not-elevated"), "response/service-practice-easier"),
    ],
)
def test_what_is_not_stated_is_unknown(change: Break, rule: str) -> None:
    assert worst(found(plan_with(change), rule)) is UNKNOWN


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (leans(told_hazards_on=LATER), "plan/service-not-evaluated"),
        (answered(travel={"on": LATER}), "plan/evaluation-unanswered"),
        (answered(travel={"on": LATER}), "plan/evaluation-stale"),
        (practised(on=LATER), "response/service-practice-easier"),
    ],
)
def test_a_day_to_come_is_no_record(change: Break, rule: str) -> None:
    assert worst(found(plan_with(change), rule)) is FAILS


@pytest.mark.parametrize(
    ("remedy", "short", "still_open"),
    [
        (None, FAILS, FAILS),
        (STARTS, MEETS, FAILS),
        (date(2026, 12, 1), FAILS, FAILS),
        (date(2026, 11, 2), MEETS, FAILS),
    ],
)
def test_a_remedy_comes_before_the_work(
    remedy: date | None, short: Verdict, still_open: Verdict
) -> None:
    plan = plan_with(answered(hours={**NO, "remedy_by": remedy}))

    assert worst(found(plan, "plan/service-falls-short")) is short
    assert worst(found(plan, "plan/service-remedy-open")) is still_open
    blocking = [one for one in found(plan, "plan/service-falls-short") if one.blocks]
    assert bool(blocking) is (short is FAILS)
    assert not any(one.blocks for one in found(plan, "plan/service-remedy-open"))


@pytest.mark.parametrize(
    ("question", "change", "verdict"),
    [
        ("willing", nothing, FAILS),  # never set aside
        ("air_supply", nothing, FAILS),  # hydrogen sulfide
        ("vertical_skill", lambda data: space(data)["shape"].update(depth="5 ft"), MEETS),
        ("vertical_skill", lambda data: space(data)["shape"].update(depth="5 ft 1 in"), FAILS),
        ("vertical_skill", lambda data: space(data)["shape"].pop("depth"), UNKNOWN),
        ("through_opening", nothing, FAILS),  # 24 in
        ("elevated_rescue", in_space(0, "opening", above_ground="4 ft"), FAILS),
        ("elevated_rescue", in_space(0, "opening", above_ground="3 ft 11 in"), MEETS),
    ],
)
def test_a_question_is_set_aside_by_the_plans_own_data(
    question: str, change: Break, verdict: Verdict
) -> None:
    plan = plan_with(both(answered(**{question: ASIDE}), change))

    assert worst(found(plan, "plan/evaluation-not-applicable")) is verdict


def test_a_wide_way_out_is_no_narrow_one_once_the_inside_is_known() -> None:
    def wide(data: dict[str, Any]) -> None:
        answered(through_opening=ASIDE)(data)
        space(data)["opening"].update(diameter="25 in")

    rule = "plan/evaluation-not-applicable"

    assert worst(found(plan_with(wide), rule)) is UNKNOWN
    assert worst(found(plan_with(both(wide, EASY)), rule)) is MEETS
    bend = {"name": "elbow"}
    assert worst(found(plan_with(both(wide, both(EASY, place(bend=[bend])))), rule)) is FAILS


def test_a_practice_as_hard_or_harder_counts() -> None:
    rule = "response/service-practice-easier"
    easier_inside = both(practised(inside="open"), EASY)

    assert worst(found(plan_with(easier_inside), rule)) is MEETS
    assert worst(found(plan_with(practised(opening="wide")), rule)) is FAILS  # 24 in here


def test_twelve_months_run_to_the_same_day_a_year_on() -> None:
    """The work ends on 4 December 2026."""
    rule = "plan/evaluation-stale"

    assert worst(found(plan_with(leans(evaluated_on=date(2025, 12, 4))), rule)) is MEETS
    assert worst(found(plan_with(leans(evaluated_on=date(2025, 12, 3))), rule)) is FAILS


@pytest.mark.parametrize(("profile", "blocks"), [("us-osha-gi", False), ("us-osha-constr", True)])
def test_loss_of_cover_weighs_as_the_rule_set_has_it(profile: str, blocks: bool) -> None:
    change = both(
        leans(reports_unavailability=False), lambda data: data["plan"].update(profile=profile)
    )
    findings = found(plan_with(change), "response/unavailability-not-reported")
    duty = limits_for(profile).duty("service.unavailability_notice")

    assert duty is not None
    assert [one.blocks for one in findings] == [blocks]
    assert findings[0].source == duty.source


def test_the_clause_is_that_of_the_rule_set_in_force() -> None:
    findings = found(plan_with(leans()), "plan/service-not-evaluated")

    assert [one.source.clause for one in findings] == [
        "(k)(1)(i)-(iii)",
        "(k)(1)(iv)",
        "(k)(1)(v)",
    ]


def test_the_table_asks_each_question_once() -> None:
    asked = {key: one for key, one in table("service_questions").items() if "asked" in one}

    assert list(asked) == list(Question)
    assert all(one["asked"].endswith("?") for one in asked.values())
    groups = [one["group"] for one in asked.values()]
    assert groups.count("ability") == groups.count("performance") == 10


def test_a_question_answered_twice_is_refused() -> None:
    twice = [{"question": "willing", "answer": "yes"}, {"question": "willing", "answer": "no"}]
    facts = {"id": "weir", "name": "Weir", "kind": "public", "phone": "1", "answer": twice}

    with pytest.raises(ValidationError, match="each question once"):
        Service.model_validate(facts)
