"""After the event: absent, late, contradicting, good."""

from pathlib import Path

import pytest
from broken_kit import after, plan_under, under
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.arrangement import after_event
from planbuilder.findings import Compared, Finding, Verdict

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
REPORT, IN_TIME = "plan/no-report-contact", "plan/report-too-late"
ARRANGED = "plan/after-event-not-arranged"
DAYS = 'review.report_days\nvalue = 14\nunit = "days"\nop = "<="'
TO = 'to = "Ellerbrook Vale Drainage District, duty manager"'


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def test_every_rule_is_tested_here() -> None:
    assert {REPORT, IN_TIME, ARRANGED} == rules_of(after_event)


def test_somebody_is_told() -> None:
    assert worst(asked(REPORT)) is MEETS
    (one, *_) = asked(REPORT, after(report=[]))
    assert (one.verdict, one.blocks) == (UNKNOWN, False)


@pytest.mark.parametrize("key", ["scene_kept_by", "gear_kept_at", "review_by"])
def test_scene_gear_and_review_are_arranged(key: str) -> None:
    assert worst(asked(ARRANGED)) is MEETS
    (one, *_) = asked(ARRANGED, after(**{key: None}))
    assert one.verdict is UNKNOWN
    assert one.keys == (f"after.{key}",)


def test_whoever_is_inside_keeps_no_scene() -> None:
    verdicts = {one.space: one.verdict for one in asked(ARRANGED, after(scene_kept_by="bode"))}

    assert verdicts == {"wet-well": FAILS, "valve-chamber": MEETS}


def told(folder: Path, rows: str, rule: str) -> list[Finding]:
    """The findings under a law with 14 days to report, with more said of the contact."""
    return found(plan_under(folder, under(DAYS), (TO, f"{TO}\n{rows}")), rule)


def test_no_days_are_asked_where_no_rule_set_states_them() -> None:
    assert asked(IN_TIME) == []


def test_a_law_with_days_asks_for_its_authority(tmp_path: Path) -> None:
    (one, *_) = told(tmp_path, "within_days = 3", REPORT)

    assert (one.verdict, one.blocks) == (UNKNOWN, True)
    assert worst(told(tmp_path, "authority = true", REPORT)) is MEETS


@pytest.mark.parametrize(
    ("rows", "verdict"),
    [
        ("authority = true", UNKNOWN),
        ("authority = true\nwithin_days = 14", MEETS),
        ("authority = true\nwithin_days = 15", FAILS),
    ],
)
def test_the_authority_is_told_within_the_days(tmp_path: Path, rows: str, verdict: Verdict) -> None:
    (one, *_) = told(tmp_path, rows, IN_TIME)

    assert one.verdict is verdict
    assert one.source.document == "Weir rules"
    assert isinstance(one.outcome, Compared) is (verdict is not UNKNOWN)
