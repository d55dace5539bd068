"""Practice rescues: near enough in time, and in a place that is like the one of the plan."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from broken_crew import in_space
from broken_people import plan_under, rule_entry
from broken_sites import Break, entry, found, plan_with

from planbuilder.findings import Compared, Finding, Verdict
from planbuilder.response.representative import is_elevated

EASIER, STALE = "response/drill-easier-than-plan", "plan/drill-stale"
LAST = date(2026, 12, 4)  # of the work in the wet well


def of(rule: str, *breaks: Break, on: date = date(2026, 11, 25)) -> Finding:
    """The finding on the wet well, or on its drill of October."""
    about = "primary, ww-2026-10" if rule == EASIER else ""
    plan = plan_with(*breaks, on=on)
    return next(one for one in found(plan, rule) if one.space == "wet-well" and one.about == about)


def said(one: Finding) -> str:
    assert not isinstance(one.outcome, Compared)
    return one.outcome.because


def elsewhere(**place: Any) -> Break:
    """The drill of October was held in a place that is no space of the site."""

    def change(data: dict[str, Any]) -> None:
        drill = entry(data, "drill", "ww-2026-10")
        del drill["held_in"]
        drill.update({"opening": "24 in", "depth": "21 ft", "from_side": False, **place})

    return change


def drilled(on: date, **values: Any) -> Break:
    """The wet well was practised on one day only."""

    def change(data: dict[str, Any]) -> None:
        drill = entry(data, "drill", "ww-2026-10")
        drill.update(on=on, **values)
        data["drill"] = [drill]

    return change


IRONS = {"name": "irons", "from_depth": "1 ft", "to_depth": "9 ft", "reaches_in": "4 in"}
CLUTTERED = in_space(0, obstruction=[{**IRONS, "towards": "0 deg"}])
HIGH = in_space(0, "opening", above_ground="4 ft")


@pytest.mark.parametrize(
    ("site", "place", "words"),
    [
        (HIGH, {"above_ground": "4 ft"}, "no easier"),
        (HIGH, {"above_ground": "47 in"}, "easier: an opening near the ground"),
        (in_space(0, "opening", above_ground="47 in"), {}, "no easier"),
        (CLUTTERED, {"obstructed": True}, "no easier"),
        (CLUTTERED, {"obstructed": False}, "easier: nothing in the way"),
        (HIGH, {"from_side": True, "above_ground": "9 ft"}, "easier: entered from the side"),
        (in_space(0, "opening", from_side=True), {}, "easier: entered from above"),
    ],
)
def test_each_mark_of_the_place_is_equal_or_worse(
    site: Break, place: dict[str, Any], words: str
) -> None:
    one = of(EASIER, site, elsewhere(**place))

    assert said(one).startswith(words)
    assert one.verdict is (Verdict.MEETS if words == "no easier" else Verdict.FAILS)


@pytest.mark.parametrize(
    ("site", "place", "words"),
    [
        (HIGH, {}, "of its place, not stated: above ground"),
        (CLUTTERED, {}, "of its place, not stated: obstructed"),
    ],
)
def test_a_mark_that_counts_here_must_be_known_there(
    site: Break, place: dict[str, Any], words: str
) -> None:
    one = of(EASIER, site, elsewhere(**place))

    assert (one.verdict, said(one)) == (Verdict.UNKNOWN, words)


@pytest.mark.parametrize("mark", ["opening", "depth", "from_side"])
def test_opening_depth_and_way_in_are_always_asked(mark: str) -> None:
    def change(data: dict[str, Any]) -> None:
        elsewhere()(data)
        del entry(data, "drill", "ww-2026-10")[mark]

    assert of(EASIER, change).verdict is Verdict.UNKNOWN
    assert of(EASIER, elsewhere()).verdict is Verdict.MEETS


def test_four_feet_is_high() -> None:
    """1910.146 App F B.10(2): 4 ft or more above grade; 1.2192 m by definition of the foot."""
    assert is_elevated(1.2192)
    assert not is_elevated(1.219)


def test_a_practice_of_which_the_place_is_not_known_proves_nothing() -> None:
    def change(data: dict[str, Any]) -> None:
        drilled(date(2026, 10, 21))(data)
        del data["drill"][0]["held_in"]

    one = of(STALE, change)
    assert (one.verdict, one.blocks) == (Verdict.UNKNOWN, True)
    assert said(one) == "how hard the place was is not stated: ww-2026-10"


# Calendar days, by hand: twelve months end on the same day of the next year.
@pytest.mark.parametrize(
    ("drill", "last_day", "verdict"),
    [
        (date(2025, 12, 4), LAST, Verdict.MEETS),  # 365 days
        (date(2025, 12, 3), LAST, Verdict.FAILS),  # 366 days
        (date(2027, 3, 1), date(2028, 2, 29), Verdict.MEETS),  # 365 days, over a leap day
        (date(2027, 2, 28), date(2028, 2, 29), Verdict.FAILS),  # 366 days
        (date(2028, 2, 29), date(2029, 2, 28), Verdict.MEETS),  # 365 days
        (date(2028, 2, 29), date(2029, 3, 1), Verdict.FAILS),  # 366 days
        (date(2027, 12, 1), date(2028, 12, 1), Verdict.MEETS),  # 366 days, the same date
    ],
)
def test_twelve_months_are_a_calendar_year(drill: date, last_day: date, verdict: Verdict) -> None:
    work = in_space(0, "task", start=last_day, finish=None)

    one = of(STALE, work, drilled(drill), on=last_day - timedelta(days=1))

    assert one.verdict is verdict
    assert one.blocks is (verdict is Verdict.FAILS) or not one.open


def test_an_old_drill_blocks_in_the_united_states_and_warns_in_great_britain() -> None:
    british: Break = lambda data: data["plan"].update(profile="uk-gb")  # noqa: E731
    american, other = (
        of(STALE, drilled(date(2025, 12, 3))),
        of(STALE, drilled(date(2025, 12, 3)), british),
    )

    assert (american.verdict, american.blocks) == (Verdict.FAILS, True)
    assert (other.verdict, other.blocks) == (Verdict.FAILS, False)


ALLOWED = rule_entry("training.real_rescue_counts", 'text = "counts"\nallowed = true')
BARRED = rule_entry("training.real_rescue_counts", 'text = "does not"\nallowed = false')


def test_a_real_rescue_does_not_count_where_a_rule_set_bars_it(tmp_path: Path) -> None:
    real = drilled(date(2026, 10, 21), real_rescue=True)
    (one,) = [
        each
        for each in found(plan_under(tmp_path, BARRED, real), STALE)
        if each.space == "wet-well"
    ]

    assert one.verdict is Verdict.FAILS
    assert said(one) == "only real rescues, which no rule set in force counts as practice"


def test_where_a_rule_set_allows_it_a_real_rescue_is_a_practice(tmp_path: Path) -> None:
    real = drilled(date(2026, 10, 21), real_rescue=True)
    (one,) = [
        each
        for each in found(plan_under(tmp_path, ALLOWED, real), STALE)
        if each.space == "wet-well"
    ]

    assert one.verdict is Verdict.MEETS


def test_a_duty_to_practise_is_cited_where_no_interval_binds(tmp_path: Path) -> None:
    duty = rule_entry("rescue.practised", 'text = "practised"', bind="law")
    none: Break = lambda data: data.pop("drill")  # noqa: E731
    (one,) = [
        each for each in found(plan_under(tmp_path, duty, none), STALE) if each.space == "wet-well"
    ]

    assert (one.verdict, one.blocks) == (Verdict.UNKNOWN, True)
