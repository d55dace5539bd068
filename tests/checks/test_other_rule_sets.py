"""Two samples under their own rule sets, and what differs where another one is in force."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from broken_haul import nothing, put
from broken_sites import SAMPLES, Break, found, plan_with, worst

from planbuilder.findings import Compared, Finding, Mark, Verdict
from planbuilder.plan import Plan, build_plan
from planbuilder.site.load import load_site
from planbuilder.view.notices import taken_over
from planbuilder.view.report import report

FAILS, MARGINAL, MEETS = Verdict.FAILS, Verdict.MARGINAL, Verdict.MEETS
CULVERT, TERMINAL = "borough_culvert", "grain_terminal"
GB, CANADA, US = "uk-gb", "ca-federal", "us-osha-gi"
ON = date(2026, 11, 25)
OXYGEN_MOST = "most oxygen"


def under(profile: str, *changes: Break, overlays: tuple[str, ...] = ()) -> Break:
    """The plan's rule set put in the place of its own, and what else is changed."""

    def change(data: dict[str, Any]) -> None:
        data["plan"]["profile"] = profile
        data["plan"]["overlays"] = list(overlays)
        for one in changes:
            one(data)

    return change


def set_point(**values: str) -> Break:
    """Readings of the first space at which everybody leaves."""
    return lambda data: data["space"][0]["set_points"].update(values)


def point(plan: Plan, label: str) -> Finding:
    """The set-point of one gas, in the first space."""
    return next(one for one in found(plan, "plan/alarm-set-point") if one.about == label)


# ---- as they stand -------------------------------------------------------------------------------


@pytest.mark.parametrize(("sample", "profile"), [(CULVERT, GB), (TERMINAL, CANADA)])
def test_each_stands_under_its_own_rule_set(sample: str, profile: str) -> None:
    plan = plan_with(sample=sample)

    assert plan.limits.profile.id == profile
    assert plan.status == "READY FOR REVIEW"


@pytest.mark.parametrize(("sample", "profile"), [(CULVERT, CANADA), (TERMINAL, GB), (CULVERT, US)])
def test_a_rule_set_of_another_country_is_noticed(sample: str, profile: str) -> None:
    plan = plan_with(under(profile), sample=sample)

    assert worst(found(plan, "plan/profile-elsewhere")) is FAILS


def test_the_command_may_name_another_rule_set() -> None:
    site = load_site(SAMPLES / f"{CULVERT}.toml")

    assert build_plan(site, on=ON, profile=CANADA).limits.profile.id == CANADA


# ---- oxygen: 23.5 % in the US, 23 % in Canada, no number of its own in Great Britain -------------


@pytest.mark.parametrize(
    ("profile", "verdict", "document"),
    [
        (US, MEETS, "29 CFR 1910.146"),
        (CANADA, FAILS, "SOR/86-304"),
        (GB, MEETS, ""),  # the tool's own 23.5 %
    ],
)
@pytest.mark.parametrize("sample", [CULVERT, TERMINAL])
def test_the_same_set_point_against_each_limit(
    sample: str, profile: str, verdict: Verdict, document: str
) -> None:
    one = point(
        plan_with(under(profile, set_point(oxygen_high="23.2 %")), sample=sample), OXYGEN_MOST
    )

    assert one.verdict is verdict
    assert isinstance(one.outcome, Compared)
    assert one.outcome.limit.source.document == document


def test_a_limit_that_the_law_does_not_set_is_the_tools_choice_and_says_so() -> None:
    one = point(plan_with(sample=CULVERT), OXYGEN_MOST)

    assert isinstance(one.outcome, Compared)
    assert one.outcome.limit.source.mark is Mark.CHOICE


def test_what_fails_in_canada_blocks_and_says_what_would_settle_it() -> None:
    plan = plan_with(set_point(oxygen_high="23.2 %"), sample=TERMINAL)

    assert plan.status == "NOT READY"
    assert "23" in point(plan, OXYGEN_MOST).settle_by


# ---- practice: a year is law in the US, practice without an interval elsewhere -------------------


def drilled(year_before: date) -> Break:
    """Every drill on one day."""

    def change(data: dict[str, Any]) -> None:
        for one in data["drill"]:
            one["on"] = year_before

    return change


# The work of the culvert ends on 9 December 2026.
@pytest.mark.parametrize(
    ("on", "verdict"), [(date(2025, 12, 9), MEETS), (date(2025, 12, 8), FAILS)]
)
def test_practice_counts_to_the_same_day_a_year_on(on: date, verdict: Verdict) -> None:
    assert worst(found(plan_with(drilled(on), sample=CULVERT), "plan/drill-stale")) is verdict


@pytest.mark.parametrize(("profile", "blocks"), [(GB, False), (US, True)])
def test_old_practice_warns_where_no_law_sets_an_interval(profile: str, *, blocks: bool) -> None:
    plan = plan_with(under(profile, drilled(date(2025, 12, 8))), sample=CULVERT)
    stale = [one for one in found(plan, "plan/drill-stale") if one.verdict is FAILS]

    assert stale
    assert any(one.blocks for one in stale) is blocks


# ---- examinations: six months in Great Britain for what lifts people -----------------------------

EXAMINED = "plan/examination-overdue"


# The work of the culvert ends on 9 December 2026.
@pytest.mark.parametrize(("on", "verdict"), [(date(2026, 6, 9), MEETS), (date(2026, 6, 8), FAILS)])
@pytest.mark.parametrize(
    ("table", "thing"), [("support", "davit-a"), ("device", "winch-a"), ("device", "retractor-a")]
)
def test_what_lifts_people_is_examined_every_six_months(
    table: str, thing: str, on: date, verdict: Verdict
) -> None:
    plan = plan_with(put(table, thing, examined=on), sample=CULVERT)
    one = next(o for o in found(plan, EXAMINED) if "lifts people" in o.about)

    assert one.verdict is verdict
    assert one.source.document == "LOLER 1998"
    assert plan.status == ("READY FOR REVIEW" if verdict is MEETS else "NOT READY")


