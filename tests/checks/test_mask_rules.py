"""A fit test counts for the mask that it was made with."""

from datetime import date

import pytest
from broken_crew import certificate
from broken_haul import both, nothing
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.people import masks
from planbuilder.findings import Compared, Finding, Verdict

RULE = "plan/fit-test-other-mask"
OLD = date(2025, 11, 29)  # more than twelve months before the work of 1 December 2026


def asked(*breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), RULE)


def fitted(*masks_worn: str, who: str = "kester") -> Break:
    return certificate(who, "fit-test", fitted_to=list(masks_worn))


def one_more(who: str, **values: object) -> Break:
    """Another fit test of the same day."""

    def change(data: dict) -> None:
        own = next(one for one in data["person"] if one["id"] == who)["certificate"]
        test = next(one for one in own if one["kind"] == "fit-test")
        own.append({**test, **values})

    return change


def test_the_rule_is_tested_here() -> None:
    assert rules_of(masks) == {RULE}


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        (nothing, Verdict.MEETS),
        (fitted(), Verdict.UNKNOWN),
        (fitted("harness"), Verdict.FAILS),
        (fitted("harness", "set"), Verdict.MEETS),
        (both(fitted("harness"), one_more("kester", fitted_to=["set"])), Verdict.MEETS),
        (both(fitted("harness"), one_more("kester", fitted_to=[])), Verdict.UNKNOWN),
        (
            both(fitted("harness"), one_more("kester", fitted_to=["set"], issued=OLD)),
            Verdict.FAILS,
        ),
        (both(fitted("harness"), fitted(who="dagny")), Verdict.FAILS),
    ],
)
def test_the_mask_worn_is_the_mask_tested(change: Break, verdict: Verdict) -> None:
    (one,) = asked(change)

    assert one.verdict is verdict
    assert one.blocks or not one.open


def test_who_has_no_fit_test_is_told_by_another_rule() -> None:
    (one,) = asked(certificate("kester", "fit-test"))

    assert not isinstance(one.outcome, Compared)
    assert "Kester" not in one.outcome.because
    missing = found(plan_with(certificate("kester", "fit-test")), "response/fit-test-missing")
    assert worst(missing) is Verdict.UNKNOWN


def test_who_hauls_wears_no_mask() -> None:
    assert {(one.space, one.about) for one in asked()} == {("valve-chamber", "fallback")}
