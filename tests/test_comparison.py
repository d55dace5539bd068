"""The rule sets against each other, as the reference page on regulations compares them."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from broken_power_lines import line
from broken_sites import Break, found, plan_with, space, way, worst

from planbuilder.findings import Bind, Compared, Verdict
from planbuilder.limits import Limits, limits_for
from planbuilder.plan import Plan
from planbuilder.profiles.profile import TOOL_LAYER, load_profile, profile_ids
from planbuilder.profiles.statements import Limit

GI, CONSTRUCTION, GB, CA = "us-osha-gi", "us-osha-constr", "uk-gb", "ca-federal"
COLUMNS = (GI, CONSTRUCTION, GB, CA)
SILENT = "-"
FT = 0.3048

# Regulations page, E.5: fifteen rows, some of them two keys; "-" is what only the tool asks for.
TABLE = {
    "atmosphere.o2_min": (">= 19.5 % law", ">= 19.5 % law", ">= 19.5 % tool", ">= 19.5 % law"),
    "atmosphere.o2_max": ("<= 23.5 % law", "<= 23.5 % law", "<= 23.5 % tool", "<= 23 % law"),
    "atmosphere.lfl_max": ("<= 10 % law", "<= 10 % law", "<= 10 % tool", "<= 10 % law"),
    "atmosphere.lfl_max_no_ignition": (SILENT, SILENT, SILENT, "< 50 % law"),
    "retrieval.mech_device_depth": ("<= 5 ft law", "<= 5 ft law", "<= 5 ft tool", "<= 5 ft tool"),
    "retrieval.mech_device": (SILENT, SILENT, "by assessment acop", "if feasible law"),
    "retrieval.required": ("required law", "required law", "by assessment acop", "required law"),
    "retrieval.tangle_rule": (SILENT, "required law", SILENT, SILENT),
    "rescue.immediate_use": (SILENT, SILENT, "required law", SILENT),
    "rescue.fallback_confirmed": (SILENT, "required law", SILENT, SILENT),
    "atmosphere.vent_loss_detection": (SILENT, "required law", SILENT, "required law"),
    "atmosphere.vent_escape_before_limit": (SILENT, SILENT, SILENT, "required law"),
    "service.unavailability_notice": ("required guidance", "required law", SILENT, SILENT),
    "people.helper_number": (SILENT, SILENT, SILENT, "required law"),
    "training.practice_months": (
        "<= 12 months law",
        "<= 12 months law",
        "<= 12 months tool",
        "<= 12 months tool",
    ),
    "training.refresher_months": (SILENT, SILENT, SILENT, "<= 12 months law"),
    "rescue.self_rescue_alternative": ("not allowed law", "allowed law", SILENT, SILENT),
    "review.programme_months": ("<= 12 months law", "<= 12 months law", SILENT, SILENT),
    "review.assessment_months": (SILENT, SILENT, SILENT, "<= 36 months law"),
    "permit.retention_months": (">= 12 months law", ">= 12 months law", SILENT, SILENT),
    "review.record_months": (SILENT, SILENT, SILENT, ">= 120 months law"),
    "exchange.acknowledged": (SILENT, SILENT, SILENT, "required law"),
    "fall.clearance_stated": (SILENT, SILENT, SILENT, "required law"),
    "inspection.lifting_persons_months": (SILENT, SILENT, "<= 6 months law", SILENT),
}


def said(limits: Limits, key: str) -> str:
    """What is in force under *key*, and what binds."""
    one = limits.limit(key) or limits.duty(key) or limits.permission(key)
    return f"{one.words} {one.source.bind}" if one else SILENT


def test_every_profile_that_ships_is_compared():
    assert set(COLUMNS) == set(profile_ids())


@pytest.mark.parametrize("column", range(4), ids=COLUMNS)
@pytest.mark.parametrize("key", TABLE)
def test_the_comparison_of_the_four_rule_sets(key, column):
    assert said(limits_for(COLUMNS[column]), key) == TABLE[key][column]


@pytest.mark.parametrize("profile", COLUMNS)
def test_no_law_gives_the_time_of_a_rescue_in_minutes(profile):
    limit = limits_for(profile).limit("rescue.mech_only_minutes")

    assert limit is None or limit.source.bind is Bind.GUIDANCE


@pytest.mark.parametrize("profile", COLUMNS)
def test_where_a_rule_set_sets_no_number_the_tool_does_or_nobody(profile):
    limits = limits_for(profile)
    found_limits = {key: limits.limit(key) for key in limits.profile.silent}

    assert {one.layer for one in found_limits.values() if one} <= {TOOL_LAYER}
    assert {one.source.bind for one in found_limits.values() if one} <= {Bind.TOOL}


def under(profile: str, *overlays: str) -> Break:
    """The plan is checked against *profile* with *overlays*."""

    def change(data: dict[str, Any]) -> None:
        data["plan"]["profile"], data["plan"]["overlays"] = profile, list(overlays)

    return change


def set_point(**points: str) -> Break:
    """Set-points of the wet well."""
    return lambda data: space(data)["set_points"].update(points)


def of_wet_well(plan: Plan, rule: str, about: str = "") -> Verdict:
    """The worst verdict of *rule* on the wet well, and on *about* there."""
    rows = [one for one in found(plan, rule) if one.space == "wet-well" and about in one.about]
    return worst(rows)


@pytest.mark.parametrize(
    ("rules", "verdict"),
    [((GI,), Verdict.MEETS), ((GB,), Verdict.MEETS), ((CA,), Verdict.FAILS)],
    ids=[GI, GB, CA],
)
def test_oxygen_of_23_2_percent_passes_in_the_us_and_not_in_canada(rules, verdict):
    plan = plan_with(under(*rules), set_point(oxygen_high="23.2 %"))

    assert of_wet_well(plan, "plan/alarm-set-point", "most oxygen") is verdict


@pytest.mark.parametrize(
    ("rules", "verdict"),
    [
        ((GI,), Verdict.MARGINAL),  # the limit itself: met, with nothing to spare
        ((CA,), Verdict.MARGINAL),
        ((CA, "ca-on"), Verdict.FAILS),
        ((GI, "host-example"), Verdict.FAILS),
    ],
    ids="+".join,
)
def test_ten_percent_of_the_flammable_limit_is_too_much_in_ontario(rules, verdict):
    plan = plan_with(under(*rules), set_point(flammable="10 %"))

    assert of_wet_well(plan, "plan/alarm-set-point", "flammable") is verdict


def test_exactly_five_percent_is_no_set_point_below_five():
    at = plan_with(under(CA, "ca-on"), set_point(flammable="5 %"))
    below = plan_with(under(CA, "ca-on"), set_point(flammable="4.9 %"))

    assert of_wet_well(at, "plan/alarm-set-point", "flammable") is Verdict.FAILS
    assert of_wet_well(below, "plan/alarm-set-point", "flammable") is Verdict.MEETS


def by_hand(depth: str) -> Break:
    """No device lifts out of the wet well, which is *depth* deep."""

    def change(data: dict[str, Any]) -> None:
        space(data)["shape"]["depth"] = depth
        for name in ("primary", "fallback"):
            way(data, name).pop("rig", None)

    return change


@pytest.mark.parametrize(
    ("depth", "verdict"),
    [
        ("4.9 ft", Verdict.MEETS),
        ("5 ft", Verdict.MARGINAL),
        ("5.01 ft", Verdict.FAILS),
    ],
)
def test_five_feet_need_no_device_but_are_told_and_a_little_more_fails(depth, verdict):
    assert of_wet_well(plan_with(by_hand(depth)), "plan/no-mechanical-device") is verdict


def drilled(on: date) -> Break:
    """Every practice rescue was held on that day."""

    def change(data: dict[str, Any]) -> None:
        for one in data["drill"]:
            one["on"] = on

    return change


def to_one_day(data: dict[str, Any]) -> None:
    """The work is done within the day of the check."""
    for one in data["space"]:
        one["task"].update(start=date(2026, 11, 25), finish=date(2026, 11, 25))


@pytest.mark.parametrize(
    ("profile", "overlays", "on", "verdict", "blocks"),
    [
        (GI, (), date(2025, 11, 25), Verdict.MEETS, False),
        (GI, (), date(2025, 11, 24), Verdict.FAILS, True),
        (CONSTRUCTION, (), date(2025, 11, 24), Verdict.FAILS, True),
        (GB, (), date(2025, 11, 25), Verdict.MEETS, False),
        (GB, (), date(2025, 11, 24), Verdict.FAILS, False),
        (GI, ("host-example",), date(2026, 5, 25), Verdict.MEETS, False),
        (GI, ("host-example",), date(2026, 5, 24), Verdict.FAILS, True),
    ],
)
def test_a_practice_rescue_a_year_and_a_day_ago_blocks_where_law_or_host_says_so(
    profile, overlays, on, verdict, blocks
):
    plan = plan_with(under(profile, *overlays), drilled(on), to_one_day)
    rows = [one for one in found(plan, "plan/drill-stale") if one.space == "wet-well"]

    assert [(one.verdict, one.blocks) for one in rows] == [(verdict, blocks)]


def test_a_host_that_wants_two_standing_by_wins_over_one():
    limit = limits_for(GI, ["host-example"]).of("people.idlh_standby_min")

    assert (limit.quantity.value, limit.layer) == (2, "host-example")


def test_washington_asks_for_two_standing_by():
    limit = limits_for(GI, ["us-wa"]).of("people.idlh_standby_min")

    assert (limit.quantity.value, limit.source.document) == (2, "WAC 296-842-19005")


@pytest.mark.parametrize("overlay", ["ca-on", "ca-ab"])
def test_a_province_leaves_the_federal_rules_as_the_floor_and_says_so(overlay):
    below, above = limits_for(CA), limits_for(CA, [overlay])
    limits = [above.limit(key) for key in below.profile.limits]

    assert all(
        not under_it.stricter_than(one)
        for one in limits
        if isinstance(one, Limit) and (under_it := below.of(one.key))
    )
    assert set(below.profile.duties) <= {key for key in load_profile(CA).duties if above.duty(key)}
    assert "federal rules stay in the plan as the floor" in load_profile(overlay).source_date
    assert any("as the floor" in one for one in load_profile(overlay).not_checked)


def approach(*overlays: str) -> Compared:
    """What is asked of the place of the davit under a line of unknown voltage in Canada."""
    plan = plan_with(under(CA, *overlays), line(country="CA", voltage=None))
    (one,) = found(plan, "clearance/power-line-too-near")[:1]
    assert isinstance(one.outcome, Compared)
    return one.outcome


def test_the_approach_tables_of_an_overlay_are_in_force():
    """Alberta, Schedule 4: 7 m until the operator of the line has told the voltage."""
    assert approach("ca-ab").limit.value == pytest.approx(7.0)


def test_a_rule_set_without_a_table_leaves_the_approach_unknown():
    plan = plan_with(under(CA), line(country="CA"))

    assert worst(found(plan, "clearance/power-line-too-near")) is Verdict.UNKNOWN


def test_the_paper_is_that_of_the_country():
    papers = {name: load_profile(name).paper for name in COLUMNS}

    assert papers == {GI: "letter", CONSTRUCTION: "letter", GB: "a4", CA: "letter"}


@pytest.mark.parametrize("profile", COLUMNS)
def test_a_rule_set_names_its_clause_for_most_elements_and_none_that_it_lacks(profile):
    """Regulations page, A: A02, A06 and A50 rest on engineering grounds everywhere."""
    clauses = load_profile(profile).clauses

    assert len(clauses) >= 39
    assert not {"A02", "A06", "A50"} & set(clauses)
    assert all(text.strip("- ") for text in clauses.values())
    assert not any(mark in text for text in clauses.values() for mark in ("R1", "mH", "mM"))