def test_an_examination_without_a_name_is_unknown() -> None:
    plan = plan_with(put("device", "winch-a", examined_by=None), sample=CULVERT)

    assert worst(found(plan, EXAMINED)) is Verdict.UNKNOWN


def test_where_no_rule_set_states_an_interval_nobody_is_asked() -> None:
    assert found(plan_with(sample=TERMINAL), EXAMINED) == []


# ---- fall arrest and the anchor of it ------------------------------------------------------------


@pytest.mark.parametrize(
    ("overlays", "least_n"), [((), 12_000.0), (("ca-ab",), 16_000.0)], ids=["federal", "province"]
)
def test_a_province_asks_more_of_a_plain_anchor(overlays: tuple[str, ...], least_n: float) -> None:
    plan = plan_with(under(CANADA, overlays=overlays), sample=TERMINAL)

    assert plan.limits.of("anchor.arrest").quantity.value == pytest.approx(least_n)


def test_the_weight_on_a_device_is_the_same_under_every_rule_set() -> None:
    """What nature does is no matter of jurisdiction."""
    results = set()
    for profile in (GB, CANADA, US):
        plan = plan_with(under(profile), sample=CULVERT)
        one = found(plan, "haul/device-overloaded")[0].outcome
        assert isinstance(one, Compared)
        results.add(one.result.value)

    assert len(results) == 1


# ---- a citation from elsewhere -------------------------------------------------------------------


@pytest.mark.parametrize("sample", [CULVERT, TERMINAL])
def test_a_rule_of_us_law_is_called_the_tools_own_elsewhere(sample: str) -> None:
    plan = plan_with(sample=sample)

    assert "not law here" in taken_over(plan)
    assert "not law here" in " ".join(report(plan, sample, everything=False).split())


def test_at_home_it_is_law() -> None:
    assert taken_over(plan_with(sample="pump_station")) == ""


# ---- what an author there would get wrong --------------------------------------------------------


def space_with(number: int = 0, **values: Any) -> Break:
    """Keys of a space; None takes the key away."""

    def change(data: dict[str, Any]) -> None:
        for key, value in values.items():
            data["space"][number][key] = value

    return change


def stretch(**values: Any) -> Break:
    """The crawled stretch of the culvert."""
    return lambda data: data["space"][0]["route"][1]["crawlway"].update(values)


def edges(data: dict[str, Any]) -> None:
    """Nobody stated the roller at the crown of the barrel."""
    data["space"][0]["rescue"]["primary"]["rig"]["edges"] = []


def rim_edge(material: str, turn: str) -> Break:
    """What the line turns over, in the primary rig of the culvert."""

    def change(data: dict[str, Any]) -> None:
        data["space"][0]["rescue"]["primary"]["rig"]["edges"] = [
            {"material": material, "turn": turn}
        ]

    return change


def forget_free_first(data: dict[str, Any]) -> None:
    """How somebody in grain is freed before the line is pulled."""
    del data["space"][0]["rescue"]["primary"]["free_first"]


def go_in(data: dict[str, Any]) -> None:
    """An entry rescue against engulfment."""
    data["space"][0]["rescue"]["primary"]["method"] = "entry"


@pytest.mark.parametrize(
    ("sample", "rule", "change"),
    [
        (CULVERT, "clearance/crawlway-too-small", stretch(diameter="0.60 m")),
        (CULVERT, "clearance/rim-friction-not-counted", edges),
        (CULVERT, "haul/device-overloaded", put("device", "winch-a", rated_load="0.8 kN")),
        (TERMINAL, "response/entry-after-engulfment", go_in),
        (TERMINAL, "clearance/lifeline-shared-in-fall", put("support", "line-w", users=0)),
        (TERMINAL, "haul/arm-out-of-limits", put("support", "arm-w", reach_limit="0.7 m")),
    ],
)
def test_a_slip_is_found(sample: str, rule: str, change: Break) -> None:
    assert worst(found(plan_with(change, sample=sample), rule)) is FAILS
    assert worst(found(plan_with(nothing, sample=sample), rule)) in (MEETS, MARGINAL)


def test_grain_without_a_way_to_free_whoever_is_in_it_is_not_ready() -> None:
    assert plan_with(forget_free_first, sample=TERMINAL).status == "NOT READY"


def test_the_edge_that_is_advised_settles_the_friction_over_the_rim() -> None:
    rule = "clearance/rim-friction-not-counted"
    one = next(o for o in found(plan_with(edges, sample=CULVERT), rule) if o.verdict is FAILS)
    turn = one.settle_by.partition("a turn of ")[2].partition(";")[0]

    for material in ("roller", "padded"):
        plan = plan_with(rim_edge(material, turn), sample=CULVERT)
        assert worst(found(plan, rule)) is MEETS
    less = f"{float(turn.removesuffix(' deg')) - 0.2:.1f} deg"
    assert worst(found(plan_with(rim_edge("concrete", less), sample=CULVERT), rule)) is FAILS


def test_those_who_go_in_bring_the_casualty_under_the_hook() -> None:
    """The line of the fallback lifts plumb; without a way to bring them it would drag."""
    rule = "clearance/drags-before-it-lifts"
    brought = found(plan_with(sample=CULVERT), rule)
    left = found(plan_with(space_with(route=[]), sample=CULVERT), rule)

    assert worst([one for one in brought if one.about.startswith("fallback")]) is MEETS
    assert worst([one for one in left if one.about.startswith("fallback")]) is FAILS
