"""Who speaks with whom: absent, stale, contradicting, good."""

from datetime import date

import pytest
from broken_haul import both, nothing
from broken_kit import method, silent, speaks
from broken_sites import Break, found, plan_with, rules_of, space, worst

from planbuilder.checks.kit import communication
from planbuilder.findings import Compared, Finding, Verdict

FAILS, UNKNOWN, MEETS = Verdict.FAILS, Verdict.UNKNOWN, Verdict.MEETS
NONE, BACKUP = "plan/no-communication", "plan/communication-without-backup"
TESTED = "plan/communication-not-tested"
CHAMBER = 1
INSIDE = "rescuers-outside"


def inside(**values: object) -> Break:
    """The communication of those who go into the valve chamber."""
    return speaks(INSIDE, CHAMBER, **values)


CASES: dict[str, tuple[Break, Break, Break]] = {
    NONE: (speaks("attendant-service", means="phone"), silent(INSIDE, CHAMBER), nothing),
    BACKUP: (inside(backup="radio"), inside(backup=None), nothing),
    TESTED: (inside(tested_on=date(2026, 11, 26)), inside(tested_on=None), nothing),
}


def asked(rule: str, *breaks: Break) -> list[Finding]:
    return found(plan_with(*breaks), rule)


def because(one: Finding) -> str:
    assert not isinstance(one.outcome, Compared)
    return one.outcome.because


def test_every_rule_has_a_case() -> None:
    assert set(CASES) == rules_of(communication)


@pytest.mark.parametrize("rule", CASES)
def test_a_rule_fires_rests_and_says_unknown(rule: str) -> None:
    fires, unknown, rests = CASES[rule]

    assert worst(asked(rule, fires)) is FAILS
    assert worst(asked(rule, unknown)) is UNKNOWN
    assert {one.verdict for one in asked(rule, rests)} == {MEETS}


def test_what_the_contact_says_is_not_asked_twice() -> None:
    (one,) = [one for one in asked(NONE) if one.space == "wet-well"]

    assert "entrant to attendant by Voice and sight" in because(one)
    assert "attendant to service by radio" in because(one)


def test_rescuers_who_are_called_need_something_to_be_called_by() -> None:
    elsewhere = method(posture="available-on-site")
    horn = speaks("attendant-rescuers", means="horn", backup="runner")

    (one,) = [one for one in asked(NONE, elsewhere) if one.open]
    assert "attendant to rescuers" in because(one)
    assert one.blocks
    assert worst(asked(NONE, elsewhere, horn)) is MEETS


def test_how_help_is_called_is_asked_by_the_rule_of_its_test() -> None:
    def gone(data):
        del space(data)["contact"]["call_by"]

    assert worst(asked(NONE, gone)) is MEETS
    assert worst(asked("response/radio-not-tested", gone)) is UNKNOWN


def test_one_pair_is_stated_once() -> None:
    def twice(data):
        stated = space(data)["communication"]
        stated.append({"between": "entrant-attendant", "means": "horn"})

    assert worst(asked(NONE, twice)) is FAILS


@pytest.mark.parametrize(
    ("backup", "channel", "zones", "verdict"),
    [
        ("radio", None, "none", FAILS),  # the same thing
        ("radio", "6", "none", MEETS),  # another channel
        ("radio", "6", "behind the valve", FAILS),  # dead there as well
        ("phone", None, "behind the valve", FAILS),
        ("line-signals", None, "behind the valve", MEETS),
    ],
)
def test_a_backup_does_not_fail_by_the_same(
    backup: str, channel: str | None, zones: str, verdict: Verdict
) -> None:
    change = inside(backup=backup, backup_channel=channel, dead_zones=zones)

    assert worst(asked(BACKUP, change)) is verdict


@pytest.mark.parametrize(
    ("tested_on", "verdict"),
    [
        (date(2026, 11, 1), MEETS),  # 30 days, to 1 December, the day of entry
        (date(2026, 10, 31), FAILS),
        (date(2026, 11, 26), FAILS),  # tomorrow
    ],
)
def test_a_test_counts_for_its_days(tested_on: date, verdict: Verdict) -> None:
    assert worst(asked(TESTED, inside(tested_on=tested_on))) is verdict


@pytest.mark.parametrize("key", ["dead_zones", "channel"])
def test_channel_and_dead_zones_are_stated(key: str) -> None:
    assert worst(asked(TESTED, inside(**{key: None}))) is UNKNOWN


def test_a_backup_by_radio_is_tried_too() -> None:
    by_voice = both(inside(means="voice", backup="radio", tested_on=None))

    assert worst(asked(TESTED, by_voice)) is UNKNOWN
    assert worst(asked(TESTED, inside(means="voice", tested_on=None))) is MEETS
